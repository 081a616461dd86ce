/*
 * The canal board.
 *
 *   PD0, PD1  UART                          PB1  latch of the relay drivers (rising edge)
 *   PD2, PD3  stage encoder A, B            PB3, PB5  data, clock of the relay drivers (SPI)
 *   PD4       home switch, closed to        PB0  supply of the reference resistor
 *             ground while away from home   PC0  converter: between reference and ladder
 *   PD5       relay drivers off (high; a pull-up holds it there during a reset)
 *
 * The first register of the chain holds relays 0 to 7, the second 8 to 15, a third, where there is
 * one, the bank's 0 to 7.
 */
#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/wdt.h>
#include <util/atomic.h>
#include <util/delay_basic.h>

#include "calibration.h"
#include "canal.h"
#include "stage.h"
#include "sw_avr.h"
#include "sw_board.h"

#define HOME PD4
#define DRIVERS_OFF PD5
#define EXCITE PB0
#define LATCH PB1
#define SELECT PB2 /* unused, but an output, or the SPI would leave its master mode */
#define MOSI PB3
#define SCK PB5

#define SAMPLES 16
#define SETTLE_SAMPLES 3 /* of the converter's sums, 1.8 ms each: relays need 1 ms (assumed) */

struct canal_calibration canal_calibration;

static struct stage stage;
static volatile uint16_t newest_sum;
static volatile uint32_t sums;
static struct sw_moment sum_at;

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
  sw_tick = true;
  TIMSK0 = _BV(OCIE0A);
}

ISR(ADC_vect) {
  static uint16_t sum;
  static uint8_t count;
  sum += ADC;
  if (++count == SAMPLES) {
    newest_sum = sum;
    sums++;
    sw_take_moment(&sum_at);
    sum = 0;
    count = 0;
  }
}

int64_t hw_clock_ns(void) { return sw_clock_ns(); }

void hw_sample(struct canal_sample *sample) {
  struct sw_moment end = {0, 0};
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    sample->sum = newest_sum;
    sample->sequence = sums;
    end = sum_at;
  }
  /* The middle lies 8 conversions back; 13 clocks of F_CPU / 128 each, so 16 counts a clock. */
  sample->at_ns = sw_moment_ns(&end) - (int64_t)SW_NS_OF_COUNTS(SAMPLES / 2 * 13 * 16UL);
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

/* The interrupt that follows the stage shifts words too; only one may at a time. What a third
 * register would hold goes first: without one it falls out at the end. */
void hw_word(uint16_t word, uint8_t bank) {
  uint8_t follow = TIMSK0;
  TIMSK0 = 0;
  shift(bank);
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

/* The converter runs freely but for this one conversion. It takes its sample 1.5 of its clocks after a
 * start that waits for the next one, and some instructions go before (data sheet, from memory: F_CPU
 * / 16 is within what 8 good bits allow). */
#define DECAY_LATE_NS 2700UL

uint16_t hw_decay(uint32_t *nanoseconds) {
  uint16_t loops = (uint16_t)(*nanoseconds * 10 / 2713); /* of four clocks each */
  uint8_t free_running = ADCSRA;
  ADCSRA = (uint8_t)(free_running & ~(_BV(ADATE) | _BV(ADIE)));
  while (ADCSRA & _BV(ADSC)) {
  }
  ADCSRA = _BV(ADEN) | _BV(ADPS2);
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    DDRB &= (uint8_t)~_BV(EXCITE);
    PORTB &= (uint8_t)~_BV(EXCITE);
    if (loops > 0) {
      _delay_loop_2(loops);
    }
    ADCSRA |= _BV(ADSC);
    while (ADCSRA & _BV(ADSC)) {
    }
  }
  uint16_t steps = ADC;
  PORTB |= _BV(EXCITE);
  DDRB |= _BV(EXCITE);
  ADCSRA = (uint8_t)(free_running | _BV(ADSC) | _BV(ADIF));
  *nanoseconds = loops * 2713UL / 10 + DECAY_LATE_NS;
  return steps;
}

int32_t hw_steps(void) {
  int32_t steps = 0;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { steps = stage.steps; }
  return steps;
}

bool hw_homed(void) { return stage.homed; }

void sw_plant_tick(void) {}

static void start(void) {
  PORTD = _BV(DRIVERS_OFF) | _BV(PD2) | _BV(PD3) | _BV(HOME);
  DDRD = _BV(DRIVERS_OFF) | _BV(PD1);
  DDRB = _BV(EXCITE) | _BV(LATCH) | _BV(SELECT) | _BV(MOSI) | _BV(SCK);
  SPCR = _BV(SPE) | _BV(MSTR); /* F_CPU / 4 */
  hw_word(LADDER_OPEN, 0);
  PORTD &= (uint8_t)~_BV(DRIVERS_OFF);

  eeprom_read_block(&canal_calibration, &stored, sizeof canal_calibration);
  encoder();
  stage.steps = 0;
  stage.lost = 0;

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
  sw_avr_start();
}

int main(void) {
  sw_avr_reset();
  start();
  sw_avr_serve();
}
