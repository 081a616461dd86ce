/*
 * Common parts of every board on an ATmega328P at 14.7456 MHz: the line at 921 600 bit/s (exact with
 * this crystal), the clock, the hash of the flash, and the loop that serves requests. It uses the UART
 * and timer 1.
 */
#ifndef SW_AVR_H
#define SW_AVR_H

#include <stdbool.h>
#include <stdint.h>

/* The timer counts at F_CPU / 8 = 1.8432 MHz: 78125 / 144 = 542 + 77 / 144 ns each. Without a division, which
 * a tick has no time for; 1 ns off at most in 16 bits of counts. */
#define SW_NS_OF_COUNTS(counts) ((counts) * 542UL + ((counts) * 35043UL >> 16))
#define SW_COUNTS_PER_SECOND 1843200UL

/* A moment that costs little time to take: last overflow of the timer, and its count since. */
struct sw_moment {
  int64_t full_ns;
  uint16_t counts;
};

/* With interrupts off. */
void sw_take_moment(struct sw_moment *now);
int64_t sw_moment_ns(const struct sw_moment *moment);
int64_t sw_clock_ns(void);

/* Counts since the start, around every 38 minutes; with interrupts off. */
uint32_t sw_counts(void);

/* CRC-32C of the flash that is in use, as hexadecimal digits, once sw_avr_start has run. */

/* Turns the watchdog off as early as possible: after a reset by the watchdog it is still on. */
void sw_avr_reset(void);

/* Starts line, clock and watchdog, then interrupts. */
void sw_avr_start(void);

/* Serves requests forever; sleeps until the next interrupt when there is nothing to do. When an
 * interrupt of the board has set sw_tick, it calls sw_plant_tick and the watchdog of the link. */
extern volatile bool sw_tick;
void sw_plant_tick(void);
void sw_avr_serve(void) __attribute__((noreturn));

#endif
