#include "chain.h"

#include <string.h>

#ifdef __AVR__
#pragma GCC optimize("O2") /* the tick has 0.5 ms */
#include <avr/io.h>

/* A third of the time of eeprom_read_dword: the tick reads a hundred parts in 4 ms. Nothing writes to the
 * EEPROM, and the main loop reads it only while the tick does not. */
static inline uint8_t eeprom_byte(uint16_t address) {
  EEAR = address;
  EECR |= _BV(EERE);
  return EEDR;
}

__attribute__((always_inline)) static inline uint32_t eeprom_dword(const uint32_t *of) {
  uint16_t at = (uint16_t)of;
  union {
    uint8_t byte[4];
    uint32_t all;
  } part;
  part.byte[0] = eeprom_byte(at);
  part.byte[1] = eeprom_byte(at + 1);
  part.byte[2] = eeprom_byte(at + 2);
  part.byte[3] = eeprom_byte(at + 3);
  return part.all;
}

#define PART(of) eeprom_dword(&(of))
#else
#define PART(of) (of)
#endif

uint32_t chain_deciohms(const struct chain *chain, uint8_t segment, uint32_t code) {
  const uint32_t *part = segment == 0 ? chain->first : chain->part[segment - 1];
  uint32_t sum = segment == 0 ? PART(chain->first_base) : PART(chain->base[segment - 1]);
  for (uint8_t count = segment == 0 ? CHAIN_FIRST : CHAIN_RELAYS; count > 0; count--, part++) {
    sum += code & 1 ? PART(*part) : 0;
    code >>= 1;
  }
  return sum;
}

/* Adds half of the smallest part, then takes each that still fits, greatest first; what is left over
 * stays in rest. */
static uint16_t nearest(const uint32_t *part, uint8_t count, int32_t *rest) {
  uint16_t code = 0;
  int32_t half = (int32_t)PART(part[0]) / 2;
  int32_t left = *rest + half;
  for (uint8_t k = count; k-- > 0;) {
    int32_t ohms = (int32_t)PART(part[k]);
    code = (uint16_t)(code << 1);
    if (ohms <= left) {
      left -= ohms;
      code |= 1;
    }
  }
  *rest = left - half;
  return code;
}

bool chain_place(struct chain_table *table, const struct chain *chain, int32_t microns,
                 const int32_t *ohms, uint8_t count, uint16_t capacitors) {
  struct chain_place *place = &table->place[table->count];
  if (table->count == CHAIN_PLACES || count != CHAIN_BRANCHES + 1 || microns < INT16_MIN ||
      microns > INT16_MAX || capacitors > UINT8_MAX) {
    return false;
  }
  if (table->count > 0 &&
      (microns <= place[-1].microns || capacitors != table->capacitors)) {
    return false;
  }
  if (table->count == 0) {
    table->capacitors = (uint8_t)capacitors;
    table->near_ohms = 0;
    table->below = 0;
    for (uint8_t k = 0; k < CHAIN_FINE + CHAIN_STEPS; k++) {
      table->below += (int32_t)PART(chain->first[k]);
    }
  }
  place->microns = (int16_t)microns;
  for (uint8_t k = 0; k <= CHAIN_BRANCHES; k++) {
    uint32_t most = chain_deciohms(chain, k, UINT32_MAX);
    uint32_t least = chain_deciohms(chain, k, 0);
    if (ohms[k] < 0 || ohms[k] > UINT16_MAX || (uint32_t)ohms[k] * 10 > most + 20 ||
        (uint32_t)ohms[k] * 10 + 20 < least) {
      return false; /* 2 ohm: what rounding may do */
    }
    place->ohms[k] = (uint16_t)ohms[k];
  }
  if (microns <= CHAIN_NEAR_MICRONS && place->ohms[0] > table->near_ohms) {
    table->near_ohms = place->ohms[0];
  }
  table->count++;
  return true;
}

/* Tenths of an ohm, less the base of the segment. */
static int32_t wanted(const struct chain_work *work, uint8_t segment, uint32_t base) {
  int32_t a = (int32_t)(work->a->ohms[segment] * 10L);
  int32_t b = (int32_t)(work->b->ohms[segment] * 10L);
  int32_t fall = b - a;
  a -= (int32_t)base;
  if (work->whole == 0) {
    return a;
  }
  if (fall <= UINT16_MAX && fall >= -(int32_t)UINT16_MAX) { /* times 15 bits: 31 bits */
    return a + fall * work->part / work->whole;
  }
  return a + fall / work->whole * work->part + fall % work->whole * work->part / work->whole;
}

bool chain_begin(const struct chain *chain, const struct chain_table *table, int32_t microns,
                 struct chain_work *work) {
  uint8_t above = 0;
  if (table->count == 0 || microns > table->place[table->count - 1].microns) {
    return false;
  }
  while (table->place[above].microns < microns) {
    above++;
  }
  work->b = &table->place[above];
  work->a = above == 0 ? work->b : work->b - 1;
  work->whole = (int16_t)(work->b->microns - work->a->microns);
  work->part = (int16_t)(above == 0 ? 0 : microns - work->a->microns);
  uint32_t base = PART(chain->first_base);
  work->rest = wanted(work, 0, base);
  work->needed = microns <= CHAIN_NEAR_MICRONS ? (int32_t)(table->near_ohms * 10L) - (int32_t)base : 0;
  return true;
}

void chain_branch(const struct chain *chain, const struct chain_table *table, struct chain_work *work,
                  uint8_t branch) {
  /* What an error of a segment does to the magnitude: mean over the band of Re 1 / (1 + jx)². */
  static const uint8_t EIGHTHS[CHAIN_BRANCHES] = {0, 3, 4, 7};
  int32_t left = wanted(work, (uint8_t)(branch + 1), PART(chain->base[branch]));
  uint16_t code = nearest(chain->part[branch], CHAIN_RELAYS, &left);
  work->codes.of[branch] =
      code | (uint16_t)((uint16_t)(table->capacitors >> 2 * branch & 3) << CHAIN_RELAYS);
  work->rest += left * EIGHTHS[branch] / 8;
}

/* Ranges only when needed; near the foramen they are the same everywhere, if they can. */
void chain_ranges(const struct chain *chain, const struct chain_table *table, struct chain_work *work) {
  int32_t reach = table->below;
  int32_t needed = work->needed > work->rest ? work->needed : work->rest;
  for (uint8_t k = CHAIN_FINE + CHAIN_STEPS; k < CHAIN_FIRST; k++) {
    reach += (int32_t)PART(chain->first[k]);
  }
  uint32_t bit = 1UL << (CHAIN_FIRST - 1);
  work->codes.first = 0;
  work->left = work->rest;
  for (uint8_t k = CHAIN_FIRST; k-- > CHAIN_FINE + CHAIN_STEPS; bit >>= 1) {
    int32_t ohms = (int32_t)PART(chain->first[k]);
    reach -= ohms;
    if (needed > reach && work->left >= ohms) {
      work->left -= ohms;
      needed -= ohms;
      work->codes.first |= bit;
    }
  }
}

/* Steps as long as they fit, then the fine ladder. */
void chain_first(const struct chain *chain, struct chain_work *work) {
  uint32_t bit = 1UL << CHAIN_FINE;
  for (uint8_t k = CHAIN_FINE; k < CHAIN_FINE + CHAIN_STEPS; k++, bit <<= 1) {
    int32_t ohms = (int32_t)PART(chain->first[k]);
    if (work->left < ohms) {
      break;
    }
    work->left -= ohms;
    work->codes.first |= bit;
  }
  work->codes.first |= nearest(chain->first, CHAIN_FINE, &work->left);
}

uint32_t chain_picofarads(const struct chain *chain, uint8_t branch, uint8_t which) {
  return PART(chain->picofarads[branch][which]);
}

struct chain_codes chain_opening(const struct chain_codes *from, const struct chain_codes *to) {
  struct chain_codes both = {from->first | to->first, {0}};
  for (uint8_t k = 0; k < CHAIN_BRANCHES; k++) {
    both.of[k] = from->of[k] | to->of[k];
  }
  return both;
}

bool chain_same(const struct chain_codes *a, const struct chain_codes *b) {
  return a->first == b->first && memcmp(a->of, b->of, sizeof a->of) == 0;
}
