/* The motor of the file: how much power it gets, and how fast it turns. No hardware here. */
#ifndef MOTOR_H
#define MOTOR_H

#include <stdbool.h>
#include <stdint.h>

#include "sw_messages.h"

#define MOTOR_FULL_POWER 255

struct motor_calibration {
  uint16_t encoder_steps_per_turn; /* of the file, four to a line, gear included */
  int32_t full_milli_rpm;          /* at full power without load */
  uint16_t full_scale_milliamps;   /* at the full scale of the converter */
  uint16_t idle_milliamps;         /* turning freely */
  int32_t micro_newton_metres_per_amp;
};

/* Speed from the time between steps of the encoder. */
struct motor_speed {
  int32_t steps; /* at the look before */
  uint32_t counts;
  int32_t milli_rpm;
};

/* To be called every few ms: the count of steps, the moment of the newest, and now, in counts. */
void motor_look(struct motor_speed *speed, const struct motor_calibration *is, int32_t steps,
                uint32_t step_counts, uint32_t now_counts, uint32_t counts_per_second);

int32_t motor_milliamps(const struct motor_calibration *is, uint16_t sum_of_16);
int32_t motor_torque(const struct motor_calibration *is, int32_t milliamps);

/* The command. must_rest: the power was cut, so the next command must not turn. */
struct motor {
  uint8_t drive;
  bool must_rest;
  int32_t wanted_milli_rpm;
  int32_t torque_limit;
  float added;
  uint32_t starting_us; /* until the loop may add: a start is no error */
};

void motor_off(struct motor *motor);
void motor_obey(struct motor *motor, const struct sw_exchange *command);

/* To be called every few ms, with the time since the call before: power, 0 to MOTOR_FULL_POWER. */
uint8_t motor_power(struct motor *motor, const struct motor_calibration *is, int32_t milli_rpm,
                    int32_t torque, uint32_t elapsed_us);

#endif
