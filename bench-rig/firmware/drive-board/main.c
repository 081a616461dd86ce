/*
 * The drive board.
 *
 *   PD0, PD1  UART                              PB0  stage driver on
 *   PD2, PD3  motor encoder A, B                PB1  enable: gate of the monostable
 *   PD4       emergency-stop line, closed to    PB2  alive: trigger of the monostable
 *             ground unless pressed          PB3  motor driver: PWM, 28.9 kHz
 *   PD5       reset button to ground            PB4  motor driver: direction, high is backward
 *   PD6       stage driver: step                PB5  motor driver: brake
 *   PD7       stage driver: direction,          PC0  converter: motor current
 *             high is backward                  PC1  home switch, PC2 far limit switch: both closed
 *                                                    to ground while the stage is between them
 *   PC3, PC4  from the device board, to ground: the file turns; the force is below its limit
 *
 * Low is safe at every output, and a reset leaves them all floating: pull-downs hold PB0 to PB5 there.
 */
#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

#include "calibration.h"
#include "drive.h"
#include "sw_avr.h"
#include "sw_board.h"

#define STOP_LINE PD4
#define RESET PD5
#define STEP PD6
#define STAGE_BACKWARD PD7
#define STAGE_ON PB0
#define ENABLE PB1
#define ALIVE PB2
#define POWER PB3
#define BACKWARD PB4
#define BRAKE PB5
#define HOME PC1
#define FAR_LIMIT PC2
#define TURNS PC3
#define FREE PC4

#define SAMPLES 16
#define TICKS_PER_LOOP 8 /* 960 times a second */

struct drive_calibration drive_calibration;

static volatile int32_t encoder_steps;
static volatile uint32_t encoder_counts;
static uint8_t encoder_levels;
static volatile uint16_t current_sum;

static void encoder(void) {
  /* From levels (old, new) to steps; both at once is lost and counts as none. */
  static const int8_t MOVED[16] = {0, -1, 1, 0, 1, 0, 0, -1, -1, 0, 0, 1, 0, 1, -1, 0};
  uint8_t pins = PIND;
  uint8_t levels = (uint8_t)((pins & _BV(PD2) ? 2 : 0) | (pins & _BV(PD3) ? 1 : 0));
  int8_t moved = MOVED[encoder_levels << 2 | levels];
  encoder_levels = levels;
  if (moved) {
    encoder_steps += moved;
    encoder_counts = sw_counts();
  }
}

ISR(INT0_vect) { encoder(); }
ISR(INT1_vect) { encoder(); }

/* A driver wants to see a step for 2 µs and the next one 2 µs later (assumed). */
static void wait_for_driver(void) {
  for (uint8_t i = 0; i < 6; i++) {
    __asm__ volatile("nop\n nop");
  }
}

/* 7680 times a second. All other interrupts may come between, but never a second one of this. */
ISR(TIMER0_COMPA_vect) {
  static uint8_t ticks;
  struct motion_switches open = {false, false, false};
  TIMSK0 = 0;
  sei();
  hw_switches(&open);
  if (open.stop_line) { /* the loop, which latches it, may be busy with a request */
    OCR2A = 0;
    PORTB &= (uint8_t)~_BV(ENABLE);
  }
  struct feed_lines lines = {!(PINC & _BV(TURNS)), !(PINC & _BV(FREE))};
  int8_t steps = drive_stage_tick(&open, &lines);
  if (drive_stage.backward) {
    PORTD |= _BV(STAGE_BACKWARD);
  } else {
    PORTD &= (uint8_t)~_BV(STAGE_BACKWARD);
  }
  for (steps = steps < 0 ? (int8_t)-steps : steps; steps > 0; steps--) {
    PORTD |= _BV(STEP);
    wait_for_driver();
    PORTD &= (uint8_t)~_BV(STEP);
    wait_for_driver();
  }
  if (++ticks == TICKS_PER_LOOP) {
    ticks = 0;
    sw_tick = true;
  }
  cli();
  TIMSK0 = _BV(OCIE0A);
}

ISR(ADC_vect) {
  static uint16_t sum;
  static uint8_t count;
  sum += ADC;
  if (++count == SAMPLES) {
    current_sum = sum;
    sum = 0;
    count = 0;
  }
}

int64_t hw_clock_ns(void) { return sw_clock_ns(); }

uint32_t hw_counts_per_second(void) { return SW_COUNTS_PER_SECOND; }

static void set(uint8_t pin, bool high) {
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    if (high) {
      PORTB |= _BV(pin);
    } else {
      PORTB &= (uint8_t)~_BV(pin);
    }
  }
}

/* The power first when it goes, last when it comes. */
void hw_motor(uint8_t drive, uint8_t power) {
  if (drive < SW_EXCHANGE_DRIVE_FORWARD) {
    OCR2A = 0;
  }
  set(ENABLE, drive != SW_EXCHANGE_DRIVE_OFF);
  set(BRAKE, drive == SW_EXCHANGE_DRIVE_BRAKE);
  set(BACKWARD, drive == SW_EXCHANGE_DRIVE_BACKWARD);
  OCR2A = drive < SW_EXCHANGE_DRIVE_FORWARD ? 0 : power;
}

void hw_alive(void) { PINB = _BV(ALIVE); /* writing a 1 there changes the output */ }

void hw_encoder(int32_t *steps, uint32_t *step_counts, uint32_t *now_counts) {
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    *steps = encoder_steps;
    *step_counts = encoder_counts;
    *now_counts = sw_counts();
  }
}

uint16_t hw_current(void) {
  uint16_t sum = 0;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { sum = current_sum; }
  return sum;
}

bool hw_stop_line_open(void) { return PIND & _BV(STOP_LINE); }

bool hw_reset_pressed(void) { return !(PIND & _BV(RESET)); }

void hw_switches(struct motion_switches *open) {
  open->home = PINC & _BV(HOME);
  open->far_limit = PINC & _BV(FAR_LIMIT);
  open->stop_line = hw_stop_line_open();
}

void hw_lock(bool locked) {
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { TIMSK0 = locked ? 0 : _BV(OCIE0A); }
}

void sw_plant_tick(void) { drive_tick(); }

static void start(void) {
  PORTB = 0;
  DDRB = _BV(STAGE_ON) | _BV(ENABLE) | _BV(ALIVE) | _BV(POWER) | _BV(BACKWARD) | _BV(BRAKE);
  PORTD = _BV(PD2) | _BV(PD3) | _BV(STOP_LINE) | _BV(RESET);
  DDRD = _BV(PD1) | _BV(STEP) | _BV(STAGE_BACKWARD);
  PORTC = _BV(HOME) | _BV(FAR_LIMIT) | _BV(TURNS) | _BV(FREE);

  eeprom_read_block(&drive_calibration, &stored, sizeof drive_calibration);
  encoder();
  encoder_steps = 0;

  TCCR2A = _BV(COM2A1) | _BV(WGM20); /* phase-correct, no prescaler: F_CPU / 510 */
  TCCR2B = _BV(CS20);
  OCR2A = 0;
  TCCR0A = _BV(WGM01);
  TCCR0B = _BV(CS01) | _BV(CS00); /* F_CPU / 64: 230.4 kHz */
  OCR0A = 29;                     /* 7680 Hz */
  TIMSK0 = _BV(OCIE0A);
  EICRA = _BV(ISC00) | _BV(ISC10); /* every change of both channels */
  EIFR = _BV(INTF0) | _BV(INTF1);
  EIMSK = _BV(INT0) | _BV(INT1);
  ADMUX = _BV(REFS0);
  ADCSRB = 0;
  ADCSRA = _BV(ADEN) | _BV(ADSC) | _BV(ADATE) | _BV(ADIE) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
  set(STAGE_ON, true);
  sw_avr_start();
}

int main(void) {
  sw_avr_reset();
  start();
  sw_avr_serve();
}
