/*
 * The canal board on an ATmega328P at 14.7456 MHz, whose UART then makes 921 600 bit/s exactly.
 *
 *   PD0, PD1  UART                          PB1  latch of the relay drivers (rising edge)
 *   PD2, PD3  stage encoder A, B            PB3, PB5  data, clock of the relay drivers (SPI)
 *   PD4       home switch, closed to        PB0  supply of the reference resistor
 *             ground while away from home   PC0  converter: between reference and ladder
 *   PD5       relay drivers off (high; a pull-up holds it there during a reset)
 */
#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/pgmspace.h>
#include <avr/sleep.h>
#include <avr/wdt.h>
#include <util/atomic.h>

#include "calibration.h"
#include "canal.h"
#include "stage.h"
#include "sw_board.h"
#include "sw_frame.h"

#define HOME PD4
#define DRIVERS_OFF PD5
#define EXCITE PB0
#define LATCH PB1
#define SELECT PB2 /* unused, but an output, or the SPI would leave its master mode */
#define MOSI PB3
#define SCK PB5

#define RING_BYTES 128 /* a power of two; the host sends nothing while we work */
#define SAMPLES 16
#define SETTLE_SAMPLES 3 /* of the converter's sums, 1.8 ms each: relays need 1 ms (assumed) */

/* The timer counts at F_CPU / 8 = 1.8432 MHz: 78125 / 144 = 542 + 77 / 144 ns each. It is full
 * after 65536 counts, 35 555 555 and 5 / 9 ns. */
#define NS_OF_COUNTS(counts) ((counts) * 542UL + (counts) * 77UL / 144)
#define FULL_NS 35555555

struct canal_calibration canal_calibration;

static volatile uint8_t ring[RING_BYTES];
static volatile uint8_t ring_in;
static volatile uint8_t ring_out;
/* A moment, as cheap to take as may be: when the timer was last full, and its count since. */
struct moment {
  int64_t full_ns;
  uint16_t counts;
};

static volatile int64_t full_ns;
static struct stage stage;
static volatile bool tick;
static volatile uint16_t newest_sum;
static volatile uint32_t sums;
static struct moment sum_at;
static char hash[8];

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
  full_ns += FULL_NS;
  ninths += 5;
  if (ninths >= 9) {
    ninths -= 9;
    full_ns++;
  }
}

/* With interrupts off. */
static inline void take_moment(struct moment *now) {
  now->counts = TCNT1;
  now->full_ns = full_ns;
  if ((TIFR1 & _BV(TOV1)) && now->counts < 0x8000) {
    now->full_ns += FULL_NS;
  }
}

static int64_t ns_of(const struct moment *moment) {
  return moment->full_ns + (int64_t)NS_OF_COUNTS((uint32_t)moment->counts);
}

static void encoder(void) {
  uint8_t pins = PIND;
  stage_levels(&stage, (uint8_t)((pins & _BV(PD2) ? 2 : 0) | (pins & _BV(PD3) ? 1 : 0)));
}

ISR(INT0_vect) { encoder(); }
ISR(INT1_vect) { encoder(); }

/* Twice in a ms. All other interrupts may come between, but never a second one of this. */
ISR(TIMER0_COMPA_vect) {
  TIMSK0 = 0;
  if (PIND & _BV(HOME)) {
    stage_home(&stage);
  }
  sei();
  canal_follow();
  cli();
  tick = true;
  TIMSK0 = _BV(OCIE0A);
}

ISR(ADC_vect) {
  static uint16_t sum;
  static uint8_t count;
  sum += ADC;
  if (++count == SAMPLES) {
    newest_sum = sum;
    sums++;
    take_moment(&sum_at);
    sum = 0;
    count = 0;
  }
}

int64_t hw_clock_ns(void) {
  struct moment now = {0, 0};
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { take_moment(&now); }
  return ns_of(&now);
}

void hw_sample(struct canal_sample *sample) {
  struct moment end = {0, 0};
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    sample->sum = newest_sum;
    sample->sequence = sums;
    end = sum_at;
  }
  /* The middle lies 8 conversions back; 13 clocks of F_CPU / 128 each, so 16 counts a clock. */
  sample->at_ns = ns_of(&end) - (int64_t)NS_OF_COUNTS(SAMPLES / 2 * 13 * 16UL);
}

void hw_settle(void) {
  struct canal_sample sample;
  hw_sample(&sample);
  uint32_t until = sample.sequence + SETTLE_SAMPLES;
  do {
    wdt_reset();
    hw_sample(&sample);
  } while (sample.sequence != until);
}

static void shift(uint8_t byte) {
  SPDR = byte;
  while (!(SPSR & _BV(SPIF))) {
  }
}

/* The interrupt that follows the stage shifts words too; only one may at a time. */
void hw_word(uint16_t word) {
  uint8_t follow = TIMSK0;
  TIMSK0 = 0;
  shift((uint8_t)(word >> 8));
  shift((uint8_t)word);
  PORTB |= _BV(LATCH);
  PORTB &= (uint8_t)~_BV(LATCH);
  TIMSK0 = follow;
}

void hw_excite(bool on) {
  if (on) {
    PORTB |= _BV(EXCITE);
  } else {
    PORTB &= (uint8_t)~_BV(EXCITE);
  }
}

int32_t hw_steps(void) {
  int32_t steps = 0;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { steps = stage.steps; }
  return steps;
}

bool hw_homed(void) { return stage.homed; }

void hw_firmware_hash(char *eight_digits) { memcpy(eight_digits, hash, sizeof hash); }

/* CRC-32C of the flash that is in use, as hexadecimal digits. */
static void hash_flash(void) {
  extern const uint8_t __data_load_end[];
  uint32_t crc = 0xFFFFFFFFUL;
  for (uint16_t at = 0; at != (uint16_t)__data_load_end; at++) {
    crc ^= pgm_read_byte(at);
    for (uint8_t bit = 0; bit < 8; bit++) {
      crc = crc & 1 ? crc >> 1 ^ 0x82F63B78UL : crc >> 1;
    }
  }
  crc ^= 0xFFFFFFFFUL;
  for (uint8_t i = 0; i < sizeof hash; i++) {
    hash[i] = "0123456789abcdef"[crc >> 28];
    crc <<= 4;
  }
}

static void start(void) {
  PORTD = _BV(DRIVERS_OFF) | _BV(PD2) | _BV(PD3) | _BV(HOME);
  DDRD = _BV(DRIVERS_OFF) | _BV(PD1);
  DDRB = _BV(EXCITE) | _BV(LATCH) | _BV(SELECT) | _BV(MOSI) | _BV(SCK);
  SPCR = _BV(SPE) | _BV(MSTR); /* F_CPU / 4 */
  hw_word(LADDER_OPEN);
  PORTD &= (uint8_t)~_BV(DRIVERS_OFF);

  eeprom_read_block(&canal_calibration, &stored, sizeof canal_calibration);
  hash_flash();
  encoder();
  stage.steps = 0;
  stage.lost = 0;

  UBRR0 = 1;
  UCSR0A = _BV(U2X0);
  UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
  UCSR0B = _BV(RXCIE0) | _BV(RXEN0) | _BV(TXEN0);
  TCCR1B = _BV(CS11);
  TIMSK1 = _BV(TOIE1);
  TCCR0A = _BV(WGM01);
  TCCR0B = _BV(CS01) | _BV(CS00); /* F_CPU / 64: 230.4 kHz */
  OCR0A = 114;                    /* 2 kHz */
  TIMSK0 = _BV(OCIE0A);
  EICRA = _BV(ISC00) | _BV(ISC10); /* every change of both channels */
  EIFR = _BV(INTF0) | _BV(INTF1);
  EIMSK = _BV(INT0) | _BV(INT1);
  ADMUX = _BV(REFS0);
  ADCSRB = 0;
  ADCSRA = _BV(ADEN) | _BV(ADSC) | _BV(ADATE) | _BV(ADIE) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
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
  if (ring_in == ring_out && !tick) {
    sleep_enable();
    sei();
    sleep_cpu();
    sleep_disable();
  }
  sei();
}

int main(void) {
  MCUSR = 0;
  wdt_disable();
  start();
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
    if (tick) {
      tick = false;
      sw_board_poll(&board);
    }
    sleep_until_interrupt();
  }
}
