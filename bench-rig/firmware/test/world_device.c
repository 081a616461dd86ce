/*
 * The world of the device board: relays of the chain, isolating relays, test node, shank scale, home
 * switch, angle chip, force and microphone, and a motor that turns the file as it is told.
 *
 *   says   codes FFFFFFFF AAAA BBBB CCCC DDDD   resistors in line: first segment, branches 1 to 4; the two
 *          highest bits of a branch are its capacitors
 *          circuit DTG    device, test node and ground relay: 1 is on
 *          stage N        a move has ended; steps since the start
 *          lines TF US    lines to the drive board: the file turns, the force is below its limit; µs since zero
 *   takes  pace US        a step of the scale takes so many µs from now on; 500 until told
 *          move N         moves the shank by N steps; goto N: to the Nth step
 *          home 0|1       the scale leaves or reaches its home switch
 *          spin MRPM      the file turns at so many thousandths of a turn a minute
 *          turn M         the file has turned by M thousandths of a degree at once
 *          force MN       the feed presses with so many mN
 *          spring N       from the Nth step on something presses back, with 2 mN for each step; 0: nothing
 *          hear 0|1       the microphone hears a motor
 *          stray PF       stray capacitance of the chain; 30 until told
 *          leak KOHM      leak of the chain; 1000000 until told
 *          weld K         the contact of relay K stays closed; cut K: it stays open
 *          mend           everything is whole again
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <avr_adc.h>
#include <avr_ioport.h>
#include <avr_spi.h>
#include <sim_cycle_timers.h>
#include <sim_io.h>
#include <sim_irq.h>

#include "world.h"

#define FIRST 32
#define OF_BRANCH 14
#define BRANCHES 4
#define RELAYS (FIRST + BRANCHES * OF_BRANCH)
#define REGISTERS 12
#define FOLLOW_CYCLES (HERTZ / 80)
#define REFERENCE_OHMS 10000.0
#define HOLD_PICOFARADS 1005.0
#define ADMUX 0x7C /* by their addresses in the data sheet of the ATmega328P */
#define SPDR 0x4E
#define SPI_CYCLES 34
#define SPRING_MILLINEWTONS 2.0 /* for each step of the scale, 1 µm */
#define MILLINEWTONS_PER_VOLT 1023.0 /* 5 mN for each of 1023 steps in 5 V */

/* As soldered: nominal values and 0.8 %, alternating. */
static const double NOMINAL[RELAYS] = {
    1, 1.82, 3.48, 6.65, 13, 25.5, 49.9, 97.6, 191, 221, 221, 221, 221, 221, 221, 221, 221, 221,
    221, 221, 221, 221, 221, 221, 221, 221, 221, 221, 221, 4640, 9090, 15000, 1.5, 2.8, 5.36, 10.5,
    20.5, 40.2, 78.7, 154, 301, 590, 1180, 2320, 4530, 8870, 1.5, 2.8, 5.36, 10.5, 20.5, 40.2, 78.7,
    154, 301, 590, 1180, 2320, 4530, 8870, 1.5, 2.8, 5.36, 10.5, 20.5, 40.2, 78.7, 154, 301, 590,
    1180, 2320, 4530, 8870, 0.806, 1.47, 2.74, 5.23, 10.2, 20, 39.2, 76.8, 150, 294, 576, 1150,
    2260, 4420};
#define BASE_OHMS 300.0

static uint8_t shifted[REGISTERS], latched[REGISTERS], on[REGISTERS]; /* the last in the chain first */
static bool latch, drivers_off = true, drivers_output;
static uint8_t port_b, out_b, port_d, out_d, port_c, out_c;
static int welded = -1, open_one = -1;
static long steps, goal;
static bool moving, coupled, home_wanted, home_open;
static avr_cycle_count_t next_step, step_cycles = HERTZ / 2000, home_next;
static long spring;
static double degrees, rpm, millinewtons, stray = 30, leak_ohms = 1e9;
static bool heard;
static avr_cycle_count_t turned_at, node_at;
static double node_volts, chain_volts;
static bool joined; /* chain and test node are one */
static avr_irq_t *adc, *spi;
static void *spi_port;
static bool spi_begun;
static uint16_t angle_word;
static uint8_t angle_byte;

/* Registers 0 to 7: branches 4 to 1, high byte first; then the first segment, its greatest bits first. */
static uint32_t first_on(void) {
  return (uint32_t)on[8] << 24 | (uint32_t)on[9] << 16 | (uint32_t)on[10] << 8 | on[11];
}

static unsigned branch_on(int branch) {
  int at = 2 * (BRANCHES - 1 - branch);
  return (unsigned)on[at] << 8 | on[at + 1];
}

static bool relay_on(int k) {
  bool is_on = k < FIRST ? first_on() >> k & 1
                         : branch_on((k - FIRST) / OF_BRANCH) >> (k - FIRST) % OF_BRANCH & 1;
  return (is_on || k == welded) && k != open_one;
}

static double chain_ohms(void) {
  double sum = BASE_OHMS;
  for (int k = 0; k < RELAYS; k++) {
    sum += relay_on(k) ? 0 : NOMINAL[k] * (k & 1 ? 0.992 : 1.008);
  }
  return sum;
}

static bool device_relay(void) { return out_d & port_d & 1 << 6; }
static bool test_relay(void) { return out_d & port_d & 1 << 7; }
static bool ground_relay(void) { return out_c & port_c & 8; }

static void towards(double *volts, double end, double siemens, double picofarads, double seconds) {
  *volts = end + (*volts - end) * exp(-seconds * siemens / (picofarads * 1e-12));
}

/* Test node and chain, joined or apart, go on towards where their resistors pull them. */
static void settle(avr_cycle_count_t until) {
  double seconds = (double)(until - node_at) / HERTZ;
  double drive = out_b & 1 ? 1 / REFERENCE_OHMS : 0;
  double amps = out_b & 1 && port_b & 1 ? 5 / REFERENCE_OHMS : 0;
  double chain = 1 / leak_ohms + (ground_relay() ? 1 / chain_ohms() : 0);
  node_at = until;
  if (test_relay()) {
    double siemens = drive + chain;
    towards(&node_volts, amps / siemens, siemens, HOLD_PICOFARADS + stray, seconds);
    chain_volts = node_volts;
  } else {
    double siemens = drive + 1e-12;
    towards(&node_volts, amps / siemens, siemens, HOLD_PICOFARADS, seconds);
    towards(&chain_volts, 0, chain, stray, seconds);
  }
}

static void circuits(void) {
  static int told = -1;
  int now = device_relay() << 2 | test_relay() << 1 | ground_relay();
  if (test_relay() && !joined) {
    node_volts = (node_volts * HOLD_PICOFARADS + chain_volts * stray) / (HOLD_PICOFARADS + stray);
  }
  joined = test_relay();
  if (now != told) {
    told = now;
    printf("circuit %d%d%d\n", now >> 2, now >> 1 & 1, now & 1);
    fflush(stdout);
  }
}

static void relays_move(void) {
  static const uint8_t none[REGISTERS];
  static bool said;
  const uint8_t *now = drivers_output && !drivers_off ? latched : none;
  if (memcmp(now, on, sizeof on) != 0 || !said) {
    settle(avr->cycle);
    said = true;
    memcpy(on, now, sizeof on);
    printf("codes %08X", (unsigned)~first_on());
    for (int k = 0; k < BRANCHES; k++) {
      printf(" %04X", branch_on(k) ^ ((1u << OF_BRANCH) - 1));
    }
    printf("\n");
    fflush(stdout);
  }
}

static void turn(void) {
  degrees += rpm * 6 * (double)(avr->cycle - turned_at) / HERTZ;
  turned_at = avr->cycle;
}

/* The angle chip answers with what it held when it was selected; the registers take what comes. */
static void on_spi(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  if (port_b & 1 << 2) {
    memmove(shifted, shifted + 1, sizeof shifted - 1);
    shifted[REGISTERS - 1] = (uint8_t)value;
  }
  avr_raise_irq(spi + SPI_IRQ_INPUT, angle_byte++ == 0 ? angle_word >> 8 : angle_word & 0xFF);
}

/* The emulator takes 100 µs for a byte, whatever the divider; here it takes what a quarter of the clock
 * does. Its timer is set by then. */
static void spi_in_time(void) {
  for (avr_cycle_timer_slot_t *slot = avr->cycle_timers.timer; slot; slot = slot->next) {
    if (slot->param == spi_port) {
      avr_cycle_timer_register(avr, SPI_CYCLES, slot->timer, slot->param);
      return;
    }
  }
}

static void on_spi_data(avr_t *of, avr_io_addr_t address, uint8_t value, void *unused) {
  (void)of, (void)address, (void)value, (void)unused;
  spi_begun = true;
}

static void on_port_b(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  settle(avr->cycle);
  if (port_b & ~value & 1 << 2) { /* selected */
    turn();
    double turns = degrees / 360;
    angle_word = (uint16_t)((unsigned)floor((turns - floor(turns)) * 4096) << 4);
    angle_byte = 0;
  }
  port_b = (uint8_t)value;
}

static void on_direction_b(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  settle(avr->cycle);
  out_b = (uint8_t)value;
}

static void on_latch(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  if (value && !latch) {
    memcpy(latched, shifted, sizeof latched);
    relays_move();
  }
  latch = value;
}

static void lines(void) {
  static uint8_t told;
  uint8_t now = out_c & port_c & 0x30;
  if (now != told) {
    told = now;
    printf("lines %d%d %ld\n", now >> 4 & 1, now >> 5, emulator_microseconds());
    fflush(stdout);
  }
}

static void on_port_c(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  settle(avr->cycle);
  port_c = (uint8_t)value;
  circuits();
  lines();
}

bool world_turns(void) { return out_c & port_c & 0x10; }

bool world_free(void) { return out_c & port_c & 0x20; }

void world_follow(long microns, bool home) {
  home_wanted = home;
  goal = microns;
  moving = coupled = true;
}

static void on_direction_c(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  settle(avr->cycle);
  out_c = (uint8_t)value;
  circuits();
}

static void on_port_d(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  settle(avr->cycle);
  port_d = (uint8_t)value;
  drivers_off = value >> 5 & 1;
  circuits();
  relays_move();
}

static void on_direction_d(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  settle(avr->cycle);
  out_d = (uint8_t)value;
  drivers_output = value >> 5 & 1;
  circuits();
  relays_move();
}

static void on_convert(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)value, (void)unused;
  switch (avr->data[ADMUX] & 7) {
    case 0:
      settle(avr->cycle);
      avr_raise_irq(adc + ADC_IRQ_ADC0, (uint32_t)(node_volts * 1000));
      break;
    case 1: {
      double pressed = spring != 0 && steps > spring ? SPRING_MILLINEWTONS * (double)(steps - spring) : 0;
      avr_raise_irq(adc + ADC_IRQ_ADC1,
                    (uint32_t)((millinewtons + pressed) / MILLINEWTONS_PER_VOLT * 1000));
      break;
    }
    default:
      avr_raise_irq(adc + ADC_IRQ_ADC2, heard ? 3000 : 100);
  }
}

static void scale_pins(void) {
  long place = steps & 3;
  world_drive('D', 2, place == 1 || place == 2);
  world_drive('D', 3, place == 2 || place == 3);
}

void world_run(void) {
  if (spi_begun) {
    spi_begun = false;
    spi_in_time();
  }
  if (home_wanted != home_open && avr->cycle >= home_next) {
    home_open = home_wanted;
    home_next = avr->cycle + FOLLOW_CYCLES;
    world_drive('D', 4, home_open);
  }
  if (!moving || avr->cycle < next_step) {
    return;
  }
  if (steps != goal) {
    steps += steps < goal ? 1 : -1;
    scale_pins();
    next_step = avr->cycle + (steps == goal && !coupled ? FOLLOW_CYCLES : step_cycles);
  } else if (!coupled) {
    moving = false;
    printf("stage %ld\n", steps);
    fflush(stdout);
  }
}

void world_start(void) {
  avr_irq_t *pins_b = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), 0);
  avr_irq_t *pins_c = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('C'), 0);
  avr_irq_t *pins_d = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), 0);
  avr_irq_register_notify(pins_b + IOPORT_IRQ_REG_PORT, on_port_b, NULL);
  avr_irq_register_notify(pins_b + IOPORT_IRQ_DIRECTION_ALL, on_direction_b, NULL);
  avr_irq_register_notify(pins_b + 1, on_latch, NULL);
  avr_irq_register_notify(pins_c + IOPORT_IRQ_REG_PORT, on_port_c, NULL);
  avr_irq_register_notify(pins_c + IOPORT_IRQ_DIRECTION_ALL, on_direction_c, NULL);
  avr_irq_register_notify(pins_d + IOPORT_IRQ_REG_PORT, on_port_d, NULL);
  avr_irq_register_notify(pins_d + IOPORT_IRQ_DIRECTION_ALL, on_direction_d, NULL);
  spi = avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(0), 0);
  avr_irq_register_notify(spi + SPI_IRQ_OUTPUT, on_spi, NULL);
  adc = avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, 0);
  avr_irq_register_notify(adc + ADC_IRQ_OUT_TRIGGER, on_convert, NULL);
  for (avr_io_t *io = avr->io_port; io; io = io->next) {
    if (strcmp(io->kind, "spi") == 0) {
      spi_port = io;
      avr_register_io_write(avr, SPDR, on_spi_data, io);
    }
  }
  scale_pins();
  world_drive('D', 4, false);
}

void world_reset(void) {
  drivers_output = false;
  out_b = port_b = out_c = port_c = out_d = port_d = 0;
  circuits();
  relays_move();
}

void world_reset_done(void) { scale_pins(); }

bool world_obey(const char *line) {
  long number = 0;
  if (sscanf(line, "move %ld", &number) == 1) {
    goal += number;
    moving = true;
  } else if (sscanf(line, "goto %ld", &number) == 1) {
    goal = number;
    moving = true;
  } else if (sscanf(line, "pace %ld", &number) == 1) {
    step_cycles = (avr_cycle_count_t)number * (HERTZ / 100000) / 10;
  } else if (sscanf(line, "home %ld", &number) == 1) {
    home_wanted = number != 0;
  } else if (sscanf(line, "spin %ld", &number) == 1) {
    turn();
    rpm = (double)number / 1000;
  } else if (sscanf(line, "turn %ld", &number) == 1) {
    degrees += (double)number / 1000;
  } else if (sscanf(line, "force %ld", &number) == 1) {
    millinewtons = (double)number;
  } else if (sscanf(line, "spring %ld", &number) == 1) {
    spring = number;
  } else if (sscanf(line, "hear %ld", &number) == 1) {
    heard = number != 0;
  } else if (sscanf(line, "stray %ld", &number) == 1) {
    settle(avr->cycle);
    stray = (double)number;
  } else if (sscanf(line, "leak %ld", &number) == 1) {
    settle(avr->cycle);
    leak_ohms = (double)number * 1000;
  } else if (sscanf(line, "weld %ld", &number) == 1) {
    welded = (int)number;
  } else if (sscanf(line, "cut %ld", &number) == 1) {
    open_one = (int)number;
  } else if (strcmp(line, "mend") == 0) {
    welded = open_one = -1;
    stray = 30;
    leak_ohms = 1e9;
  } else {
    return false;
  }
  return true;
}
