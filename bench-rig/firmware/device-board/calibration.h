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

/* Tenths of an ohm. The branches have no resistor that is always in line. */
const struct chain EEMEM device_chain = {
    .first_base = 3000,
    .first = {10, 18, 35, 66, 130, 255, 499, 976, 1910, 2210, 2210, 2210, 2210, 2210, 2210, 2210,
              2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 46400,
              90900, 150000},
    .part = {{15, 28, 54, 105, 205, 402, 787, 1540, 3010, 5900, 11800, 23200, 45300, 88700},
             {15, 28, 54, 105, 205, 402, 787, 1540, 3010, 5900, 11800, 23200, 45300, 88700},
             {15, 28, 54, 105, 205, 402, 787, 1540, 3010, 5900, 11800, 23200, 45300, 88700},
             {8, 15, 27, 52, 102, 200, 392, 768, 1500, 2940, 5760, 11500, 22600, 44200}},
    .picofarads = {{330000, 390000, 1200000},
                   {100000, 120000, 390000},
                   {15000, 18000, 56000},
                   {6800, 8200, 27000}}};

#endif
