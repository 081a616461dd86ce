/*
 * The table of steps by position: a resistance every 200 µm of the way to the foramen, in between
 * a straight line. Filled at the mount; from then on the board follows its stage encoder alone.
 */
#ifndef STEPS_H
#define STEPS_H

#include <stdbool.h>
#include <stdint.h>

#define STEPS_EACH_MICRONS 200
#define STEPS_BEYOND_MICRONS 3000 /* past the foramen */
#define STEPS_LONGEST_MICRONS 30000
#define STEPS_COUNT 166u /* a step more than the way is long */
#define STEPS_LEAST_OHMS 100 /* the network ends here, as the one of the virtual bench */
#define STEPS_OPEN_OHMS 0xFFFFu

/* A straight line of resistance with a resistor across it. */
struct steps_scene {
  int32_t length_microns;
  int32_t body_ohms;
  int32_t ohms_per_mm;
  int32_t shunt_ohms; /* 0: none */
};

struct steps {
  int32_t length_microns;
  uint16_t ohms[STEPS_COUNT];
};

/* Fills the table; false when the ladder cannot make a resistance above greatest_ohms. */
bool steps_fill(struct steps *steps, const struct steps_scene *scene, uint16_t greatest_ohms);

/* The resistance at a distance from the foramen, ohm; STEPS_OPEN_OHMS above the orifice. */
uint16_t steps_at(const struct steps *steps, int32_t remaining_microns);

#endif
