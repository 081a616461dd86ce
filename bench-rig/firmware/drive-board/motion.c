#include "motion.h"

#include <stdlib.h>

enum { TO_SWITCH = 1, FURTHER = 2, OFF_SWITCH = 3 };

bool motion_busy(const struct motion *motion) {
  return motion->state == SW_STAGE_STATE_HOMING || motion->state == SW_STAGE_STATE_MOVING ||
         motion->state == SW_STAGE_STATE_FEEDING;
}

int32_t motion_microns(const struct motion_calibration *is, int32_t steps) {
  return (int32_t)((int64_t)steps * is->step_nanometres / 1000);
}

static int32_t steps_of(const struct motion_calibration *is, int32_t microns) {
  return (int32_t)(((int64_t)microns * 1000 + is->step_nanometres / 2) / is->step_nanometres);
}

/* Play is taken up behind a place, and that way must not reach the home switch. */
int32_t motion_least_microns(const struct motion_calibration *is) {
  return motion_microns(is, 2 * (int32_t)is->play_steps);
}

int32_t motion_most_microns(const struct motion_calibration *is) {
  return motion_microns(is, is->travel_steps - is->play_steps);
}

uint32_t motion_fastest_microns_per_second(const struct motion_calibration *is) {
  return (uint32_t)is->fastest * is->step_nanometres / 1000;
}

static void way(struct motion *motion, int32_t goal, uint16_t cruise, enum sw_stage_state end) {
  motion->goal = goal;
  motion->cruise = cruise;
  motion->end = end;
}

static void begin(struct motion *motion, const struct motion_calibration *is,
                  enum sw_stage_state state) {
  motion->state = state;
  motion->ramp = (uint32_t)is->ramp_millimetres * 1000000u / is->step_nanometres;
  motion->ramp_tick = (uint16_t)(motion->ramp / MOTION_TICKS_PER_SECOND);
  motion->ramp_rest = (uint16_t)(motion->ramp % MOTION_TICKS_PER_SECOND);
  motion->speed = 0;
  motion->phase = 0;
  motion->gain = 0;
}

enum sw_stage_state motion_home(struct motion *motion, const struct motion_calibration *is) {
  if (motion_busy(motion)) {
    return SW_STAGE_STATE_BUSY;
  }
  begin(motion, is, SW_STAGE_STATE_HOMING);
  motion->homed = false;
  motion->homing = TO_SWITCH;
  /* A quarter more than all the way there is. */
  way(motion, motion->steps - is->travel_steps / 4 * 5, is->seek, SW_STAGE_STATE_HOME_NOT_FOUND);
  motion->target = motion->goal;
  return motion->state;
}

enum sw_stage_state motion_move(struct motion *motion, const struct motion_calibration *is,
                                int32_t microns, uint32_t microns_per_second) {
  if (motion_busy(motion)) {
    return SW_STAGE_STATE_BUSY;
  }
  if (!motion->homed) {
    return SW_STAGE_STATE_NOT_HOMED;
  }
  if (microns < motion_least_microns(is) || microns > motion_most_microns(is) ||
      microns_per_second == 0 || microns_per_second > motion_fastest_microns_per_second(is)) {
    return SW_STAGE_STATE_OUTSIDE;
  }
  uint16_t cruise = (uint16_t)(microns_per_second * 1000 / is->step_nanometres);
  if (cruise == 0) {
    return SW_STAGE_STATE_OUTSIDE;
  }
  int32_t target = steps_of(is, microns);
  int32_t takes_up = motion->taken_up + (target - motion->steps);
  bool straight = target == motion->steps ? motion->taken_up >= is->play_steps
                                          : target > motion->steps && takes_up >= is->play_steps;
  begin(motion, is, SW_STAGE_STATE_MOVING);
  motion->target = target;
  way(motion, straight ? target : target - is->play_steps, cruise, SW_STAGE_STATE_ARRIVED);
  return motion->state;
}

void motion_feeds(struct motion *motion) { motion->state = SW_STAGE_STATE_FEEDING; }

/* Steps to come to rest in. */
static int32_t brake_steps(const struct motion *motion) {
  return (int32_t)((uint32_t)motion->speed * motion->speed / 2 / motion->ramp);
}

enum sw_stage_state motion_stop(struct motion *motion, const struct motion_calibration *is) {
  if (motion_busy(motion)) {
    int32_t brake = motion->speed <= is->start ? 0 : brake_steps(motion);
    int32_t left = motion->goal - motion->steps;
    left = left < 0 ? -left : left;
    brake = brake < left ? brake : left;
    motion->target = motion->steps + (motion->goal > motion->steps ? brake : -brake);
    way(motion, motion->target, motion->cruise, SW_STAGE_STATE_STOPPED);
    if (motion->goal == motion->steps) {
      motion_halt(motion, SW_STAGE_STATE_STOPPED);
    }
  }
  return motion->state;
}

void motion_halt(struct motion *motion, enum sw_stage_state why) {
  if (motion_busy(motion)) {
    motion->state = why;
  }
  motion->speed = 0;
}

/* A limit where none should be, or a switch that does not come: where it is, is not known any more. */
static void lost(struct motion *motion, enum sw_stage_state why) {
  motion->homed = false;
  motion_halt(motion, why);
}

static void home_switch(struct motion *motion, const struct motion_calibration *is, bool open) {
  if (motion->homing == TO_SWITCH && open) {
    /* Room to slow down in, and enough to take up the play on the way back. */
    motion->homing = FURTHER;
    way(motion, motion->steps - brake_steps(motion) - is->play_steps, is->seek, SW_STAGE_STATE_HOMING);
    motion->target = motion->goal;
  } else if (motion->homing == OFF_SWITCH && !open) {
    motion->steps = 0;
    motion->homed = true;
    motion_halt(motion, SW_STAGE_STATE_ARRIVED);
  }
}

static void goal_reached(struct motion *motion, const struct motion_calibration *is) {
  if (motion->goal != motion->target) { /* the play is taken up; now to the place itself */
    motion->goal = motion->target;
    motion->speed = 0;
  } else if (motion->state == SW_STAGE_STATE_HOMING && motion->homing == FURTHER) {
    motion->homing = OFF_SWITCH;
    motion->speed = 0;
    way(motion, motion->steps + 4 * (int32_t)is->play_steps + is->travel_steps / 8, is->slow,
        SW_STAGE_STATE_HOME_STUCK);
    motion->target = motion->goal;
  } else if (motion->end == SW_STAGE_STATE_HOME_NOT_FOUND ||
             motion->end == SW_STAGE_STATE_HOME_STUCK) {
    lost(motion, motion->end);
  } else {
    motion_halt(motion, motion->end);
  }
}

static void change_speed(struct motion *motion, const struct motion_calibration *is) {
  uint32_t left = (uint32_t)labs(motion->goal - motion->steps);
  uint16_t change = motion->ramp_tick;
  motion->gain = (uint16_t)(motion->gain + motion->ramp_rest);
  if (motion->gain >= MOTION_TICKS_PER_SECOND) {
    motion->gain = (uint16_t)(motion->gain - MOTION_TICKS_PER_SECOND);
    change++;
  }
  uint16_t floor = motion->cruise < is->start ? motion->cruise : is->start;
  uint32_t speed = motion->speed >> 4; /* and the ramp by 2^8, so that all fits 32 bits */
  bool brake = left < 0xFFFF && speed * speed >= 2 * (motion->ramp >> 8) * left;
  if (motion->speed < floor) {
    motion->speed = floor;
  } else if (brake || motion->speed > motion->cruise) {
    motion->speed = motion->speed > floor + change ? motion->speed - change : floor;
  } else {
    motion->speed += change;
    if (motion->speed > motion->cruise) {
      motion->speed = motion->cruise;
    }
  }
}

void motion_limits(struct motion *motion, const struct motion_switches *open, bool backward) {
  if (open->home && backward) {
    lost(motion, SW_STAGE_STATE_HOME_LIMIT);
  } else if (open->far_limit && !backward) {
    lost(motion, SW_STAGE_STATE_FAR_LIMIT);
  }
}

void motion_count(struct motion *motion, const struct motion_calibration *is, int8_t steps) {
  motion->steps += steps;
  motion->taken_up = steps < 0 ? 0
                     : motion->taken_up + steps < is->play_steps
                         ? (uint16_t)(motion->taken_up + steps)
                         : is->play_steps;
}

int8_t motion_tick(struct motion *motion, const struct motion_calibration *is,
                   const struct motion_switches *open) {
  if (!motion_busy(motion)) {
    return 0;
  }
  if (open->stop_line) {
    motion_halt(motion, SW_STAGE_STATE_STOP_LINE);
    return 0;
  }
  bool backward = motion->goal < motion->steps;
  if (motion->state == SW_STAGE_STATE_HOMING) {
    home_switch(motion, is, open->home);
    backward = motion->goal < motion->steps;
  }
  if (motion_busy(motion) && motion->goal != motion->steps &&
      !(motion->state == SW_STAGE_STATE_HOMING && backward)) {
    motion_limits(motion, open, backward);
  }
  if (motion_busy(motion) && motion->goal == motion->steps) {
    goal_reached(motion, is);
  }
  if (!motion_busy(motion)) {
    return 0;
  }
  backward = motion->goal < motion->steps;
  if (backward != motion->backward) {
    motion->backward = backward; /* the driver wants its direction some µs before the step */
    motion->phase = 0;
    return 0;
  }
  change_speed(motion, is);
  motion->phase += motion->speed;
  int8_t steps = 0;
  int32_t left = backward ? motion->steps - motion->goal : motion->goal - motion->steps;
  while (motion->phase >= MOTION_TICKS_PER_SECOND && steps < left) {
    motion->phase = (uint16_t)(motion->phase - MOTION_TICKS_PER_SECOND);
    steps++;
  }
  if (steps == left) {
    motion->phase = 0;
  }
  steps = (int8_t)(backward ? -steps : steps);
  motion_count(motion, is, steps);
  return steps;
}
