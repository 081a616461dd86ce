/*
 * Runs a board's real binary in an instruction-level emulator, in real time, with a pseudo-terminal
 * at its UART and a model of what is wired to its pins: world_canal.c or world_drive.c.
 *
 * A test program of its own and never shipped: it links libsimavr, which is under GPL-3-or-later.
 *
 * Two boards that feed a device share one program and one time: pair.c holds two copies of this file.
 *
 *   emulator BOARD.elf        says on its output, one to a line:
 *     port NAME               the serial port to open, then what its world says
 *   and takes on its input:
 *     reset       resets the controller
 *     wait MS     its time stands still, world and all, once nobody has written to the port for so
 *                 many ms: then a test does not depend on how busy the machine is; 0 is never
 *     after MS    says "after" when so many ms of its time have gone by
 *     zero        its time is 0 now, and until the next "wait" goes only up to what "until" says, and
 *                 while the board hears and answers: a test then has one time with it
 *     until MS    says "after" at that time, or at once if it is past
 *     speed N     its time goes N times as fast as ours, if this machine can
 *   and what its world takes. It ends when its input ends.
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

#include <avr_extint.h>
#include <avr_ioport.h>
#include <avr_uart.h>
#include <sim_elf.h>
#include <sim_irq.h>

#include "world.h"

#define SLICE_CYCLES (HERTZ / 10000)
/* A silence of many bytes: no more of the answer will come. */
#define ANSWERED_CYCLES (HERTZ / 1000)

#ifndef PORT_WORD
#define PORT_WORD "port"
#endif

avr_t *avr;

static int port;
static bool may_send = true;
static bool told; /* its time advances only on request */
static avr_cycle_count_t patience, heard, spoken, origin;
static avr_irq_t *uart_in;
static long times = 1;
static avr_cycle_count_t say_at;

static void on_uart(avr_irq_t *irq, uint32_t value, void *unused) {
  (void)irq, (void)unused;
  uint8_t byte = (uint8_t)value;
  spoken = avr->cycle;
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

void world_drive(char name, unsigned pin, bool high) {
  static avr_ioport_external_t outside[3] = {{.name = 'B'}, {.name = 'C'}, {.name = 'D'}};
  avr_ioport_external_t *of = &outside[name - 'B'];
  of->mask |= 1u << pin;
  of->value = (of->value & ~(1u << pin)) | (unsigned)high << pin;
  avr_ioctl(avr, AVR_IOCTL_IOPORT_SET_EXTERNAL(name), of);
  avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(name), (int)pin), high);
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
}

void emulator_obey(const char *line) {
  long number = 0;
  if (sscanf(line, "wait %ld", &number) == 1) {
    patience = (avr_cycle_count_t)number * (HERTZ / 1000);
    told = false;
  } else if (sscanf(line, "after %ld", &number) == 1) {
    say_at = avr->cycle + (avr_cycle_count_t)number * (HERTZ / 1000);
  } else if (strcmp(line, "zero") == 0) {
    origin = avr->cycle;
    told = true;
  } else if (sscanf(line, "until %ld", &number) == 1) {
    say_at = origin + (avr_cycle_count_t)number * (HERTZ / 1000);
  } else if (sscanf(line, "speed %ld", &number) == 1) {
    times = number;
  } else if (strcmp(line, "reset") == 0) {
    world_reset();
    avr_reset(avr);
    world_reset_done();
  } else if (!world_obey(line)) {
    fprintf(stderr, "unknown: %s\n", line);
  }
}

#ifndef PAIRED
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
      emulator_obey(line);
      return true;
    }
    if (length < sizeof line - 1) {
      line[length++] = byte;
    }
  }
  return false;
}

#endif

void emulator_feed(void) {
  uint8_t byte;
  for (int i = 0; may_send && i < 8 && read(port, &byte, 1) == 1; i++) {
    avr_raise_irq(uart_in, byte);
    heard = avr->cycle;
  }
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
  printf(PORT_WORD " %s\n", ptsname(master));
  fflush(stdout);
  return master;
}

/* Nobody has anything to say to the board, and it has nothing more to say. */
bool emulator_silent(void) {
  bool answered = told && spoken > heard && avr->cycle > spoken + ANSWERED_CYCLES;
  return answered || (patience && avr->cycle > heard + patience);
}

void emulator_begin(const char *binary) {
  static elf_firmware_t firmware;
  if (elf_read_firmware(binary, &firmware)) {
    fprintf(stderr, "no binary: %s\n", binary);
    exit(2);
  }
  avr = avr_make_mcu_by_name("atmega328p");
  avr_init(avr);
  avr_load_firmware(avr, &firmware);
  avr->frequency = HERTZ;
  avr->vcc = avr->avcc = avr->aref = SUPPLY_MILLIVOLTS;
  avr->sleep = no_sleep;
  /* No firmware here is triggered by a level; looking for one at every instruction takes half the time. */
  avr_extint_set_strict_lvl_trig(avr, EXTINT_IRQ_OUT_INT0, 0);
  avr_extint_set_strict_lvl_trig(avr, EXTINT_IRQ_OUT_INT1, 0);
  connect();
  world_start();
  port = open_port();
}

bool emulator_due(void) {
  if (say_at && avr->cycle >= say_at) {
    say_at = 0;
    return true;
  }
  return false;
}

bool emulator_asked(void) { return say_at != 0; }

long emulator_speed(void) { return times; }

long emulator_microseconds(void) {
  return (long)((double)(int64_t)(avr->cycle - origin) * 1e6 / HERTZ);
}

void emulator_run(avr_cycle_count_t until) {
  while (avr->cycle < until) {
    world_run();
    int state = avr_run(avr);
    if (state == cpu_Done || state == cpu_Crashed) {
      fprintf(stderr, "the controller has stopped, state %d\n", state);
      exit(1);
    }
  }
}

#ifndef PAIRED
static int64_t wall_ns(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return now.tv_sec * 1000000000LL + now.tv_nsec;
}

int main(int count, char **arguments) {
  if (count != 2) {
    fprintf(stderr, "usage: %s FIRMWARE.elf\n", arguments[0]);
    return 2;
  }
  emulator_begin(arguments[1]);
  int64_t start = wall_ns();
  avr_cycle_count_t zero = avr->cycle;
  long paced = times;
  for (;;) {
    if (paced != times) {
      paced = times;
      start = wall_ns();
      zero = avr->cycle;
    }
    int64_t behind = (int64_t)((double)(wall_ns() - start) * (double)paced * HERTZ / 1e9) -
                     (int64_t)(avr->cycle - zero);
    bool waiting = behind <= 0 || (emulator_silent() && !say_at);
    if (!listen(waiting ? 200 : 0)) {
      return 0;
    }
    if (behind > HERTZ / 20) { /* this machine is too slow: the board's time goes slower too */
      start = wall_ns();
      zero = avr->cycle;
    }
    emulator_feed();
    if (emulator_due()) {
      printf("after\n");
      fflush(stdout);
    }
    if (!waiting) {
      emulator_run(avr->cycle + SLICE_CYCLES);
    }
  }
}
#endif
