/*
 * The bank: capacitors across the ladder, each with a relay in line. Bit k of a code closes relay k.
 * The first eight hang on a third register, the last two on bits 13 and 14 of the ladder's word.
 */
#ifndef BANK_H
#define BANK_H

#include <stdbool.h>
#include <stdint.h>

#define BANK_CAPACITORS 10
#define BANK_ON_REGISTER 8
#define BANK_REST_MICROSECONDS 60 /* the decay that a capacitor is measured with takes about this long */

struct bank {
  uint16_t picofarads[BANK_CAPACITORS]; /* ascending, measured; 0 where none is fitted */
};

/* The code with a capacitance near the target: takes each part that still fits, greatest first. */
uint16_t bank_code(const struct bank *bank, uint32_t target_picofarads);

/* The capacitance of a code. */
uint32_t bank_picofarads(const struct bank *bank, uint16_t code);

/* Whether the bank comes within 5 % or 60 pF of a target: half of its gap, and a margin (assumed). */
bool bank_makes(const struct bank *bank, uint32_t target_picofarads);

/* The capacitance that gives this decay of the converter's steps in this time across a resistance. */
uint32_t bank_decayed_picofarads(uint16_t steps_before, uint16_t steps_after, uint32_t nanoseconds,
                                 uint32_t ohms);

/* Whether this can be a capacitor of the bank: within 30 % and 25 pF, the resolution of a 10-bit
 * converter, its own charge and some µs (assumed). */
bool bank_plausible(uint32_t picofarads, uint32_t measured_picofarads);

#endif
