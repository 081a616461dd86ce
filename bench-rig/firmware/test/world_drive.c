/*
 * The world of the drive board: motor with encoder and current, monostable and relay at its supply,
 * emergency-stop contact, reset button, and a stage whose screw has play.
 *
 *   says   carriage N    where the carriage is, µm from the home switch, whenever it has moved by 5
 *          switch 0|1    the home switch has closed or opened
 *          power 0|1     the relay has taken or given the motor its supply
 *   takes  load MA       what the motor draws beyond its idle current while it turns
 *          cut 0|1       the emergency-stop line is closed or open
 *          press 0|1     the reset button
 *          stick 0|1     the carriage is held: the motor of the stage steps in vain
 *          play UM       play of the screw; 60 until told
 *          turns 0|1     the line of the device board: the file turns; free 0|1: the force is below its limit
 *          tell          says carriage and switch now, and as "stepped" when the stage stepped last, µs since zero
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <avr_adc.h>
#include <avr_ioport.h>
#include <sim_cycle_timers.h>
#include <sim_irq.h>

#include "world.h"

/* Registers of timer 2, by their addresses in the data sheet of the ATmega328P. */
#define TCCR2A 0xB0
#define OCR2A 0xB3

#define SLICE (HERTZ / 20000) /* of the motor's model: 50 µs */
#define FULL_RPM 980.0 /* 2 % below the calibration of the board */
#define DRIVEN_S 0.03
#define COASTING_S 0.15
#define BRAKED_S 0.02
#define FRICTION_RPM_PER_S 1500.0 /* when it is not driven, so that it comes to rest */
#define STEPS_PER_TURN 64
#define IDLE_MILLIAMPS 100
#define MONOSTABLE (HERTZ / 10)
#define MICRONS_PER_STEP 0.625
#define TRAVEL_MICRONS 38000
#define TOLD_MICRONS 5

static avr_irq_t *adc;
static uint8_t port_b, port_d;
static avr_cycle_count_t alive_at;
static bool lively, powered, cut, stuck, home_open;
static double rpm, turns, load_milliamps;
static double screw = 1500, carriage = 1500, play = 60; /* µm from the home switch */
static long encoder_place, told = 1500, stepped;
static bool turns_line, free_line;

static void say_carriage(void) {
  told = lround(carriage);
  printf("carriage %ld\n", told);
  fflush(stdout);
}

static void on_port_b(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  if ((value ^ port_b) & 1u << 2) {
    alive_at = avr->cycle;
    lively = true;
  }
  port_b = (uint8_t)value;
}

static void on_port_d(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  bool step = (value & ~port_d) >> 6 & 1;
  port_d = (uint8_t)value;
  if (!step || !(port_b & 1)) {
    return;
  }
  stepped = emulator_microseconds();
  screw += value >> 7 & 1 ? -MICRONS_PER_STEP : MICRONS_PER_STEP;
  if (!stuck) { /* the nut pushes the carriage forward at once, and pulls it back after the play */
    carriage = fmax(carriage, screw);
    carriage = fmin(carriage, screw + play);
  }
  bool home = carriage <= 0;
  if (home != home_open) {
    home_open = home;
    world_drive('C', 1, home);
    printf("switch %d\n", home);
    fflush(stdout);
  }
  world_drive('C', 2, carriage >= TRAVEL_MICRONS);
  if (labs(lround(carriage) - told) >= TOLD_MICRONS) {
    say_carriage();
  }
}

static void on_convert(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)value, (void)unused;
  double milliamps = powered && fabs(rpm) > 1 ? IDLE_MILLIAMPS + load_milliamps : 0;
  avr_raise_irq(adc + ADC_IRQ_ADC0, (uint32_t)milliamps); /* 1 V per A */
}

static void encoder_pins(void) {
  long place = encoder_place & 3;
  world_drive('D', 2, place == 1 || place == 2);
  world_drive('D', 3, place == 2 || place == 3);
}

static void relay(void) {
  bool now = lively && avr->cycle - alive_at < MONOSTABLE && port_b >> 1 & 1 && !cut;
  if (now != powered) {
    powered = now;
    printf("power %d\n", powered);
    fflush(stdout);
  }
}

/* By a timer of the emulator, which also wakes a controller that sleeps. */
static avr_cycle_count_t on_slice(avr_t *unused, avr_cycle_count_t when, void *nothing) {
  (void)unused, (void)nothing;
  relay();
  const double s = (double)SLICE / HERTZ;
  double share = avr->data[TCCR2A] >> 7 ? avr->data[OCR2A] / 255.0 : 0;
  if (port_b >> 5 & 1) {
    rpm -= rpm * s / BRAKED_S;
  } else if (powered && share > 0) {
    double wanted = (port_b >> 4 & 1 ? -1 : 1) * share * FULL_RPM;
    rpm += (wanted - rpm) * s / DRIVEN_S;
  } else {
    rpm -= rpm * s / COASTING_S;
  }
  if (share == 0 || !powered) {
    double slower = FRICTION_RPM_PER_S * s;
    rpm = fabs(rpm) <= slower ? 0 : rpm - copysign(slower, rpm);
  }
  turns += rpm / 60 * s;
  long place = lround(floor(turns * STEPS_PER_TURN));
  if (place != encoder_place) {
    encoder_place += place > encoder_place ? 1 : -1;
    encoder_pins();
  }
  return when + SLICE;
}

void world_run(void) {}

void world_start(void) {
  avr_irq_t *pins_b = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), 0);
  avr_irq_t *pins_d = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), 0);
  avr_irq_register_notify(pins_b + IOPORT_IRQ_REG_PORT, on_port_b, NULL);
  avr_irq_register_notify(pins_d + IOPORT_IRQ_REG_PORT, on_port_d, NULL);
  adc = avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, 0);
  avr_irq_register_notify(adc + ADC_IRQ_OUT_TRIGGER, on_convert, NULL);
  world_reset_done();
}

void world_reset(void) {
  port_b = 0; /* floating, and held low by resistors */
  relay();
}

void world_reset_done(void) {
  avr_cycle_timer_register(avr, SLICE, on_slice, NULL);
  encoder_pins();
  world_drive('D', 4, cut);
  world_drive('D', 5, true);
  world_drive('C', 1, home_open);
  world_drive('C', 2, carriage >= TRAVEL_MICRONS);
  world_lines(turns_line, free_line);
}

long world_carriage(bool *home) {
  *home = home_open;
  return (long)floor(carriage);
}

void world_lines(bool of_turns, bool of_free) {
  turns_line = of_turns;
  free_line = of_free;
  world_drive('C', 3, !turns_line);
  world_drive('C', 4, !free_line);
}

bool world_obey(const char *line) {
  long number = 0;
  if (sscanf(line, "load %ld", &number) == 1) {
    load_milliamps = (double)number;
  } else if (sscanf(line, "cut %ld", &number) == 1) {
    cut = number != 0;
    world_drive('D', 4, cut);
  } else if (sscanf(line, "press %ld", &number) == 1) {
    world_drive('D', 5, number == 0);
  } else if (sscanf(line, "stick %ld", &number) == 1) {
    stuck = number != 0;
  } else if (sscanf(line, "play %ld", &number) == 1) {
    play = (double)number;
  } else if (sscanf(line, "turns %ld", &number) == 1) {
    world_lines(number != 0, free_line);
  } else if (sscanf(line, "free %ld", &number) == 1) {
    world_lines(turns_line, number != 0);
  } else if (strcmp(line, "tell") == 0) {
    printf("stepped %ld\n", stepped);
    printf("switch %d\n", home_open);
    say_carriage();
  } else {
    return false;
  }
  return true;
}
