#include "motor.h"

#include <stdlib.h>

#define LINE 4           /* steps of one line: their errors cancel (both channels, both edges) */
#define PATIENCE_MS 100  /* then fewer steps suffice */
#define STANDSTILL_MS 150 /* without a step for this long the shaft stands still (assumed) */
#define ADD_PER_US 5e-6f  /* share of full power per µs and per unit of error (assumed) */
#define ADD_MOST 0.3f     /* the most that the loop adds to the feed-forward of the speed (assumed) */
#define START_US 100000   /* some time constants of a small motor (assumed) */
#define NEAR 0.5f        /* it adds only this near to the wanted speed, to avoid wind-up (assumed) */

static int32_t milli_rpm_of(const struct motor_calibration *is, int32_t steps, uint32_t counts,
                            uint32_t counts_per_second) {
  float turns = (float)steps / (float)is->encoder_steps_per_turn;
  return (int32_t)(turns * 60000.0f * (float)counts_per_second / (float)counts);
}

void motor_look(struct motor_speed *speed, const struct motor_calibration *is, int32_t steps,
                uint32_t step_counts, uint32_t now_counts, uint32_t counts_per_second) {
  uint32_t per_ms = counts_per_second / 1000;
  int32_t moved = steps - speed->steps;
  uint32_t quiet = now_counts - step_counts;
  if (moved != 0 && (labs(moved) >= LINE || now_counts - speed->counts > PATIENCE_MS * per_ms)) {
    uint32_t since = step_counts - speed->counts;
    /* After a standstill the first step only marks the start of the motion. */
    speed->milli_rpm = since > 0 && since < STANDSTILL_MS * per_ms
                           ? milli_rpm_of(is, moved, since, counts_per_second)
                           : 0;
    speed->steps = steps;
    speed->counts = step_counts;
  }
  if (quiet > STANDSTILL_MS * per_ms) {
    speed->milli_rpm = 0;
    speed->steps = steps;
    speed->counts = step_counts;
  } else if (quiet > per_ms) {
    int32_t most = milli_rpm_of(is, 1, quiet, counts_per_second);
    if (labs(speed->milli_rpm) > most) {
      speed->milli_rpm = speed->milli_rpm < 0 ? -most : most;
    }
  }
}

int32_t motor_milliamps(const struct motor_calibration *is, uint16_t sum_of_16) {
  return (int32_t)((uint32_t)sum_of_16 * is->full_scale_milliamps / 16368u);
}

int32_t motor_torque(const struct motor_calibration *is, int32_t milliamps) {
  int32_t load = milliamps - is->idle_milliamps;
  return load > 0 ? (int32_t)((int64_t)load * is->micro_newton_metres_per_amp / 1000) : 0;
}

void motor_off(struct motor *motor) {
  motor->drive = SW_EXCHANGE_DRIVE_OFF;
  motor->must_rest = true;
  motor->added = 0;
}

void motor_obey(struct motor *motor, const struct sw_exchange *command) {
  bool turns = command->drive >= SW_EXCHANGE_DRIVE_FORWARD;
  if (motor->must_rest) {
    motor->must_rest = turns;
    return;
  }
  if (motor->drive != command->drive) {
    motor->added = 0;
    motor->starting_us = START_US;
  }
  motor->drive = command->drive;
  motor->wanted_milli_rpm = command->speed_milli_rpm;
  motor->torque_limit = command->torque_limit_micro_newton_metres;
}

uint8_t motor_power(struct motor *motor, const struct motor_calibration *is, int32_t milli_rpm,
                    int32_t torque, uint32_t elapsed_us) {
  if (motor->drive < SW_EXCHANGE_DRIVE_FORWARD || torque >= motor->torque_limit) {
    return 0;
  }
  float full = (float)is->full_milli_rpm;
  float wanted = (float)motor->wanted_milli_rpm / full;
  float error = wanted - (float)labs(milli_rpm) / full;
  if (motor->starting_us > elapsed_us) {
    motor->starting_us -= elapsed_us;
  } else if (error < NEAR * wanted && error > -NEAR * wanted) {
    motor->added += ADD_PER_US * error * (float)elapsed_us;
    motor->added = motor->added > ADD_MOST ? ADD_MOST : motor->added;
    motor->added = motor->added < -ADD_MOST ? -ADD_MOST : motor->added;
  }
  float share = wanted + motor->added;
  share = share > 1 ? 1 : share;
  return share > 0 ? (uint8_t)(share * MOTOR_FULL_POWER + 0.5f) : 0;
}
