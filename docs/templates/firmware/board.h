/* What the program needs of a board. board.c has it for mps2-an386 and mps2-an500; another board needs
 * another board.c, chip.ld and perhaps start.c. */
#ifndef BOARD_H
#define BOARD_H

#include <stdbool.h>
#include <stdint.h>

#define BOARD_NAME "mps2"
#define BOARD_TICKS_PER_SECOND 25000000u /* board_ticks: 40 ns each */
#define BOARD_WATCHDOG_MS 100u /* a loop that takes longer ends with a reset */
#define BOARD_MOTOR_MS 100u    /* without a new command for so long, the motor goes off */

/* Why the board started. The harness reads it after a reset. */
enum board_cause { BOARD_POWER_ON = 0, BOARD_WATCHDOG = 1, BOARD_FAULT = 2, BOARD_UNKNOWN = 3 };

/* Motor off, then line, clock and watchdog. */
void board_start(void);
enum board_cause board_cause(void);
uint32_t board_starts(void); /* since the power came, from 1 */

bool board_take(uint8_t *byte); /* the next byte of the line; false when there is none */
void board_send(const uint8_t *bytes, uint16_t length);

uint32_t board_ticks(void); /* wraps around */
uint32_t board_ms(void);    /* wraps around */
void board_feed_watchdog(void);
void board_sleep(void); /* until the next interrupt, at most 1 ms */

/* The motor driver. drive as in the output of the controller: 0 off, 1 brake, 2 forward, 3 backward. */
void board_motor(uint8_t drive, int32_t speed_milli_rpm, int32_t torque_limit_micro_newton_metres);

void board_reset(enum board_cause why) __attribute__((noreturn));

/* Interrupts, for start.c. */
void board_watchdog_bites(void);
void board_tick(void);
void board_received(void);

#endif
