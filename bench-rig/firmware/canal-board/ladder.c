#include "ladder.h"

uint16_t ladder_word(const struct ladder *ladder, uint32_t target_deciohms) {
  /* Adds half of the smallest step, then takes each resistor that still fits, greatest first: the
   * nearest resistance. */
  uint32_t rest = target_deciohms + ladder->deciohms[0] / 2;
  uint16_t bridged = LADDER_ALL;
  rest = rest > ladder->base_deciohms ? rest - ladder->base_deciohms : 0;
  for (uint8_t k = LADDER_RESISTORS; k-- > 0;) {
    if (ladder->deciohms[k] <= rest) {
      rest -= ladder->deciohms[k];
      bridged &= (uint16_t)~(1u << k);
    }
  }
  return LADDER_MAIN | bridged;
}

uint32_t ladder_deciohms(const struct ladder *ladder, uint16_t word) {
  if (!(word & LADDER_MAIN)) {
    return UINT32_MAX;
  }
  uint32_t sum = ladder->base_deciohms;
  for (uint8_t k = 0; k < LADDER_RESISTORS; k++) {
    if (!(word & (1u << k))) {
      sum += ladder->deciohms[k];
    }
  }
  return sum;
}

uint32_t ladder_measured_milliohms(uint32_t reference_deciohms, uint16_t sum) {
  /* 16 samples of 1024 steps; the converter ends one step below its reference. */
  uint32_t deciohms = reference_deciohms * sum / (16384u - sum);
  return deciohms < INT32_MAX / 100 ? deciohms * 100 : INT32_MAX;
}

bool ladder_plausible(uint32_t deciohms, uint32_t measured_milliohms) {
  uint32_t measured = measured_milliohms / 100;
  uint32_t allowed = deciohms / 33 + 600;
  return measured <= deciohms + allowed && deciohms <= measured + allowed;
}
