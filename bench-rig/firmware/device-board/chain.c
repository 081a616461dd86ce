#include "chain.h"

#include <string.h>

#ifdef __AVR__
#include <avr/eeprom.h>
#define PART(of) eeprom_read_word(&(of))
#define LONG_PART(of) eeprom_read_dword(&(of))
#else
#define PART(of) (of)
#define LONG_PART(of) (of)
#endif

uint16_t chain_reach(const struct chain *chain, uint8_t branch) {
  uint16_t sum = 0;
  for (uint8_t k = 0; k < CHAIN_RELAYS; k++) {
    sum = (uint16_t)(sum + PART(chain->part[branch][k]));
  }
  return sum;
}

uint32_t chain_deciohms(const struct chain *chain, uint8_t segment, uint32_t code) {
  const uint16_t *part = segment == 0 ? chain->first : chain->part[segment - 1];
  uint32_t sum = segment == 0 ? PART(chain->first_base) : PART(chain->base[segment - 1]);
  for (uint8_t count = segment == 0 ? CHAIN_FIRST : CHAIN_RELAYS; count > 0; count--, part++) {
    sum += code & 1 ? PART(*part) : 0;
    code >>= 1;
  }
  return sum;
}

/* Adds half of the smallest part, then takes each that still fits, greatest first; what is left over
 * stays in rest. */
static uint8_t nearest(const uint16_t *part, uint8_t count, int32_t *rest) {
  uint8_t code = 0;
  uint16_t half = PART(part[0]) / 2;
  int32_t left = *rest + half;
  for (uint8_t k = count; k-- > 0;) {
    uint16_t ohms = PART(part[k]);
    if (ohms <= left) {
      left -= ohms;
      code |= (uint8_t)(1u << k);
    }
  }
  *rest = left - half;
  return code;
}

/* Ranges only when needed, then steps as long as they fit, then the fine ladder. */
static uint32_t first_code(const struct chain *chain, int32_t below, int32_t rest) {
  const uint16_t *part = chain->first;
  uint32_t code = 0;
  uint32_t bit = 1UL << (CHAIN_FINE + CHAIN_STEPS);
  for (uint8_t k = CHAIN_FINE + CHAIN_STEPS; k < CHAIN_FIRST; k++, bit <<= 1) {
    if (rest > below) {
      rest -= PART(part[k]);
      code |= bit;
    }
  }
  bit = 1UL << CHAIN_FINE;
  for (uint8_t k = CHAIN_FINE; k < CHAIN_FINE + CHAIN_STEPS; k++, bit <<= 1) {
    uint16_t ohms = PART(part[k]);
    if (rest < ohms) {
      break;
    }
    rest -= ohms;
    code |= bit;
  }
  return code | nearest(part, CHAIN_FINE, &rest);
}

bool chain_place(struct chain_table *table, const struct chain *chain, int32_t microns,
                 const int32_t *ohms, uint8_t count) {
  struct chain_place *place = &table->place[table->count];
  if (table->count == CHAIN_PLACES || count != CHAIN_BRANCHES + 1 || microns < INT16_MIN ||
      microns > INT16_MAX || (table->count > 0 && microns <= place[-1].microns) || ohms[0] < 0 ||
      (uint32_t)ohms[0] > chain_deciohms(chain, 0, UINT32_MAX) / 10) {
    return false;
  }
  if (table->count == 0) {
    table->below = 0;
    for (uint8_t k = 0; k < CHAIN_FINE + CHAIN_STEPS; k++) {
      table->below += PART(chain->first[k]);
    }
    for (uint8_t k = 0; k < CHAIN_BRANCHES; k++) {
      table->reach[k] = chain_reach(chain, k);
    }
  }
  place->microns = (int16_t)microns;
  place->ohms = (uint16_t)ohms[0];
  for (uint8_t k = 0; k < CHAIN_BRANCHES; k++) {
    int32_t beyond = ohms[k + 1] * 10 - PART(chain->base[k]);
    uint16_t reach = chain_reach(chain, k);
    if (ohms[k + 1] < 0 || ohms[k + 1] > UINT16_MAX || beyond < -20 || beyond > reach + 20) {
      return false; /* 2 ohm: what rounding may do */
    }
    int32_t share = (beyond * 255 + reach / 2) / reach;
    place->of[k] = (uint8_t)(share < 0 ? 0 : share > 255 ? 255 : share);
  }
  table->count++;
  return true;
}

static int32_t between(int32_t a, int32_t b, int16_t part, int16_t whole) {
  return whole == 0 ? a : a + (b - a) * part / whole;
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
  work->rest = between(work->a->ohms * 10L, work->b->ohms * 10L, work->part, work->whole) -
               PART(chain->first_base);
  return true;
}

void chain_branch(const struct chain *chain, const struct chain_table *table, struct chain_work *work,
                  uint8_t branch) {
  /* What an error of a segment does to the magnitude: mean over the band of Re 1 / (1 + jx)². */
  static const uint8_t EIGHTHS[CHAIN_BRANCHES] = {0, 3, 4, 7};
  int32_t share =
      between(work->a->of[branch] * 16, work->b->of[branch] * 16, work->part, work->whole);
  int32_t left = share * table->reach[branch] / (255 * 16);
  work->codes.of[branch] = nearest(chain->part[branch], CHAIN_RELAYS, &left);
  work->rest += left * EIGHTHS[branch] / 8;
}

void chain_first(const struct chain *chain, const struct chain_table *table, struct chain_work *work) {
  work->codes.first = first_code(chain, table->below, work->rest);
}

uint32_t chain_picofarads(const struct chain *chain, uint8_t branch) {
  return LONG_PART(chain->picofarads[branch]);
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
