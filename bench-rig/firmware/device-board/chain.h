/*
 * The chain: five resistances in series, four of them with a fixed capacitor across; every switched
 * resistor is bridged by a relay. Bit k of a code puts resistor k in line, so its relay is open. No
 * code opens or shortens the chain.
 */
#ifndef CHAIN_H
#define CHAIN_H

#include <stdbool.h>
#include <stdint.h>

#define CHAIN_BRANCHES 4 /* segments with a capacitor */
#define CHAIN_RELAYS 8   /* of each */
#define CHAIN_FINE 5     /* of the first segment: fine ladder, then steps, then ranges */
#define CHAIN_STEPS 17
#define CHAIN_RANGES 2
#define CHAIN_FIRST (CHAIN_FINE + CHAIN_STEPS + CHAIN_RANGES)
#define CHAIN_PLACES 30

/* Parts of one board, measured; in tenths of an ohm. On the board they stay in the EEPROM: all of it is
 * read by chain.c only. */
struct chain {
  uint16_t first_base;
  uint16_t first[CHAIN_FIRST];
  uint16_t base[CHAIN_BRANCHES];
  uint16_t part[CHAIN_BRANCHES][CHAIN_RELAYS];
  uint32_t picofarads[CHAIN_BRANCHES];
};

struct chain_codes {
  uint32_t first;
  uint8_t of[CHAIN_BRANCHES];
};

struct chain_place {
  int16_t microns; /* from the foramen, ascending */
  uint16_t ohms;   /* of the first segment */
  uint8_t of[CHAIN_BRANCHES]; /* share of the reach of a segment, 255: all of it */
};

/* Resistances by position. */
struct chain_table {
  uint8_t count;
  uint16_t reach[CHAIN_BRANCHES]; /* of the chain, known from the first place on */
  int32_t below;                  /* what the first segment makes without its ranges */
  struct chain_place place[CHAIN_PLACES];
};

/* The greatest resistance that a segment adds to its base, tenths of an ohm. */
uint16_t chain_reach(const struct chain *chain, uint8_t branch);

/* Resistance of a segment at a code; 0 is the first segment. */
uint32_t chain_deciohms(const struct chain *chain, uint8_t segment, uint32_t code);

/* Adds a place; false without room, when it is not above the last, or when a segment cannot make it. */
bool chain_place(struct chain_table *table, const struct chain *chain, int32_t microns,
                 const int32_t *ohms, uint8_t count);

/* Capacitor of a branch, pF. */
uint32_t chain_picofarads(const struct chain *chain, uint8_t branch);

/* The codes of a place are worked out in parts, so that none takes long: begin, each branch, first. */
struct chain_work {
  const struct chain_place *a, *b;
  int16_t part, whole;
  int32_t rest; /* for the first segment, tenths of an ohm */
  struct chain_codes codes;
};

/* False above the last place: the circuit is open there. */
bool chain_begin(const struct chain *chain, const struct chain_table *table, int32_t microns,
                 struct chain_work *work);
void chain_branch(const struct chain *chain, const struct chain_table *table, struct chain_work *work,
                  uint8_t branch);
void chain_first(const struct chain *chain, const struct chain_table *table, struct chain_work *work);

/* Codes while the relays that open have opened and those that close have not closed yet. */
struct chain_codes chain_opening(const struct chain_codes *from, const struct chain_codes *to);

bool chain_same(const struct chain_codes *a, const struct chain_codes *b);

#endif
