/*
 * The table of steps by position, filled at the mount; from then on the board needs only its stage
 * encoder. The table holds either a line of resistance, computed every 200 µm of the way to the
 * foramen, or resistance and capacitance at places given by the host, with linear interpolation.
 */
#ifndef STEPS_H
#define STEPS_H

#include <stdbool.h>
#include <stdint.h>

#define STEPS_EACH_MICRONS 200
#define STEPS_BEYOND_MICRONS 3000 /* past the foramen */
#define STEPS_LONGEST_MICRONS 30000
#define STEPS_COUNT 166u /* a step more than the way is long */
#define STEPS_NAMED 55u  /* in the same room */
#define STEPS_LEAST_OHMS 100 /* the network ends here, as on the virtual bench */
#define STEPS_OPEN_OHMS 0xFFFFu

/* A straight line of resistance with a resistor and a capacitor across it. */
struct steps_scene {
  int32_t length_microns;
  int32_t body_ohms;
  int32_t ohms_per_mm;
  int32_t shunt_ohms; /* 0: none */
  uint16_t picofarads;
};

struct steps_pair {
  uint16_t ohms; /* STEPS_OPEN_OHMS above the orifice */
  uint16_t picofarads;
};

struct steps_named {
  int16_t microns; /* from the foramen, ascending */
  struct steps_pair pair;
};

struct steps {
  int32_t length_microns; /* open above */
  uint16_t picofarads;    /* of a line */
  uint8_t named;          /* number of places given by the host; 0: a line */
  union {
    uint16_t ohms[STEPS_COUNT];
    struct steps_named place[STEPS_NAMED];
  } at;
};

/* Fills the table with a line; false when the ladder cannot make a resistance above greatest_ohms. */
bool steps_fill(struct steps *steps, const struct steps_scene *scene, uint16_t greatest_ohms);

/* Adds a place given by the host; false without room, or when it is not above the last. */
bool steps_name(struct steps *steps, int32_t microns, uint16_t ohms, uint16_t picofarads);

/* The wanted pair at a distance from the foramen. */
struct steps_pair steps_at(const struct steps *steps, int32_t remaining_microns);

#endif
