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
#define MOTION_START 400u /* steps/s at which it may start and stop without a ramp (assumed) */

struct motion_calibration {
  uint16_t step_nanometres;
  uint16_t fastest; /* steps/s, at most the ticks */
  uint16_t seek;    /* steps/s on the way to the home switch */
  uint16_t slow;    /* steps/s off it again, at most MOTION_START */
  uint16_t ramp;    /* steps/s², at most 32767 */
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
  uint16_t gain;
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

/* No further step. */
void motion_halt(struct motion *motion, enum sw_stage_state why);

/* 1 for a step forward, -1 for one back, 0 for none. motion->backward says which way it will go. */
int8_t motion_tick(struct motion *motion, const struct motion_calibration *is,
                   const struct motion_switches *open);

int32_t motion_microns(const struct motion_calibration *is, int32_t steps);
int32_t motion_least_microns(const struct motion_calibration *is);
int32_t motion_most_microns(const struct motion_calibration *is);
uint32_t motion_fastest_microns_per_second(const struct motion_calibration *is);

#endif
