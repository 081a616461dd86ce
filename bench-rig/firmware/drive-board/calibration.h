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
    .stage = {.step_nanometres = 2500, /* a lead of 1 mm, 400 half steps to the turn */
              .fastest = 4000,         /* 10 mm/s */
              .seek = 2000,            /* 5 mm/s */
              .slow = 400,             /* 1 mm/s */
              .ramp = 20000,           /* 50 mm/s² */
              .play_steps = 40,        /* 0.1 mm */
              .travel_steps = 15200}}; /* 38 mm */

#endif
