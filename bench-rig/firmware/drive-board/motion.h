/*
 * The stage: target, path and limits. One call per tick decides whether the motor makes a step. It
 * uses no hardware.
 *
 * Forward is towards the foramen and counts up. The stage reaches every place moving forward, over a
 * distance that takes up the play of the screw; so also home, where the home switch closes again.
 */
#ifndef MOTION_H
#define MOTION_H

#include <stdbool.h>
#include <stdint.h>

#include "sw_messages.h"

#define MOTION_TICKS_PER_SECOND 7680u
#define MOTION_MOST_STEPS 5 /* in one tick */

struct motion_calibration {
  uint16_t step_nanometres;
  uint16_t fastest; /* steps/s, at most MOTION_MOST_STEPS in each tick */
  uint16_t start;   /* steps/s at which it may start and stop without a ramp */
  uint16_t seek;    /* steps/s on the way to the home switch */
  uint16_t slow;    /* steps/s off it again, at most start */
  uint16_t ramp_millimetres; /* mm/s², on the way to a place */
  uint16_t turn_millimetres; /* mm/s², where the strokes of a feed turn */
  uint16_t play_steps; /* more than the play of the screw */
  int32_t travel_steps; /* from home to the far limit switch */
};

struct motion {
  enum sw_stage_state state;
  bool homed;
  int32_t steps; /* from home */
  int32_t goal;  /* of the present move */
  int32_t target; /* of the movement; another than goal when play must be taken up first */
  enum sw_stage_state end; /* state at the goal */
  uint8_t homing; /* 1 to the switch, 2 a little further, 3 off it again */
  uint16_t cruise;
  uint16_t speed;
  uint16_t phase;
  uint32_t ramp; /* steps/s² */
  uint16_t ramp_tick, ramp_rest, gain; /* in a tick, and what is left over of a second */
  uint16_t taken_up;
  bool backward;
};

/* Both switches are closed between the limits; these are set when one is open. */
struct motion_switches {
  bool home;
  bool far_limit;
  bool stop_line;
};

bool motion_busy(const struct motion *motion);

/* Each returns the answer to the host: the state, or the reason for a refusal. */
enum sw_stage_state motion_home(struct motion *motion, const struct motion_calibration *is);
enum sw_stage_state motion_move(struct motion *motion, const struct motion_calibration *is,
                                int32_t microns, uint32_t microns_per_second);
enum sw_stage_state motion_stop(struct motion *motion, const struct motion_calibration *is);

/* The feed of a device begins: the state is what it is until the feed ends. */
void motion_feeds(struct motion *motion);

/* No further step. */
void motion_halt(struct motion *motion, enum sw_stage_state why);

/* No further step before it has been home again, where it meets a limit on its way. */
void motion_limits(struct motion *motion, const struct motion_switches *open, bool backward);

/* Steps of this tick, forward or back. motion->backward says which way they go. */
int8_t motion_tick(struct motion *motion, const struct motion_calibration *is,
                   const struct motion_switches *open);

/* Counts steps that the stage has made. */
void motion_count(struct motion *motion, const struct motion_calibration *is, int8_t steps);

int32_t motion_microns(const struct motion_calibration *is, int32_t steps);
int32_t motion_least_microns(const struct motion_calibration *is);
int32_t motion_most_microns(const struct motion_calibration *is);
uint32_t motion_fastest_microns_per_second(const struct motion_calibration *is);

#endif
