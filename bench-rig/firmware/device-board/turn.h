/*
 * Whether the file turns the way in which it works, from each sample of the angle. It begins to turn when
 * it has gone 1.05° in 4 ms (44 rpm) and has stopped when it went less than 0.35° in 1.5 ms (39 rpm), or
 * back. The way of the work is the first after a rest of 0.1 s. The same is done by SensedTurn of the
 * simulated benches.
 */
#ifndef TURN_H
#define TURN_H

#include <stdbool.h>
#include <stdint.h>

#define TURN_LONG 8u   /* samples */
#define TURN_SHORT 3u
#define TURN_BEGINS 12 /* steps of the angle chip over the long window */
#define TURN_ENDS 4    /* over the short one */
#define TURN_REST 200u /* samples after which either way may be that of the work */

struct turn {
  uint16_t raw;
  bool begun;
  uint8_t at;
  int16_t step[TURN_LONG];
  int8_t way;  /* in which it turns now: 1, -1, or 0 */
  int8_t work; /* in which it works; 0: not known */
  uint8_t rested;
};

void turn_begin(struct turn *turn);

/* One sample; whether it turns the way of the work. */
bool turn_sample(struct turn *turn, uint16_t angle_raw);

#endif
