/* The canal board without its hardware: it applies a scene and follows the stage. */
#ifndef CANAL_H
#define CANAL_H

#include <stdbool.h>
#include <stdint.h>

#include "bank.h"
#include "ladder.h"
#include "tooth.h"

/* Data of one board, from the calibration; stored in its EEPROM. */
struct canal_calibration {
  char serial_number[16];
  int32_t home_microns;       /* tip to foramen with the stage at its home switch */
  uint16_t step_nanometres;   /* of the stage encoder */
  uint32_t reference_deciohms; /* between supply and ladder, at most 262 kohm */
  struct ladder ladder;
  struct bank bank; /* across the ladder */
  uint32_t tooth_check_deciohms;  /* known resistor of the tooth input; 0: no tooth input */
  uint32_t tooth_source_deciohms; /* 47 kohm to the drive beside 100 kohm */
};

/* A sum of 16 samples of the converter. */
struct canal_sample {
  uint16_t sum;
  uint32_t sequence;
  int64_t at_ns; /* its middle, by the board's clock */
};

extern struct canal_calibration canal_calibration;

/* Sets the ladder for the place of the stage. Call it at least every ms, interrupts allowed. */
void canal_follow(void);

/* Measures one frequency of a tooth, where one is mounted. Call it between requests: it takes up to 11 ms. */
void canal_measure(void);

/* What the tooth input is connected to. */
enum tooth_input { TOOTH_OFF, TOOTH_NOTHING, TOOTH_CHECK, TOOTH_TOOTH };

/* Functions of the hardware. */
int64_t hw_clock_ns(void);
void hw_word(uint16_t word, uint8_t bank); /* shifts a word and a third byte into the relay drivers */
void hw_excite(bool on);           /* supply to the reference resistor */
int32_t hw_steps(void);            /* of the stage, since home */
bool hw_homed(void);
void hw_sample(struct canal_sample *sample); /* the newest */
void hw_settle(void);              /* waits until relays and converter have settled */

/* Releases the reference resistor for some ns, then converts once: steps of the converter. On return
 * the argument holds the time that really passed before the sample. */
uint16_t hw_decay(uint32_t *nanoseconds);

/* Connects the tooth input; off: no drive, and the converter belongs to the ladder again. */
void hw_tooth(enum tooth_input input);

/* Drives a wave and samples it once at every phase; false when it took too long. */
bool hw_tooth_slice(const struct tooth_wave *wave, struct tooth_sums *sums);

#endif
