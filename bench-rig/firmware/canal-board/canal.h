/* The canal board without its hardware: what a scene means to it, and how it follows the stage. */
#ifndef CANAL_H
#define CANAL_H

#include <stdbool.h>
#include <stdint.h>

#include "ladder.h"

/* Bits 13 and 14 of a word close the relays of two capacitors across the ladder. */
#define CANAL_CAPACITORS 2
#define CANAL_CAPACITOR_BIT LADDER_RESISTORS

/* What is known of one board only; kept in its EEPROM, from the calibration. */
struct canal_calibration {
  char serial_number[16];
  int32_t home_microns;       /* tip to foramen with the stage at its home switch */
  uint16_t step_nanometres;   /* of the stage encoder */
  uint32_t reference_deciohms; /* between supply and ladder, at most 262 kohm */
  struct ladder ladder;
  uint16_t capacitor_tens_of_picofarads[CANAL_CAPACITORS]; /* across the ladder; 0 where there is none */
};

/* A sum of 16 samples of the converter. */
struct canal_sample {
  uint16_t sum;
  uint32_t sequence;
  int64_t at_ns; /* its middle, by the board's clock */
};

extern struct canal_calibration canal_calibration;

/* Puts the ladder where the stage stands. To be called at least every ms, interrupts allowed. */
void canal_follow(void);

/* What the hardware does for it. */
int64_t hw_clock_ns(void);
void hw_word(uint16_t word);       /* shifts a word into the relay drivers */
void hw_excite(bool on);           /* supply to the reference resistor */
int32_t hw_steps(void);            /* of the stage, since home */
bool hw_homed(void);
void hw_sample(struct canal_sample *sample); /* the newest */
void hw_settle(void);              /* waits until relays and converter have settled */

#endif
