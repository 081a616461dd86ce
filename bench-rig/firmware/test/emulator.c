/*
 * Runs the canal board's real binary in an instruction-level emulator, in real time, with a
 * pseudo-terminal at its UART and a model of the relays, the ladder and the stage at its pins.
 *
 * A test program of its own and never shipped: it links libsimavr, which is under GPL-3-or-later.
 *
 *   emulator canal-board.elf        says on its output, one to a line:
 *     port NAME                     the serial port to open
 *     word XXXX                     what the relays do now, as a word of the ladder; 0000 is open
 *     stage N                       a move has ended; steps since the start
 *   and takes on its input:
 *     pace US     a step of the stage takes so many µs from now on; 500 until told
 *     move N      moves the stage by N encoder steps
 *     home 0|1    the stage leaves or reaches its home switch
 *     weld K      the contact of relay K stays closed
 *     mend        all contacts move again
 *     reset       resets the controller
 *     wait MS     its time stands still, stage and all, once nobody has written to the port for so
 *                 many ms: then a test does not depend on how busy the machine is; 0 is never
 *   It ends when its input ends.
 */
#define _GNU_SOURCE
#include <fcntl.h>
#include <poll.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

#include <avr_adc.h>
#include <avr_ioport.h>
#include <avr_spi.h>
#include <avr_uart.h>
#include <sim_avr.h>
#include <sim_elf.h>
#include <sim_irq.h>

#define HERTZ 14745600
#define SLICE_CYCLES (HERTZ / 10000)
#define FOLLOW_CYCLES (HERTZ / 400)
#define SUPPLY_MILLIVOLTS 5000
#define REFERENCE_OHMS 10000.0
#define NOISE_MILLIVOLTS 5 /* peak to peak, one step of the converter: what lets a sum see finer (assumed) */
#define RESISTORS 13

/* As soldered, so not quite what the board believes: nominal values and 1 %, alternating. */
static const double OHMS[RESISTORS] = {10.1,   19.8,   40.6,   79.8,   163.6,   320.8,   640.3,
                                       1197.9, 2393.7, 4593.6, 9180.9, 17622.0, 35148.0};
#define BASE_OHMS 100.0

static avr_t *avr;
static int port;
static bool may_send = true;
static uint16_t shifted, latched, relays;
static bool latch, drivers_off = true, drivers_output, excite;
static int welded = -1;
static long steps, wanted;
static bool moving;
static avr_cycle_count_t next_step, step_cycles = HERTZ / 2000;
static avr_cycle_count_t patience, heard;
static avr_irq_t *pins_d, *adc, *uart_in;

static void relays_move(void) {
  uint16_t now = drivers_output && !drivers_off ? latched : 0;
  if (now != relays) {
    relays = now;
    printf("word %04X\n", relays);
    fflush(stdout);
  }
}

static double ladder_ohms(void) {
  double sum = BASE_OHMS;
  for (int k = 0; k < RESISTORS; k++) {
    sum += relays >> k & 1 || k == welded ? 0 : OHMS[k];
  }
  return sum;
}

static void on_spi(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  shifted = (uint16_t)(shifted << 8 | (value & 0xFF));
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

static void on_excite(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  excite = value;
}

static void on_convert(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)value, (void)unused;
  static uint32_t random = 1;
  double volts = 0;
  if (excite) {
    double ohms = ladder_ohms();
    volts = relays & 0x8000 ? SUPPLY_MILLIVOLTS * ohms / (ohms + REFERENCE_OHMS) : SUPPLY_MILLIVOLTS;
  }
  random = random * 1664525 + 1013904223;
  volts += (random >> 16) % 1000 * NOISE_MILLIVOLTS / 1000.0;
  avr_raise_irq(adc + ADC_IRQ_ADC0, (uint32_t)volts);
}

static void on_uart(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  uint8_t byte = (uint8_t)value;
  if (write(port, &byte, 1) != 1) {
    fprintf(stderr, "nobody reads the port: a byte is lost\n");
  }
}

static void on_xon(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)value, (void)unused;
  may_send = true;
}

static void on_xoff(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)value, (void)unused;
  may_send = false;
}

/* Drives an input from outside, against the pull-up that the firmware may switch on later. */
static void drive(unsigned pin, bool high) {
  static avr_ioport_external_t outside = {.name = 'D'};
  outside.mask |= 1u << pin;
  outside.value = (outside.value & ~(1u << pin)) | (unsigned)high << pin;
  avr_ioctl(avr, AVR_IOCTL_IOPORT_SET_EXTERNAL('D'), &outside);
  avr_raise_irq(pins_d + pin, high);
}

static void encoder_pins(void) {
  long place = steps & 3;
  drive(2, place == 1 || place == 2);
  drive(3, place == 2 || place == 3);
}

/* A move has ended when the board has had time to follow the last step. */
static void stage(void) {
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

static void no_sleep(avr_t *unused, avr_cycle_count_t cycles) { (void)unused, (void)cycles; }

static void connect(void) {
  uint32_t flags = 0;
  avr_irq_t *uart = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), 0);
  avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
  uart_in = uart + UART_IRQ_INPUT;
  avr_irq_register_notify(uart + UART_IRQ_OUTPUT, on_uart, NULL);
  avr_irq_register_notify(uart + UART_IRQ_OUT_XON, on_xon, NULL);
  avr_irq_register_notify(uart + UART_IRQ_OUT_XOFF, on_xoff, NULL);
  avr_irq_t *pins_b = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), 0);
  pins_d = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), 0);
  avr_irq_register_notify(pins_b + 0, on_excite, NULL);
  avr_irq_register_notify(pins_b + 1, on_latch, NULL);
  avr_irq_register_notify(pins_d + 5, on_drivers, NULL);
  avr_irq_register_notify(pins_d + IOPORT_IRQ_DIRECTION_ALL, on_direction_d, NULL);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(0), SPI_IRQ_OUTPUT), on_spi,
                          NULL);
  adc = avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, 0);
  avr_irq_register_notify(adc + ADC_IRQ_OUT_TRIGGER, on_convert, NULL);
}

static void obey(const char *line) {
  long number = 0;
  if (sscanf(line, "move %ld", &number) == 1) {
    wanted += number;
    moving = true;
  } else if (sscanf(line, "pace %ld", &number) == 1) {
    step_cycles = (avr_cycle_count_t)number * (HERTZ / 100000) / 10;
  } else if (sscanf(line, "wait %ld", &number) == 1) {
    patience = (avr_cycle_count_t)number * (HERTZ / 1000);
  } else if (sscanf(line, "home %ld", &number) == 1) {
    drive(4, number != 0);
  } else if (sscanf(line, "weld %ld", &number) == 1) {
    welded = (int)number;
  } else if (strcmp(line, "mend") == 0) {
    welded = -1;
  } else if (strcmp(line, "reset") == 0) {
    drivers_output = false;
    relays_move();
    avr_reset(avr);
    encoder_pins();
  } else {
    fprintf(stderr, "unknown: %s\n", line);
  }
}

/* False when the input has ended. */
static bool listen(int timeout_us) {
  static char line[64];
  static size_t length;
  struct pollfd input = {STDIN_FILENO, POLLIN, 0};
  struct timespec timeout = {0, timeout_us * 1000L};
  if (ppoll(&input, 1, &timeout, NULL) <= 0) {
    return true;
  }
  char byte = 0;
  while (read(STDIN_FILENO, &byte, 1) == 1) {
    if (byte == '\n') {
      line[length] = 0;
      length = 0;
      obey(line);
      return true;
    }
    if (length < sizeof line - 1) {
      line[length++] = byte;
    }
  }
  return false;
}

static void feed(void) {
  uint8_t byte;
  for (int i = 0; may_send && i < 8 && read(port, &byte, 1) == 1; i++) {
    avr_raise_irq(uart_in, byte);
    heard = avr->cycle;
  }
}

static int64_t wall_ns(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return now.tv_sec * 1000000000LL + now.tv_nsec;
}

static int open_port(void) {
  struct termios raw;
  int master = posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
  if (master < 0 || grantpt(master) || unlockpt(master)) {
    perror("pseudo-terminal");
    exit(1);
  }
  /* Kept open, or reading fails as long as no program has the port open. */
  int slave = open(ptsname(master), O_RDWR | O_NOCTTY);
  tcgetattr(slave, &raw);
  cfmakeraw(&raw);
  tcsetattr(slave, TCSANOW, &raw);
  printf("port %s\n", ptsname(master));
  fflush(stdout);
  return master;
}

int main(int count, char **arguments) {
  elf_firmware_t firmware = {0};
  if (count != 2 || elf_read_firmware(arguments[1], &firmware)) {
    fprintf(stderr, "usage: %s FIRMWARE.elf\n", arguments[0]);
    return 2;
  }
  avr = avr_make_mcu_by_name("atmega328p");
  avr_init(avr);
  avr_load_firmware(avr, &firmware);
  avr->frequency = HERTZ;
  avr->vcc = avr->avcc = avr->aref = SUPPLY_MILLIVOLTS;
  avr->sleep = no_sleep;
  connect();
  encoder_pins();
  drive(4, false);
  port = open_port();
  int64_t start = wall_ns();
  avr_cycle_count_t zero = avr->cycle;
  for (;;) {
    int64_t behind =
        (int64_t)((double)(wall_ns() - start) * HERTZ / 1e9) - (int64_t)(avr->cycle - zero);
    bool waiting = behind <= 0 || (patience && avr->cycle > heard + patience);
    if (!listen(waiting ? 200 : 0)) {
      return 0;
    }
    if (behind > HERTZ / 20) { /* this machine is too slow: the board's time goes slower too */
      start = wall_ns();
      zero = avr->cycle;
    }
    feed();
    if (waiting) {
      continue;
    }
    for (avr_cycle_count_t end = avr->cycle + SLICE_CYCLES; avr->cycle < end;) {
      stage();
      int state = avr_run(avr);
      if (state == cpu_Done || state == cpu_Crashed) {
        fprintf(stderr, "the controller has stopped, state %d\n", state);
        return 1;
      }
    }
  }
}
