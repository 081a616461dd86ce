#include "steps.h"

static int64_t ohms(const struct steps_scene *scene, int32_t remaining_microns) {
  int64_t line = scene->body_ohms + (int64_t)scene->ohms_per_mm * remaining_microns / 1000;
  if (line < STEPS_LEAST_OHMS) {
    line = STEPS_LEAST_OHMS;
  }
  return scene->shunt_ohms ? line * scene->shunt_ohms / (line + scene->shunt_ohms) : line;
}

bool steps_fill(struct steps *steps, const struct steps_scene *scene, uint16_t greatest_ohms) {
  steps->length_microns = scene->length_microns;
  if (ohms(scene, scene->length_microns) > greatest_ohms) {
    return false;
  }
  for (uint16_t i = 0; i < STEPS_COUNT; i++) {
    int64_t here = ohms(scene, (int32_t)i * STEPS_EACH_MICRONS - STEPS_BEYOND_MICRONS);
    steps->ohms[i] = here < greatest_ohms ? (uint16_t)here : greatest_ohms;
  }
  return true;
}

uint16_t steps_at(const struct steps *steps, int32_t remaining_microns) {
  if (remaining_microns > steps->length_microns) {
    return STEPS_OPEN_OHMS;
  }
  int32_t from_end = remaining_microns + STEPS_BEYOND_MICRONS;
  if (from_end <= 0) {
    return steps->ohms[0];
  }
  uint16_t i = (uint16_t)((uint16_t)from_end / STEPS_EACH_MICRONS);
  if (i >= STEPS_COUNT - 1) {
    return steps->ohms[STEPS_COUNT - 1];
  }
  uint16_t over = (uint16_t)from_end % STEPS_EACH_MICRONS;
  int32_t rise = (int32_t)steps->ohms[i + 1] - steps->ohms[i];
  return (uint16_t)(steps->ohms[i] + rise * (int32_t)over / STEPS_EACH_MICRONS);
}
