/*
 * Data of one board. Measure, write it here, make and flash: it goes into the EEPROM.
 * These are the values of the parts list; all are assumed until you have measured yours.
 */
#ifndef CALIBRATION_H
#define CALIBRATION_H

#include <avr/eeprom.h>

#include "drive.h"

static const struct drive_calibration EEMEM stored = {
    .serial_number = "D-0001",
    .motor = {.encoder_steps_per_turn = 64,
              .full_milli_rpm = 1000000,
              .full_scale_milliamps = 5000, /* 1 V per A at a reference of 5 V */
              .idle_milliamps = 100,
              .micro_newton_metres_per_amp = 20000},
    .stage = {.step_nanometres = 625,  /* a lead of 2 mm, 200 steps to the turn, each in 16 */
              .fastest = 32000,        /* 20 mm/s */
              .start = 3200,           /* 2 mm/s: one turn a second */
              .seek = 8000,            /* 5 mm/s */
              .slow = 1600,            /* 1 mm/s */
              .ramp_millimetres = 50,
              .turn_millimetres = 1000,
              .play_steps = 160,       /* 0.1 mm */
              .travel_steps = 60800}}; /* 38 mm */

#endif
