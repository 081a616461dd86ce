#include "turn.h"

#include <string.h>

void turn_begin(struct turn *turn) { memset(turn, 0, sizeof *turn); }

static int16_t sum(const struct turn *turn, uint8_t samples) {
  int16_t steps = 0;
  for (uint8_t k = 1; k <= samples; k++) {
    steps = (int16_t)(steps + turn->step[(uint8_t)(turn->at - k) % TURN_LONG]);
  }
  return steps;
}

bool turn_sample(struct turn *turn, uint16_t angle_raw) {
  int16_t turned = (int16_t)((uint16_t)(angle_raw - turn->raw) << 4) >> 4; /* twelve bits, wrapped */
  turn->raw = angle_raw;
  if (!turn->begun) {
    turn->begun = true;
    turned = 0;
  }
  turn->step[turn->at++ % TURN_LONG] = turned;
  int16_t now = sum(turn, TURN_SHORT);
  int16_t lately = sum(turn, TURN_LONG);
  if ((turn->way > 0 && now < TURN_ENDS) || (turn->way < 0 && now > -TURN_ENDS)) {
    turn->way = 0;
  }
  if (turn->way == 0) {
    turn->way = lately >= TURN_BEGINS && now >= TURN_ENDS     ? 1
                : lately <= -TURN_BEGINS && now <= -TURN_ENDS ? -1
                                                              : 0;
  }
  if (turn->way != 0) {
    turn->rested = 0;
    turn->work = turn->work == 0 ? turn->way : turn->work;
  } else if (turn->rested < TURN_REST) {
    turn->rested++;
  } else {
    turn->work = 0;
  }
  return turn->way != 0 && turn->way == turn->work;
}
