/*
 * The ladder: resistors in series, each bridged by the contact of a relay, behind a main contact.
 * Bit k of a word closes relay k and so takes resistor k out; with all relays at rest the circuit
 * is open.
 */
#ifndef LADDER_H
#define LADDER_H

#include <stdbool.h>
#include <stdint.h>

#define LADDER_RESISTORS 13
#define LADDER_ALL ((1u << LADDER_RESISTORS) - 1)
#define LADDER_MAIN 0x8000u
#define LADDER_OPEN 0u

struct ladder {
  uint32_t deciohms[LADDER_RESISTORS]; /* ascending; measured against a reference meter */
  uint32_t base_deciohms;              /* remaining with every resistor bridged, contacts included */
};

/* The word whose resistance is nearest to a target. */
uint16_t ladder_word(const struct ladder *ladder, uint32_t target_deciohms);

/* The resistance that a word makes; UINT32_MAX when the circuit is open. */
uint32_t ladder_deciohms(const struct ladder *ladder, uint16_t word);

/* Resistance in mΩ from a sum of 16 samples of the 10-bit converter: reference resistor to the supply,
 * ladder to ground. An open circuit gives INT32_MAX, 2.1 Mohm. */
uint32_t ladder_measured_milliohms(uint32_t reference_deciohms, uint16_t sum);

/* Whether a measured resistance can be that of a word: within 3 % and 60 ohm, the resolution of the
 * converter and its reference (computed: one step of 10 bits at the worst place, and 1 % parts). */
bool ladder_plausible(uint32_t deciohms, uint32_t measured_milliohms);

#endif
