/*
 * The device board.
 *
 *   PD0, PD1  UART                          PB1  latch of the relay drivers (rising edge)
 *   PD2, PD3  shank scale A, B              PB2  select of the angle chip (low: on)
 *   PD4       home switch, closed to        PB3, PB4, PB5  data out, data in, clock: relay drivers
 *             ground while away from home                  and angle chip (SPI)
 *   PD5       relay drivers off (high; a    PB0  supply of the reference resistor
 *             pull-up holds it there during a reset)
 *   PD6       relay to both leads of the device (high: on)
 *   PD7       relay to the test node        PC0  converter: test node, through a follower
 *   PC3       relay to ground               PC1  converter: force; PC2: microphone, behind a detector
 *   PC4, PC5  to the drive board, each through an optocoupler (high: on): the file turns; the force
 *             is below its limit
 *
 * The interlock is in the wiring too: the coil of PD6 runs through a break contact of PD7's relay.
 *
 * Twelve registers: the last two in the chain hold branch 4, its high byte last, then branches 3, 2, 1,
 * then the first segment from its greatest bits to its least. A relay that is on bridges its resistor;
 * the two highest of a branch, on, connect its second and its third capacitor.
 */
#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/pgmspace.h>
#include <avr/wdt.h>
#include <util/atomic.h>
#include <util/delay_basic.h>

#include "calibration.h"
#include "device.h"
#include "sw_avr.h"
#include "sw_board.h"

#define HOME PD4
#define DRIVERS_OFF PD5
#define DEVICE_RELAY PD6
#define TEST_RELAY PD7
#define GROUND_RELAY PC3
#define TURNS PC4
#define FREE PC5
#define EXCITE PB0
#define LATCH PB1
#define ANGLE_SELECT PB2
#define MOSI PB3
#define SCK PB5

#define SAMPLES 16
#define CHANNEL_NODE 0
#define CHANNEL_FORCE 1
#define CHANNEL_SOUND 2
#define TICK_COUNTS 115 /* of F_CPU / 64: 2003 Hz */

struct device_calibration device_calibration;

static volatile int32_t scale_steps;
static volatile bool homed;
static uint8_t scale_levels;
static volatile uint16_t force_steps, sound_steps;
static bool sensors = true; /* the converter is theirs, not the test node's */

static void scale(void) {
  /* From levels (old, new) to steps; both at once is lost and counts as none. */
  static const int8_t MOVED[16] PROGMEM = {0, -1, 1, 0, 1, 0, 0, -1, -1, 0, 0, 1, 0, 1, -1, 0};
  uint8_t pins = PIND;
  uint8_t levels = (uint8_t)((pins & _BV(PD2) ? 2 : 0) | (pins & _BV(PD3) ? 1 : 0));
  scale_steps += (int8_t)pgm_read_byte(&MOVED[scale_levels << 2 | levels]);
  scale_levels = levels;
}

ISR(INT0_vect) { scale(); }
ISR(INT1_vect) { scale(); }

static uint8_t shift(uint8_t byte) {
  SPDR = byte;
  while (!(SPSR & _BV(SPIF))) {
  }
  return SPDR;
}

/* The upper twelve of sixteen bits. */
static uint16_t angle(void) {
  PORTB &= (uint8_t)~_BV(ANGLE_SELECT);
  uint8_t high = shift(0);
  uint8_t low = shift(0);
  PORTB |= _BV(ANGLE_SELECT);
  return (uint16_t)(high << 4 | low >> 4);
}

/* One conversion takes 0.1 ms; its result is read at the tick after. */
static void convert(uint8_t channel) {
  ADMUX = (uint8_t)(_BV(REFS0) | channel);
  ADCSRA = _BV(ADEN) | _BV(ADSC) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
}

/* 2003 times a second. All other interrupts may come between, but never a second one of this. */
ISR(TIMER2_COMPA_vect) {
  TIMSK2 = 0;
  sei();
  uint16_t now = angle();
  if (PIND & _BV(HOME)) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { scale_steps = 0; }
    homed = true;
  }
  if (sensors) {
    static bool sound;
    if (sound) {
      sound_steps = ADC;
    } else {
      force_steps = ADC;
    }
    sound = !sound;
    convert(sound ? CHANNEL_SOUND : CHANNEL_FORCE);
  }
  device_sample(now, force_steps, sound_steps);
  device_follow();
  sw_tick = true;
  cli();
  TIMSK2 = _BV(OCIE2A);
}

int64_t hw_clock_ns(void) { return sw_clock_ns(); }

uint32_t hw_each_ns(void) { return (uint32_t)(64ULL * TICK_COUNTS * 1000000000ULL / F_CPU); }

int32_t hw_steps(void) {
  int32_t steps = 0;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { steps = scale_steps; }
  return steps;
}

bool hw_homed(void) { return homed; }

/* By the main loop only, and for some microseconds: no tick is missed. */
void hw_lock(bool locked) {
  if (locked) {
    cli();
  } else {
    sei();
  }
}

static void shift_codes(const struct chain_codes *codes) {
  for (uint8_t k = CHAIN_BRANCHES; k-- > 0;) {
    uint16_t relays = codes->of[k] ^ ((1u << CHAIN_RELAYS) - 1);
    shift((uint8_t)(relays >> 8));
    shift((uint8_t)relays);
  }
  uint32_t relays = ~codes->first;
  shift((uint8_t)(relays >> 24));
  shift((uint8_t)(relays >> 16));
  shift((uint8_t)(relays >> 8));
  shift((uint8_t)relays);
}

static void latch_codes(void) {
  PORTB |= _BV(LATCH);
  PORTB &= (uint8_t)~_BV(LATCH);
}

/* The tick shifts too; only one may at a time. */
void hw_codes(const struct chain_codes *codes) {
  uint8_t tick = TIMSK2;
  TIMSK2 = 0;
  shift_codes(codes);
  latch_codes();
  TIMSK2 = tick;
}

void hw_step(const struct chain_codes *through, const struct chain_codes *to) {
  shift_codes(through);
  latch_codes();
  _delay_loop_2(F_CPU / 4 / 10000);
  shift_codes(to);
  latch_codes();
}

void hw_circuit(enum device_circuit circuit) {
  PORTD &= (uint8_t)~(_BV(DEVICE_RELAY) | _BV(TEST_RELAY));
  PORTC &= (uint8_t)~_BV(GROUND_RELAY);
  if (circuit == AT_DEVICE) {
    PORTD |= _BV(DEVICE_RELAY);
    return;
  }
  if (circuit == MEASURED || circuit == FLOATING) {
    PORTD |= _BV(TEST_RELAY);
  }
  if (circuit == MEASURED || circuit == GROUNDED) {
    PORTC |= _BV(GROUND_RELAY);
  }
}

void hw_lines(bool turns, bool free) {
  if (turns) {
    PORTC |= _BV(TURNS);
  } else {
    PORTC &= (uint8_t)~_BV(TURNS);
  }
  if (free) {
    PORTC |= _BV(FREE);
  } else {
    PORTC &= (uint8_t)~_BV(FREE);
  }
}

void hw_charge(bool on) {
  if (on) {
    PORTB |= _BV(EXCITE);
    DDRB |= _BV(EXCITE);
  } else {
    DDRB &= (uint8_t)~_BV(EXCITE);
    PORTB &= (uint8_t)~_BV(EXCITE);
  }
}

void hw_wait_ms(uint8_t count) {
  while (count--) {
    wdt_reset();
    _delay_loop_2(F_CPU / 4000);
  }
}

uint16_t hw_test_node(void) {
  uint16_t sum = 0;
  sensors = false;
  hw_wait_ms(1); /* a conversion of the sensors ends */
  for (uint8_t k = 0; k < SAMPLES; k++) {
    convert(CHANNEL_NODE);
    while (ADCSRA & _BV(ADSC)) {
    }
    sum += ADC;
  }
  sensors = true;
  return sum;
}

void sw_plant_tick(void) {}

static void start(void) {
  PORTD = _BV(DRIVERS_OFF) | _BV(PD2) | _BV(PD3) | _BV(HOME);
  DDRD = _BV(DRIVERS_OFF) | _BV(PD1) | _BV(DEVICE_RELAY) | _BV(TEST_RELAY);
  DDRC = _BV(GROUND_RELAY) | _BV(TURNS) | _BV(FREE);
  PORTB = _BV(ANGLE_SELECT);
  DDRB = _BV(LATCH) | _BV(ANGLE_SELECT) | _BV(MOSI) | _BV(SCK);
  SPCR = _BV(SPE) | _BV(MSTR); /* F_CPU / 4 */
  const uint16_t all = (1u << CHAIN_RELAYS) - 1;
  const struct chain_codes open = {UINT32_MAX, {all, all, all, all}};
  hw_codes(&open);
  PORTD &= (uint8_t)~_BV(DRIVERS_OFF);

  eeprom_read_block(&device_calibration, &stored, sizeof device_calibration);
  scale();
  scale_steps = 0;

  TCCR2A = _BV(WGM21);
  TCCR2B = _BV(CS22); /* F_CPU / 64: 230.4 kHz */
  OCR2A = TICK_COUNTS - 1;
  EICRA = _BV(ISC00) | _BV(ISC10); /* every change of both channels */
  EIFR = _BV(INTF0) | _BV(INTF1);
  EIMSK = _BV(INT0) | _BV(INT1);
  TIMSK2 = _BV(OCIE2A);
  sw_avr_start();
}

int main(void) {
  sw_avr_reset();
  start();
  sw_avr_serve();
}
