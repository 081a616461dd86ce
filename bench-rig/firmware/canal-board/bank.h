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
#define BANK_REST_MICROSECONDS 60 /* the decay that a capacitor is measured with takes about so long */

struct bank {
  uint16_t picofarads[BANK_CAPACITORS]; /* ascending, measured; 0 where none is fitted */
};

/* The code whose capacitance is near to a target: from the greatest down whatever still fits. */
uint16_t bank_code(const struct bank *bank, uint32_t target_picofarads);

/* The capacitance of a code. */
uint32_t bank_picofarads(const struct bank *bank, uint16_t code);

/* Whether the bank comes within 5 % or 60 pF of a target: half of its gap, and some (assumed). */
bool bank_makes(const struct bank *bank, uint32_t target_picofarads);

/* The capacitance that, across a resistance, lets the converter's steps fall so far in so long. */
uint32_t bank_decayed_picofarads(uint16_t steps_before, uint16_t steps_after, uint32_t nanoseconds,
                                 uint32_t ohms);

/* Whether that may be a capacitor of the bank: to 30 % and 25 pF, what a converter of 10 bits, a
 * charge of its own and some µs can tell (assumed). */
bool bank_plausible(uint32_t picofarads, uint32_t measured_picofarads);

#endif
