/* Texts in the flash of a small controller, and in plain memory on a computer. */
#ifndef SW_TEXT_H
#define SW_TEXT_H

#include <stdint.h>
#include <string.h>

#ifdef __AVR__
#include <avr/pgmspace.h>
#else
#define PROGMEM
#define PSTR(text) (text)
#define strlen_P strlen
#define memcpy_P memcpy
#endif

/* Copies a text, cut to the available room; returns its bytes. */
static inline uint8_t sw_text(char *to, uint8_t room, const char *flash) {
  size_t length = strlen_P(flash);
  uint8_t bytes = length < room ? (uint8_t)length : room;
  memcpy_P(to, flash, bytes);
  return bytes;
}

/* Appends a decimal number; returns the new number of bytes. */
static inline uint8_t sw_number(char *to, uint8_t room, uint8_t at, uint32_t number) {
  char digits[10];
  uint8_t count = 0;
  do {
    digits[count++] = (char)('0' + number % 10);
    number /= 10;
  } while (number);
  while (count > 0 && at < room) {
    to[at++] = digits[--count];
  }
  return at;
}

/* Whether a text of the wire, which has no closing zero, is this one. */
static inline uint8_t sw_is(const char *text, uint8_t bytes, const char *flash) {
#ifdef __AVR__
  return bytes == strlen_P(flash) && memcmp_P(text, flash, bytes) == 0;
#else
  return bytes == strlen(flash) && memcmp(text, flash, bytes) == 0;
#endif
}

#endif
