/*
 * Data of one board. Measure, write it here, make and flash: it goes into the EEPROM.
 * These are the nominal values of the parts list.
 */
#ifndef CALIBRATION_H
#define CALIBRATION_H

#include <avr/eeprom.h>

#include "device.h"

static const struct device_calibration EEMEM stored = {
    .serial_number = "W-0001",
    .home_microns = 25000,      /* from the foramen, with the shank scale at its home switch */
    .step_nanometres = 1000,    /* of the shank scale */
    .force_micronewtons = 5000, /* of a step of the converter: 5 N at full scale */
    .force_zero = 0,
    .heard_above = 200,         /* 1 V behind the detector of the microphone */
    .reference_deciohms = 100000,
    .hold_picofarads = 1000};

const struct chain EEMEM device_chain = {
    .first_base = 7500,
    .first = {100,  200,  402,  806,  1620, 1330, 1330, 1330, 1330, 2000, 2000, 2000,
                        2000, 3160, 3160, 3160, 3160, 3160, 3160, 3160, 3160, 3160, 17800, 17800},
    .base = {6800, 5110, 15800, 4530},
    .part = {{267, 523, 1020, 2000, 3920, 7680, 15000, 29400},
                       {267, 523, 1020, 2000, 3920, 7680, 15000, 29400},
                       {133, 261, 511, 1000, 1960, 3830, 7500, 15000},
                       {55, 107, 210, 412, 806, 1580, 3090, 6040}},
    .picofarads = {680000, 220000, 33000, 15000}};

#endif
