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
  steps->picofarads = scene->picofarads;
  steps->named = 0;
  if (ohms(scene, scene->length_microns) > greatest_ohms) {
    return false;
  }
  for (uint16_t i = 0; i < STEPS_COUNT; i++) {
    int64_t here = ohms(scene, (int32_t)i * STEPS_EACH_MICRONS - STEPS_BEYOND_MICRONS);
    steps->at.ohms[i] = here < greatest_ohms ? (uint16_t)here : greatest_ohms;
  }
  return true;
}

bool steps_name(struct steps *steps, int32_t microns, uint16_t ohms, uint16_t picofarads) {
  bool above = steps->named == 0 || microns > steps->at.place[steps->named - 1].microns;
  if (!above || steps->named == STEPS_NAMED || microns < INT16_MIN || microns > INT16_MAX) {
    return false;
  }
  steps->at.place[steps->named].microns = (int16_t)microns;
  steps->at.place[steps->named].pair.ohms = ohms;
  steps->at.place[steps->named].pair.picofarads = picofarads;
  steps->named++;
  steps->length_microns = microns;
  return true;
}

static uint16_t between(uint16_t low, uint16_t high, uint16_t over, uint16_t of) {
  uint16_t way = high > low ? high - low : low - high;
  uint16_t part = (uint16_t)((uint32_t)way * over / of);
  return high > low ? low + part : low - part;
}

static struct steps_pair on_line(const struct steps *steps, int32_t remaining_microns) {
  int32_t from_end = remaining_microns + STEPS_BEYOND_MICRONS;
  struct steps_pair pair = {steps->at.ohms[0], steps->picofarads};
  if (from_end > 0) {
    uint16_t i = (uint16_t)((uint16_t)from_end / STEPS_EACH_MICRONS);
    uint16_t over = (uint16_t)from_end % STEPS_EACH_MICRONS;
    pair.ohms = i < STEPS_COUNT - 1 ? between(steps->at.ohms[i], steps->at.ohms[i + 1], over,
                                              STEPS_EACH_MICRONS)
                                    : steps->at.ohms[STEPS_COUNT - 1];
  }
  return pair;
}

static struct steps_pair at_named(const struct steps *steps, int32_t remaining_microns) {
  const struct steps_named *high = steps->at.place;
  while (high->microns < remaining_microns) { /* ends: the last place is the length */
    high++;
  }
  if (high == steps->at.place) {
    return high->pair;
  }
  const struct steps_named *low = high - 1;
  uint16_t over = (uint16_t)(remaining_microns - low->microns);
  uint16_t of = (uint16_t)(high->microns - low->microns);
  struct steps_pair pair = {between(low->pair.ohms, high->pair.ohms, over, of),
                            between(low->pair.picofarads, high->pair.picofarads, over, of)};
  return pair;
}

struct steps_pair steps_at(const struct steps *steps, int32_t remaining_microns) {
  struct steps_pair open = {STEPS_OPEN_OHMS, 0};
  if (remaining_microns > steps->length_microns) {
    return open;
  }
  return steps->named ? at_named(steps, remaining_microns) : on_line(steps, remaining_microns);
}
