/*
 * The feed of a device under test, as the hand of the mounted scene moves it: in at an even speed, with
 * strokes, tremor and drift, and on for the reaction time after the file has stopped. Places are in nm from
 * where the feed began, forward is towards the foramen. It uses no hardware.
 *
 * A slot of eight ticks has one speed; each tick works out a part of the next slot, so that none takes
 * long. The steps follow the wanted place, so a speed has no error but that of the clock.
 */
#ifndef FEED_H
#define FEED_H

#include <stdbool.h>
#include <stdint.h>

#include "motion.h"
#include "sw_messages.h"

#define FEED_SLOT_TICKS 8u
#define FEED_SLOTS_PER_SECOND (MOTION_TICKS_PER_SECOND / FEED_SLOT_TICKS)
#define FEED_SINES 3
#define FEED_SHAPE 64u

/* What the scene says about its hand, as it comes with the mount. */
struct feed_hand {
  bool given, stiff, strokes, cannot;
  uint32_t microns_per_second;
  uint32_t start_above_microns;
  uint32_t passive_microns;
  uint32_t stroke_microns;
  uint32_t stroke_microns_per_second;
  uint16_t reaction_ms;
  uint16_t tremor_microns; /* root mean square */
  uint16_t tremor_decihertz;
  int64_t seed;
};

/* What the device board says; an open wire is neither. */
struct feed_lines {
  bool turns; /* the file turns the way in which it works */
  bool free;  /* the force is below its limit */
};

enum feed_phase { FEED_ENTERING, FEED_FEEDING, FEED_STAYING, FEED_LIFTING };

struct feed_sine {
  uint32_t phase, step; /* 2^32 is a turn */
  int16_t amplitude;    /* in 64 nm */
  int32_t value;        /* nm */
};

struct feed {
  enum feed_phase phase;
  bool ending, braking, yields;
  bool touched, feels; /* the file turns; and has for the reaction time */
  uint16_t reaction_ticks, touched_ticks, along_ago;
  uint8_t tick;
  int32_t from, to; /* of the slot */
  int32_t due, each; /* in this tick, and how much further in the next */
  int32_t place;    /* at the end of the next */
  int32_t at;       /* of the steps */
  int32_t least, most, passive, began, lifted_to;
  int32_t way;             /* nm in a slot, and what is left over of a second */
  uint16_t way_rest, rest;
  int32_t start, brake; /* speed without a ramp, and how fast it changes: nm in a slot */
  bool strokes, pecks, inward;
  int32_t half, stroke, stroke_from, stroke_way;
  uint32_t stroke_phase, stroke_step; /* 2^32 is a stroke in or out */
  uint16_t shape[FEED_SHAPE + 1]; /* of the first half of a stroke in or out, 2^15 is all of it */
  struct feed_sine sine[FEED_SINES];
};

void feed_value(struct feed_hand *hand, const struct sw_mount_value *value);

/* Prepares a feed from the present place; false when the stage cannot move so. Takes some ms. */
bool feed_begin(struct feed *feed, const struct feed_hand *hand, const struct motion_calibration *is,
                int32_t at_microns, int32_t most_microns);

/* Steps of this tick, forward or back; backward says which way the driver is set. */
int8_t feed_tick(struct feed *feed, const struct motion_calibration *is, const struct feed_lines *lines,
                 bool *backward);

/* Comes to rest; feed_rests says when. */
void feed_end(struct feed *feed);
bool feed_rests(const struct feed *feed);

#endif
