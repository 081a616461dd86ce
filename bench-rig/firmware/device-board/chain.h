/*
 * The chain: five resistances in series, four of them with capacitors across: one fixed, two switched.
 * Every switched resistor is bridged by a relay. Bit k of a code puts resistor k in line, so its relay is
 * open. No code opens or shortens the chain. The two highest bits of a branch are its capacitors.
 */
#ifndef CHAIN_H
#define CHAIN_H

#include <stdbool.h>
#include <stdint.h>

#define CHAIN_BRANCHES 4 /* segments with a capacitor */
#define CHAIN_RELAYS 14  /* of each, for its resistors */
#define CHAIN_CAPACITORS 3 /* of each, the fixed one first */
#define CHAIN_FINE 9     /* of the first segment: fine ladder, then steps, then ranges */
#define CHAIN_STEPS 20
#define CHAIN_RANGES 3
#define CHAIN_FIRST (CHAIN_FINE + CHAIN_STEPS + CHAIN_RANGES)
#define CHAIN_PLACES 30
#define CHAIN_NEAR_MICRONS 3000   /* from here down the ranges stay as they are */

/* Parts of one board, measured; in tenths of an ohm. On the board they stay in the EEPROM: all of it is
 * read by chain.c only. */
struct chain {
  uint32_t first_base;
  uint32_t first[CHAIN_FIRST];
  uint32_t base[CHAIN_BRANCHES];
  uint32_t part[CHAIN_BRANCHES][CHAIN_RELAYS];
  uint32_t picofarads[CHAIN_BRANCHES][CHAIN_CAPACITORS];
};

struct chain_codes {
  uint32_t first;
  uint16_t of[CHAIN_BRANCHES];
};

struct chain_place {
  int16_t microns; /* from the foramen, ascending */
  uint16_t ohms[CHAIN_BRANCHES + 1];
};

/* Resistances by position. */
struct chain_table {
  uint8_t count;
  uint8_t capacitors; /* two bits for each branch */
  uint16_t near_ohms; /* the most that the first segment must make near the foramen */
  int32_t below;      /* what the first segment makes without its ranges, known from the first place on */
  struct chain_place place[CHAIN_PLACES];
};

/* Resistance of a segment at a code; 0 is the first segment. */
uint32_t chain_deciohms(const struct chain *chain, uint8_t segment, uint32_t code);

/* Adds a place; false without room, when it is not above the last, when its capacitors are not those of
 * the last, or when a segment cannot make it. */
bool chain_place(struct chain_table *table, const struct chain *chain, int32_t microns,
                 const int32_t *ohms, uint8_t count, uint16_t capacitors);

/* A capacitor of a branch, pF. */
uint32_t chain_picofarads(const struct chain *chain, uint8_t branch, uint8_t which);

/* The codes of a place are worked out in parts, so that none takes long: begin, each branch, ranges,
 * first. */
struct chain_work {
  const struct chain_place *a, *b;
  int16_t part, whole;
  int32_t rest;   /* for the first segment, tenths of an ohm */
  int32_t needed; /* for its ranges */
  int32_t left;   /* of the branch or segment at work */
  struct chain_codes codes;
};

/* False above the last place: the circuit is open there. */
bool chain_begin(const struct chain *chain, const struct chain_table *table, int32_t microns,
                 struct chain_work *work);
void chain_branch(const struct chain *chain, const struct chain_table *table, struct chain_work *work,
                  uint8_t branch);
void chain_ranges(const struct chain *chain, const struct chain_table *table, struct chain_work *work);
void chain_first(const struct chain *chain, struct chain_work *work);

/* Codes while the relays that open have opened and those that close have not closed yet. */
struct chain_codes chain_opening(const struct chain_codes *from, const struct chain_codes *to);

bool chain_same(const struct chain_codes *a, const struct chain_codes *b);

#endif
