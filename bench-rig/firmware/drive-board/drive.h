/* The drive board without its hardware: a motor, a stage, a stop line. */
#ifndef DRIVE_H
#define DRIVE_H

#include <stdbool.h>
#include <stdint.h>

#include "feed.h"
#include "motion.h"
#include "motor.h"

/* Data of one board, from the calibration; stored in its EEPROM. */
struct drive_calibration {
  char serial_number[16];
  struct motor_calibration motor;
  struct motion_calibration stage;
};

extern struct drive_calibration drive_calibration;
extern struct motion drive_stage;

/* Call it 960 times a second: motor loop, stop line, silence of the host. */
void drive_tick(void);

/* Call it in each tick of the stage: steps of the stage motor, forward or back. */
int8_t drive_stage_tick(const struct motion_switches *open, const struct feed_lines *lines);

/* The emergency-stop line was open and has not been cleared since. */
bool drive_stopped(void);

/* Functions of the hardware. */
int64_t hw_clock_ns(void);
void hw_motor(uint8_t drive, uint8_t power); /* driver pins; OFF also opens the enable relay */
void hw_alive(void);                         /* changes the pin that feeds the monostable */
void hw_encoder(int32_t *steps, uint32_t *step_counts, uint32_t *now_counts);
uint32_t hw_counts_per_second(void);
uint16_t hw_current(void);                   /* a sum of 16 samples of 10 bits */
bool hw_stop_line_open(void);
bool hw_reset_pressed(void);
void hw_switches(struct motion_switches *open);
void hw_lock(bool locked);                   /* keeps the tick of the stage out during a change */

#endif
