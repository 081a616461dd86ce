/*
 * The world of the canal board: relays, ladder, stage encoder and home switch.
 *
 *   says   word BBXXXX   what the relays do now: the bank's byte, and a word of the ladder; 0 is open
 *          stage N       a move has ended; steps since the start
 *   takes  pace US       a step of the stage takes so many µs from now on; 500 until told
 *          move N        moves the stage by N encoder steps; goto N: to the Nth step
 *          home 0|1      the stage leaves or reaches its home switch
 *          weld K        the contact of relay K stays closed
 *          cut K         a lead of capacitor K is off
 *          short K       capacitor K conducts
 *          mend          everything is whole again
 *          tooth RS RP PF   what is between the clips: RS ohm, then RP ohm beside PF picofarads
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <avr_adc.h>
#include <avr_ioport.h>
#include <avr_spi.h>
#include <sim_cycle_timers.h>
#include <sim_irq.h>

#include "world.h"

#define FOLLOW_CYCLES (HERTZ / 400)
#define REFERENCE_OHMS 10000.0
#define NOISE_MILLIVOLTS 5 /* peak to peak, one step of the converter: what lets a sum see finer (assumed) */
#define RESISTORS 13
#define CAPACITORS 10
#define STRAY_PICOFARADS 45.0
/* The tooth input as built: 1 % and 10 % off. */
#define DRIVE_OHMS 47400.0
#define LOAD_OHMS 99000.0
#define CHECK_OHMS 10010.0
#define COUPLING_FARADS 0.9e-6
#define ADMUX 0x7C
#define FIRST_HALF_CLOCKS 27 /* the same after it was enabled, in half clocks */
#define SAMPLE_CLOCKS 2 /* of the converter, from its start until the sample is taken */
#define ADCSRA 0x7A     /* its address in the data sheet of the ATmega328P */

/* As soldered, so different from the calibration: nominal values and 1 %, alternating. */
static const double OHMS[RESISTORS] = {10.1,   19.8,   40.6,   79.8,   163.6,   320.8,   640.3,
                                       1197.9, 2393.7, 4593.6, 9180.9, 17622.0, 35148.0};
#define BASE_OHMS 100.0
/* 5 % off, alternating. */
static const double PICOFARADS[CAPACITORS] = {71.4, 142.5, 231, 446.5, 714, 1425, 2310, 4465, 10500, 20900};

static uint32_t shifted, latched, relays; /* a word of the ladder, above it the bank's byte */
static bool latch, drivers_off = true, drivers_output;
static uint8_t port_b, out_b;
static int welded = -1, cut = -1, shorted = -1;
static double node_volts; /* of the node between reference and ladder, at node_at */
static avr_cycle_count_t node_at;
static long steps, wanted;
static bool moving, home_wanted, home_open;
static avr_cycle_count_t home_next;
static avr_cycle_count_t next_step, step_cycles = HERTZ / 2000;
static avr_irq_t *adc;
static uint8_t port_c, out_c;
static bool tooth_drive, tooth_relay;
static double tooth_series = 2000, tooth_ohms = 4000, tooth_farads = 20e-9;
static double coupling_volts = 0, tooth_volts; /* across the capacitors, at tooth_at */
static avr_cycle_count_t tooth_at;

static double ladder_ohms(void) {
  double sum = BASE_OHMS;
  for (int k = 0; k < RESISTORS; k++) {
    sum += relays >> k & 1 || k == welded ? 0 : OHMS[k];
  }
  return sum;
}

static bool closed(int capacitor) {
  return capacitor < 8 ? relays >> (16 + capacitor) & 1 : relays >> (13 + capacitor - 8) & 1;
}

/* The node goes on towards where its resistors pull it, as slowly as its capacitors let it. */
static void node_settle(avr_cycle_count_t until) {
  bool driven = out_b & 1;
  bool circuit = relays & 0x8000;
  double source = driven && port_b & 1 ? SUPPLY_MILLIVOLTS : 0;
  double siemens = driven ? 1 / REFERENCE_OHMS : 1e-9;
  double amps = driven ? source / REFERENCE_OHMS : 0;
  double picofarads = STRAY_PICOFARADS;
  if (circuit) {
    siemens += 1 / ladder_ohms();
    for (int k = 0; k < CAPACITORS; k++) {
      if (closed(k)) {
        picofarads += k == cut ? 0 : PICOFARADS[k];
        siemens += k == shorted ? 1 : 0;
      }
    }
  }
  double seconds = (double)(until - node_at) / HERTZ;
  double end = amps / siemens;
  node_volts = end + (node_volts - end) * exp(-seconds * siemens / (picofarads * 1e-12));
  node_at = until;
}

static bool check_relay(void) { return out_c & port_c & 4; }

/* Volts at the file clip against the lip clip, which is held at half of the supply. */
static double clip_volts(double coupling, double across) {
  double amps = ((tooth_drive ? 2.5 : -2.5) - coupling) / DRIVE_OHMS;
  double siemens = 1 / DRIVE_OHMS + 1 / LOAD_OHMS;
  if (check_relay()) {
    siemens += 1 / CHECK_OHMS;
  }
  if (tooth_relay) {
    siemens += 1 / tooth_series;
    amps += across / tooth_series;
  }
  return amps / siemens;
}

/* How fast both capacitors charge, V/s. */
static void tooth_slopes(double coupling, double across, double *of_coupling, double *of_tooth) {
  double volts = clip_volts(coupling, across);
  double amps = tooth_relay ? (volts - across) / tooth_series : 0;
  *of_coupling = ((tooth_drive ? 2.5 : -2.5) - coupling - volts) / DRIVE_OHMS / COUPLING_FARADS;
  *of_tooth = (amps - across / tooth_ohms) / tooth_farads;
}

/* Goes on by the midpoint rule, in steps of 1 µs: far below the time constants. */
static void tooth_settle(avr_cycle_count_t until) {
  while (tooth_at < until) {
    avr_cycle_count_t cycles = until - tooth_at > 15 ? 15 : until - tooth_at;
    double seconds = (double)cycles / HERTZ;
    double coupling, across;
    tooth_slopes(coupling_volts, tooth_volts, &coupling, &across);
    tooth_slopes(coupling_volts + coupling * seconds / 2, tooth_volts + across * seconds / 2, &coupling,
                 &across);
    coupling_volts += coupling * seconds;
    tooth_volts += across * seconds;
    tooth_at += cycles;
  }
}

static void on_tooth_drive(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  tooth_settle(avr->cycle);
  tooth_drive = value & 1;
}

static void on_tooth_relay(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  tooth_settle(avr->cycle);
  tooth_relay = value & 1;
}

static void on_port_c(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  tooth_settle(avr->cycle);
  port_c = (uint8_t)value;
}

static void on_direction_c(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  tooth_settle(avr->cycle);
  out_c = (uint8_t)value;
}

static void relays_move(void) {
  uint32_t now = drivers_output && !drivers_off ? latched : 0;
  if (now != relays) {
    node_settle(avr->cycle);
    relays = now;
    printf("word %06X\n", relays);
    fflush(stdout);
  }
}

static void on_spi(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  shifted = (shifted << 8 | (value & 0xFF)) & 0xFFFFFF;
}

static void on_latch(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  if (value && !latch) {
    latched = shifted;
    relays_move();
  }
  latch = value;
}

static void on_drivers(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  drivers_off = value;
  relays_move();
}

static void on_direction_d(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  drivers_output = value >> 5 & 1;
  relays_move();
}

static void on_port_b(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  node_settle(avr->cycle);
  port_b = (uint8_t)value;
}

static void on_direction_b(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  node_settle(avr->cycle);
  out_b = (uint8_t)value;
}

static double noise_millivolts(void) {
  static uint32_t random = 1;
  random = random * 1664525 + 1013904223;
  return (random >> 16) % 1000 * NOISE_MILLIVOLTS / 1000.0;
}

static avr_cycle_count_t sample_tooth(avr_t *of, avr_cycle_count_t when, void *unused) {
  (void)of, (void)when, (void)unused;
  tooth_settle(avr->cycle);
  double volts =
      2500 + clip_volts(coupling_volts, tooth_volts) * 1000 + noise_millivolts();
  avr_raise_irq(adc + ADC_IRQ_ADC1, (uint32_t)(volts < 0 ? 0 : volts > 5000 ? 5000 : volts));
  return 0;
}

static void on_convert(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)value, (void)unused;
  unsigned prescaler = avr->data[ADCSRA] & 7;
  avr_cycle_count_t wait = SAMPLE_CLOCKS << (prescaler ? prescaler : 1);
  if (avr->data[ADMUX] & 1) {
    wait = FIRST_HALF_CLOCKS << (prescaler - 1);
    avr_cycle_timer_register(avr, wait, sample_tooth, NULL);
    return;
  }
  node_settle(avr->cycle + wait);
  avr_raise_irq(adc + ADC_IRQ_ADC0, (uint32_t)(node_volts + noise_millivolts()));
}

static void encoder_pins(void) {
  long place = steps & 3;
  world_drive('D', 2, place == 1 || place == 2);
  world_drive('D', 3, place == 2 || place == 3);
}

/* A move has ended when the board has had time to follow the last step. */
/* A level lasts long enough to be seen, whatever the commanded speed. */
static void home_switch(void) {
  if (home_wanted != home_open && avr->cycle >= home_next) {
    home_open = home_wanted;
    home_next = avr->cycle + FOLLOW_CYCLES;
    world_drive('D', 4, home_open);
  }
}

void world_run(void) {
  home_switch();
  if (!moving || avr->cycle < next_step) {
    return;
  }
  if (steps != wanted) {
    steps += steps < wanted ? 1 : -1;
    encoder_pins();
    next_step = avr->cycle + (steps == wanted ? FOLLOW_CYCLES : step_cycles);
  } else {
    moving = false;
    printf("stage %ld\n", steps);
    fflush(stdout);
  }
}

void world_start(void) {
  avr_irq_t *pins_b = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), 0);
  avr_irq_t *pins_d = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), 0);
  avr_irq_register_notify(pins_b + IOPORT_IRQ_REG_PORT, on_port_b, NULL);
  avr_irq_register_notify(pins_b + IOPORT_IRQ_DIRECTION_ALL, on_direction_b, NULL);
  avr_irq_register_notify(pins_b + 1, on_latch, NULL);
  avr_irq_register_notify(pins_d + 5, on_drivers, NULL);
  avr_irq_register_notify(pins_d + IOPORT_IRQ_DIRECTION_ALL, on_direction_d, NULL);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(0), SPI_IRQ_OUTPUT), on_spi,
                          NULL);
  adc = avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, 0);
  avr_irq_register_notify(adc + ADC_IRQ_OUT_TRIGGER, on_convert, NULL);
  avr_irq_t *pins_c = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('C'), 0);
  avr_irq_register_notify(pins_d + 6, on_tooth_drive, NULL);
  avr_irq_register_notify(pins_d + 7, on_tooth_relay, NULL);
  avr_irq_register_notify(pins_c + IOPORT_IRQ_REG_PORT, on_port_c, NULL);
  avr_irq_register_notify(pins_c + IOPORT_IRQ_DIRECTION_ALL, on_direction_c, NULL);
  encoder_pins();
  world_drive('D', 4, false);
}

void world_reset(void) {
  drivers_output = false;
  out_b = port_b = 0;
  relays_move();
}

void world_reset_done(void) { encoder_pins(); }

bool world_obey(const char *line) {
  long number = 0;
  double series, beside, picofarads;
  if (sscanf(line, "move %ld", &number) == 1) {
    wanted += number;
    moving = true;
  } else if (sscanf(line, "goto %ld", &number) == 1) {
    wanted = number;
    moving = true;
  } else if (sscanf(line, "pace %ld", &number) == 1) {
    step_cycles = (avr_cycle_count_t)number * (HERTZ / 100000) / 10;
  } else if (sscanf(line, "home %ld", &number) == 1) {
    home_wanted = number != 0;
  } else if (sscanf(line, "weld %ld", &number) == 1) {
    welded = (int)number;
  } else if (sscanf(line, "cut %ld", &number) == 1) {
    cut = (int)number;
  } else if (sscanf(line, "short %ld", &number) == 1) {
    shorted = (int)number;
  } else if (sscanf(line, "tooth %lf %lf %lf", &series, &beside, &picofarads) == 3) {
    tooth_settle(avr->cycle);
    tooth_series = series;
    tooth_ohms = beside;
    tooth_farads = picofarads * 1e-12;
  } else if (strcmp(line, "mend") == 0) {
    welded = cut = shorted = -1;
  } else {
    return false;
  }
  return true;
}
