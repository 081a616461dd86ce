#include "bank.h"

#include <math.h>

static uint32_t smallest(const struct bank *bank) {
  for (uint8_t k = 0; k < BANK_CAPACITORS; k++) {
    if (bank->picofarads[k]) {
      return bank->picofarads[k];
    }
  }
  return 0;
}

uint16_t bank_code(const struct bank *bank, uint32_t target_picofarads) {
  uint32_t rest = target_picofarads + smallest(bank) / 2;
  uint16_t code = 0;
  for (uint8_t k = BANK_CAPACITORS; k-- > 0;) {
    if (bank->picofarads[k] && bank->picofarads[k] <= rest) {
      rest -= bank->picofarads[k];
      code |= (uint16_t)(1u << k);
    }
  }
  return code;
}

uint32_t bank_picofarads(const struct bank *bank, uint16_t code) {
  uint32_t sum = 0;
  for (uint8_t k = 0; k < BANK_CAPACITORS; k++) {
    sum += code >> k & 1 ? bank->picofarads[k] : 0;
  }
  return sum;
}

bool bank_makes(const struct bank *bank, uint32_t target_picofarads) {
  uint32_t made = bank_picofarads(bank, bank_code(bank, target_picofarads));
  uint32_t off = made > target_picofarads ? made - target_picofarads : target_picofarads - made;
  return off <= 60 || off * 20 <= target_picofarads;
}

uint32_t bank_decayed_picofarads(uint16_t steps_before, uint16_t steps_after, uint32_t nanoseconds,
                                 uint32_t ohms) {
  if (steps_after >= steps_before) {
    return UINT32_MAX;
  }
  float fall = logf((float)steps_before / (float)(steps_after ? steps_after : 1));
  float farads = (float)nanoseconds * 1e-9f / ((float)ohms * fall);
  return farads < 4e-3f ? (uint32_t)(farads * 1e12f + 0.5f) : UINT32_MAX;
}

bool bank_plausible(uint32_t picofarads, uint32_t measured_picofarads) {
  uint32_t allowed = picofarads * 3 / 10 + 25;
  return measured_picofarads <= picofarads + allowed && picofarads <= measured_picofarads + allowed;
}
