#include "sw_frame.h"

#ifdef __AVR__
#include <avr/pgmspace.h>
#define IN_FLASH PROGMEM /* a board has 2 KB of memory */
#define OF_FLASH(of) pgm_read_dword(&(of))
#else
#define IN_FLASH
#define OF_FLASH(of) (of)
#endif

/* CRC-32C of every half byte; the polynomial 0x1EDC6F41, reflected, is the entry of 8. */
static const uint32_t HALF_BYTES[16] IN_FLASH = {
    0x00000000, 0x105EC76F, 0x20BD8EDE, 0x30E349B1, 0x417B1DBC, 0x5125DAD3,
    0x61C69362, 0x7198540D, 0x82F63B78, 0x92A8FC17, 0xA24BB5A6, 0xB21572C9,
    0xC38D26C4, 0xD3D3E1AB, 0xE330A81A, 0xF36E6F75};

uint32_t sw_crc32c(const uint8_t *bytes, uint16_t length) {
  uint32_t crc = 0xFFFFFFFFUL;
  for (uint16_t i = 0; i < length; i++) {
    crc ^= bytes[i];
    crc = crc >> 4 ^ OF_FLASH(HALF_BYTES[crc & 15]);
    crc = crc >> 4 ^ OF_FLASH(HALF_BYTES[crc & 15]);
  }
  return crc ^ 0xFFFFFFFFUL;
}

static uint32_t crc_at(const uint8_t *at) {
  return (uint32_t)at[3] << 24 | (uint32_t)at[2] << 16 | (uint32_t)at[1] << 8 | at[0];
}

/* Undoes the stuffing in place: what is written never overtakes what is read. 0 when it is wrong. */
static uint16_t unstuff(uint8_t *bytes, uint16_t length) {
  uint16_t in = 0;
  uint16_t out = 0;
  while (in < length) {
    uint8_t run = bytes[in++];
    if (run == 0 || (uint16_t)(run - 1) > (uint16_t)(length - in)) {
      return 0;
    }
    for (uint8_t i = 1; i < run; i++) {
      bytes[out++] = bytes[in++];
    }
    if (run != 0xFF && in < length) {
      bytes[out++] = 0;
    }
  }
  return out;
}

uint16_t sw_reader_take(struct sw_reader *reader, uint8_t byte) {
  if (byte != 0) {
    if (reader->length == sizeof reader->held) {
      reader->too_long = true;
    } else {
      reader->held[reader->length++] = byte;
    }
    return 0;
  }
  uint16_t stuffed = reader->length;
  bool too_long = reader->too_long;
  reader->length = 0;
  reader->too_long = false;
  if (stuffed == 0) {
    return 0;
  }
  uint16_t length = too_long ? 0 : unstuff(reader->held, stuffed);
  if (length <= SW_CRC_BYTES) {
    reader->bad++;
    return 0;
  }
  length -= SW_CRC_BYTES;
  if (sw_crc32c(reader->held, length) != crc_at(reader->held + length)) {
    reader->bad++;
    return 0;
  }
  reader->good++;
  return length;
}

uint16_t sw_frame(uint8_t *body, uint16_t length, uint8_t *frame) {
  if (length > SW_BODY_BYTES - SW_CRC_BYTES) {
    return 0;
  }
  uint32_t crc = sw_crc32c(body, length);
  for (uint8_t i = 0; i < SW_CRC_BYTES; i++) {
    body[length++] = (uint8_t)(crc >> 8 * i);
  }
  /* At most 254 bytes, so one code byte in front and no run that is too long. */
  uint16_t run_start = 0;
  uint16_t out = 1;
  for (uint16_t i = 0; i < length; i++) {
    if (body[i] == 0) {
      frame[run_start] = (uint8_t)(out - run_start);
      run_start = out++;
    } else {
      frame[out++] = body[i];
    }
  }
  frame[run_start] = (uint8_t)(out - run_start);
  frame[out++] = 0;
  return out;
}
