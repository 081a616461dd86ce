/*
 * Data of one board. Measure, write it here, make and flash: it goes into the EEPROM.
 * These are the nominal values of the parts list.
 */
#ifndef CALIBRATION_H
#define CALIBRATION_H

#include <avr/eeprom.h>

#include "canal.h"

static const struct canal_calibration EEMEM stored = {
    .serial_number = "C-0001",
    .home_microns = 25000,           /* from the foramen, with the stage at its home switch */
    .step_nanometres = 5000,         /* of the stage encoder */
    .reference_deciohms = 100000,     /* of the self-measure */
    .ladder = {.deciohms = {100, 200, 402, 806, 1620, 3240, 6340, 12100, 23700, 46400, 90900,
                            178000, 348000},
               .base_deciohms = 1000},
    .bank = {.picofarads = {68, 150, 220, 470, 680, 1500, 2200, 4700, 10000, 22000}}, /* 0: none */
    .tooth_check_deciohms = 100000,   /* of the tooth input; 0 where it is not fitted */
    .tooth_source_deciohms = 319700};

#endif
