/*
 * The line, the clock and the loop of a board.
 *
 * Who calls whom; the plant is canal.c or drive.c:
 *
 *   main.c      -> sw_avr.c    sw_avr_start, sw_avr_serve; the clock
 *   sw_avr.c    -> sw_board.c  sw_board_take for each request, sw_board_poll in between
 *   sw_avr.c    -> main.c      sw_plant_tick
 *   sw_board.c  -> plant       sw_plant_ functions: mount, obey, read, off
 *   sw_board.c  -> sw_avr.c    hw_firmware_hash
 *   plant       -> main.c      hw_ functions: pins, converter, encoder
 */
#include "sw_avr.h"

#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/pgmspace.h>
#include <avr/sleep.h>
#include <avr/wdt.h>
#include <string.h>
#include <util/atomic.h>

#include "sw_board.h"
#include "sw_frame.h"

#define RING_BYTES 128 /* a power of two; the host sends nothing while we work */
#define FULL_NS 35555555 /* 65536 counts are 35 555 555 and 5 / 9 ns */

volatile bool sw_tick;

static volatile uint8_t ring[RING_BYTES];
static volatile uint8_t ring_in;
static volatile uint8_t ring_out;
static volatile int64_t full_ns;
static volatile uint16_t fulls;

static char hash_digits[8];
static struct sw_reader reader;
static struct sw_message message;
static struct sw_board board;
static uint8_t frame[SW_FRAME_BYTES];
static uint16_t frame_bytes;

ISR(USART_RX_vect) {
  uint8_t byte = UDR0;
  uint8_t next = (uint8_t)((ring_in + 1) & (RING_BYTES - 1));
  if (next != ring_out) {
    ring[ring_in] = byte;
    ring_in = next;
  }
}

ISR(TIMER1_OVF_vect) {
  static uint8_t ninths;
  fulls++;
  full_ns += FULL_NS;
  ninths += 5;
  if (ninths >= 9) {
    ninths -= 9;
    full_ns++;
  }
}

/* Whether the timer was full a moment ago, and its interrupt has not been served yet. */
static inline bool just_full(uint16_t counts) { return (TIFR1 & _BV(TOV1)) && counts < 0x8000; }

void sw_take_moment(struct sw_moment *now) {
  now->counts = TCNT1;
  now->full_ns = full_ns;
  if (just_full(now->counts)) {
    now->full_ns += FULL_NS;
  }
}

int64_t sw_moment_ns(const struct sw_moment *moment) {
  return moment->full_ns + (int64_t)SW_NS_OF_COUNTS((uint32_t)moment->counts);
}

int64_t sw_clock_ns(void) {
  struct sw_moment now = {0, 0};
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { sw_take_moment(&now); }
  return sw_moment_ns(&now);
}

uint32_t sw_counts(void) {
  uint16_t counts = TCNT1;
  uint16_t high = (uint16_t)(fulls + just_full(counts));
  return (uint32_t)high << 16 | counts;
}

static uint32_t crc_of(uint32_t crc, uint8_t byte) {
  crc ^= byte;
  for (uint8_t bit = 0; bit < 8; bit++) {
    crc = crc & 1 ? crc >> 1 ^ 0x82F63B78UL : crc >> 1;
  }
  return crc;
}

/* Program and calibration: a board with a new calibration counts as another board. */
static void hash(void) {
  extern const uint8_t __data_load_end[], __eeprom_end[];
  uint32_t crc = 0xFFFFFFFFUL;
  for (uint16_t at = 0; at != (uint16_t)__data_load_end; at++) {
    crc = crc_of(crc, pgm_read_byte(at));
  }
  for (uint16_t at = 0; at != (uint16_t)__eeprom_end; at++) {
    crc = crc_of(crc, eeprom_read_byte((const uint8_t *)at));
  }
  crc ^= 0xFFFFFFFFUL;
  for (uint8_t i = 0; i < sizeof hash_digits; i++) {
    hash_digits[i] = "0123456789abcdef"[crc >> 28];
    crc <<= 4;
  }
}

void hw_firmware_hash(char *eight_digits) { memcpy(eight_digits, hash_digits, sizeof hash_digits); }

void sw_avr_reset(void) {
  MCUSR = 0;
  wdt_disable();
}

void sw_avr_start(void) {
  hash();
  UBRR0 = 1;
  UCSR0A = _BV(U2X0);
  UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
  UCSR0B = _BV(RXCIE0) | _BV(RXEN0) | _BV(TXEN0);
  TCCR1B = _BV(CS11);
  TIMSK1 = _BV(TOIE1);
  wdt_enable(WDTO_250MS);
  sei();
}

static void send(void) {
  for (uint16_t i = 0; i < frame_bytes; i++) {
    while (!(UCSR0A & _BV(UDRE0))) {
    }
    UDR0 = frame[i];
  }
}

/* The answer is laid out where the request was, which has been read by then. */
static void obey(uint16_t length) {
  if (!sw_read_message(reader.held, length, &message)) {
    reader.good--;
    reader.bad++;
    return;
  }
  switch (sw_board_take(&board, &message, reader.good, reader.bad)) {
    case SW_ANSWERED:
      length = sw_write_message(reader.held, SW_BODY_BYTES - SW_CRC_BYTES, &message);
      frame_bytes = sw_frame(reader.held, length, frame);
      send();
      break;
    case SW_REPEATED:
      send();
      break;
    case SW_IGNORED:
      break;
  }
}

static void sleep_until_interrupt(void) {
  cli();
  if (ring_in == ring_out && !sw_tick) {
    sleep_enable();
    sei();
    sleep_cpu();
    sleep_disable();
  }
  sei();
}

void sw_avr_serve(void) {
  for (;;) {
    wdt_reset();
    while (ring_in != ring_out) {
      uint8_t byte = ring[ring_out];
      ring_out = (uint8_t)((ring_out + 1) & (RING_BYTES - 1));
      uint16_t length = sw_reader_take(&reader, byte);
      if (length > 0) {
        obey(length);
      }
    }
    if (sw_tick) {
      sw_tick = false;
      sw_plant_tick();
      sw_board_poll(&board);
    }
    sleep_until_interrupt();
  }
}
