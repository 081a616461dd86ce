/*
 * The canal board.
 *
 *   PD0, PD1  UART                          PB1  latch of the relay drivers (rising edge)
 *   PD2, PD3  stage encoder A, B            PB3, PB5  data, clock of the relay drivers (SPI)
 *   PD4       home switch, closed to        PB0  supply of the reference resistor
 *             ground while away from home   PC0  converter: between reference and ladder
 *   PD5       relay drivers off (high; a pull-up holds it there during a reset)
 *
 * The tooth input, where there is one:
 *
 *   PD6       drive of the tooth: a square wave   PC1  converter: at the file clip
 *   PD7       relay to the file clip (high: on)   PC2  relay to the check resistor (high: on)
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
#define TOOTH_DRIVE PD6
#define TOOTH_RELAY PD7
#define CHECK_RELAY PC2
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
ISR(TIMER2_COMPA_vect) {
  TIMSK2 = 0;
  if (PIND & _BV(HOME)) {
    stage_home(&stage);
  }
  sei();
  canal_follow();
  cli();
  sw_tick = true;
  TIMSK2 = _BV(OCIE2A);
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
  uint8_t follow = TIMSK2;
  TIMSK2 = 0;
  shift(bank);
  shift((uint8_t)(word >> 8));
  shift((uint8_t)word);
  PORTB |= _BV(LATCH);
  PORTB &= (uint8_t)~_BV(LATCH);
  TIMSK2 = follow;
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

void sw_plant_tick(void) { canal_measure(); }

/* The converter runs freely on the ladder. */
static void ladder_converter(void) {
  ADMUX = _BV(REFS0);
  ADCSRB = 0;
  ADCSRA = _BV(ADEN) | _BV(ADSC) | _BV(ADATE) | _BV(ADIE) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
}

static void wait_ms(uint8_t count) {
  while (count--) {
    wdt_reset();
    _delay_loop_2(F_CPU / 4000);
  }
}

void hw_tooth(enum tooth_input input) {
  PORTD &= (uint8_t)~_BV(TOOTH_RELAY);
  PORTC &= (uint8_t)~_BV(CHECK_RELAY);
  if (input == TOOTH_OFF) {
    TCCR0A = 0;
    TCCR0B = 0;
    PORTD &= (uint8_t)~_BV(TOOTH_DRIVE);
    ladder_converter();
    return;
  }
  if (ADCSRA & _BV(ADATE)) {
    ADCSRA = (uint8_t)(ADCSRA & ~(_BV(ADATE) | _BV(ADIE)));
    while (ADCSRA & _BV(ADSC)) {
    }
    ADCSRA = 0;
    ADMUX = _BV(REFS0) | _BV(MUX0);
    TCCR0A = _BV(COM0A0) | _BV(WGM01); /* the pin changes at the end of each half */
  }
  if (input == TOOTH_CHECK) {
    PORTC |= _BV(CHECK_RELAY);
  } else if (input == TOOTH_TOOTH) {
    PORTD |= _BV(TOOTH_RELAY);
  }
  wait_ms(5); /* relays (assumed) */
}

/* Goes over to a wave from the middle of a half to the middle of a half. There the coupling capacitor has
 * its mean voltage with either wave, so the tooth gets no direct voltage that decays. */
static void tooth_drive(const struct tooth_wave *wave) {
  uint8_t clock = wave->divider == 8 ? _BV(CS01)
                  : wave->divider == 64 ? _BV(CS01) | _BV(CS00)
                                        : _BV(CS02);
  uint8_t top = (uint8_t)(wave->half - 1);
  if (TCCR0B == clock && OCR0A == top) {
    return;
  }
  bool began = TCCR0B == 0;
  if (!began) {
    uint8_t middle = OCR0A / 2;
    while (TCNT0 > middle) {
    }
    while (TCNT0 <= middle) {
    }
  }
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    TCCR0B = 0;
    OCR0A = top;
    TCNT0 = top / 2;
    TCCR0B = clock;
  }
  /* First the coupling capacitor: five times the 57 ms of 1 uF at the check resistor. What is charged in
   * a tooth settles within 1 ms (assumed). */
  for (uint8_t more = began ? 3 : 0; more > 0; more--) {
    wait_ms(99);
  }
  wait_ms(1);
}

/* Enabled anew for every sample, so that its clock begins with the start and not up to 16 cycles later;
 * the sample is then taken 13.5 of its clocks later. F_CPU / 16: 8 good bits (data sheet, from memory). */
#define TOOTH_CONVERTER (_BV(ADEN) | _BV(ADPS2))

#define TOOTH_POLLS 20000U /* three periods of 280 Hz */

/* Starts the converter at the beginning of a count, if that comes next; interrupts are off. The pin tells
 * the halves of the period apart, high in the first. It must be read in the half of the counter: of a
 * quick clock not near its ends, of a slow one within one count. */
static bool start_next(const struct tooth_wave *wave, uint8_t count, bool late) {
  bool quick = wave->divider == 8;
  uint8_t now, pins;
  /* Three cycles apart, whatever the compiler does around it. */
  __asm__ volatile("in %0, %2\n\tnop\n\tnop\n\tin %1, %3"
                   : "=&r"(now), "=r"(pins)
                   : "I"(_SFR_IO_ADDR(TCNT0)), "I"(_SFR_IO_ADDR(PIND)));
  bool low = !(pins & _BV(TOOTH_DRIVE));
  uint8_t ahead = (uint8_t)(count - now);
  bool late_now = late;
  if (count < now) {
    ahead = (uint8_t)(ahead + wave->half);
    late_now = !late;
  }
  /* Counts before it. The work until the wait takes some six quick ones. */
  uint8_t least = quick ? 7 : 1;
  uint8_t most = quick ? 17 : 1;
  bool end = quick ? now == 0 || now > (uint8_t)(wave->half - 3) : TCNT0 != now;
  if (ahead < least || ahead > most || end || low != late_now) {
    return false;
  }
  while (TCNT0 != count) { /* below 18 us: the line keeps two bytes */
  }
  ADCSRA = TOOTH_CONVERTER | _BV(ADSC);
  if (!quick || count > (uint8_t)(wave->half - 6)) {
    return true;
  }
  _delay_loop_1(5);
  if (!(PIND & _BV(TOOTH_DRIVE)) == late) {
    return true;
  }
  ADCSRA = 0; /* the other half after all: the sample is not taken */
  return false;
}

static bool start_at(const struct tooth_wave *wave, uint16_t at) {
  bool late = at >= wave->half;
  uint8_t count = (uint8_t)(late ? at - wave->half : at);
  for (uint16_t polls = 0; polls < TOOTH_POLLS; polls++) {
    /* A start comes up to 4 cycles late. Polls that keep step with the wave would always be as late. */
    static uint8_t random = 1;
    random = (uint8_t)(random * 77 + 41);
    _delay_loop_1((uint8_t)(1 + (random >> 5)));
    bool started = false;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { started = start_next(wave, count, late); }
    if (started) {
      return true;
    }
  }
  return false;
}

bool hw_tooth_slice(const struct tooth_wave *wave, struct tooth_sums *sums) {
  tooth_drive(wave);
  uint16_t period = 2 * wave->half;
  uint16_t at = 0;
  for (uint8_t k = 0; k < wave->phases; k++) {
    wdt_reset();
    if (!start_at(wave, at)) {
      return false;
    }
    struct tooth_turn turn = tooth_turned(wave, at);
    while (ADCSRA & _BV(ADSC)) {
    }
    uint16_t sample = ADC;
    ADCSRA = 0;
    tooth_add(sums, turn, sample);
    at += wave->stride;
    while (at >= period) {
      at -= period;
    }
  }
  return true;
}

static void start(void) {
  PORTD = _BV(DRIVERS_OFF) | _BV(PD2) | _BV(PD3) | _BV(HOME);
  DDRD = _BV(DRIVERS_OFF) | _BV(PD1) | _BV(TOOTH_DRIVE) | _BV(TOOTH_RELAY);
  DDRC = _BV(CHECK_RELAY);
  DDRB = _BV(EXCITE) | _BV(LATCH) | _BV(SELECT) | _BV(MOSI) | _BV(SCK);
  SPCR = _BV(SPE) | _BV(MSTR); /* F_CPU / 4 */
  hw_word(LADDER_OPEN, 0);
  PORTD &= (uint8_t)~_BV(DRIVERS_OFF);

  eeprom_read_block(&canal_calibration, &stored, sizeof canal_calibration);
  encoder();
  stage.steps = 0;
  stage.lost = 0;

  TCCR2A = _BV(WGM21);
  TCCR2B = _BV(CS22); /* F_CPU / 64: 230.4 kHz */
  OCR2A = 114;        /* 2 kHz */
  TIMSK2 = _BV(OCIE2A);
  EICRA = _BV(ISC00) | _BV(ISC10); /* every change of both channels */
  EIFR = _BV(INTF0) | _BV(INTF1);
  EIMSK = _BV(INT0) | _BV(INT1);
  ladder_converter();
  sw_avr_start();
}

int main(void) {
  sw_avr_reset();
  start();
  sw_avr_serve();
}
