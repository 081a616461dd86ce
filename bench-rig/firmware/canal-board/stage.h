/* The stage encoder: two channels, four steps to a line; forward is towards the foramen. */
#ifndef STAGE_H
#define STAGE_H

#include <stdbool.h>
#include <stdint.h>

struct stage {
  uint8_t levels; /* A in bit 1, B in bit 0 */
  int32_t steps;  /* since the home switch */
  uint16_t lost;  /* both channels had changed at once */
  bool homed;     /* the home switch was seen since the reset */
};

static inline void stage_levels(struct stage *stage, uint8_t levels) {
  /* From levels (old, new) to steps: +1, -1, 0, or 2 for a lost one. */
  static const int8_t MOVED[16] = {0, -1, 1, 2, 1, 0, 2, -1, -1, 2, 0, 1, 2, 1, -1, 0};
  int8_t moved = MOVED[(stage->levels << 2 | levels) & 15];
  stage->levels = levels;
  if (moved == 2) {
    stage->lost++;
  } else {
    stage->steps += moved;
  }
}

/* As long as the home switch is actuated the stage counts from here. */
static inline void stage_home(struct stage *stage) {
  stage->steps = 0;
  stage->homed = true;
}

static inline int32_t stage_remaining_microns(int32_t steps, int32_t home_microns,
                                              uint16_t step_nanometres) {
  return home_microns - steps * step_nanometres / 1000; /* in nm, so good to 2 m */
}

#endif
