#include "frames.h"

enum { RAILED = 1, DEMAND = 2, STOP_LINE = 4, RESET = 8, INSERTION = 16 };

uint64_t frames_get(const uint8_t *from, uint8_t bytes) {
  uint64_t value = 0;
  for (uint8_t i = 0; i < bytes; i++) value |= (uint64_t)from[i] << (8 * i);
  return value;
}

void frames_put(uint8_t *to, uint8_t bytes, uint64_t value) {
  for (uint8_t i = 0; i < bytes; i++) to[i] = (uint8_t)(value >> (8 * i));
}

static int32_t i32(const uint8_t *from) {
  return (int32_t)(uint32_t)frames_get(from, 4);
}

void frames_input(const uint8_t *from, stopwell_input *in) {
  in->sample_sequence = (int64_t)frames_get(from, 8);
  in->sample_time_ns = (int64_t)frames_get(from + 8, 8);
  in->link_age_ns = (int64_t)frames_get(from + 16, 8);
  for (uint8_t i = 0; i < 4; i++) {
    in->frequency_hz[i] = i32(from + 24 + 12 * i);
    in->z_real_milli_ohm[i] = i32(from + 28 + 12 * i);
    in->z_imag_milli_ohm[i] = i32(from + 32 + 12 * i);
  }
  in->distance_um = i32(from + 72);
  in->insertion_um = i32(from + 76);
  in->speed_milli_rpm = i32(from + 80);
  in->torque_micro_newton_metre = i32(from + 84);
  in->current_milli_ampere = i32(from + 88);
  in->supply_milli_volt = i32(from + 92);
  in->position_kind = from[96];
  in->frequency_count = (int8_t)from[97];
  in->stage = from[98];
  in->railed = (from[99] & RAILED) != 0;
  in->demand = (from[99] & DEMAND) != 0;
  in->stop_line = (from[99] & STOP_LINE) != 0;
  in->reset = (from[99] & RESET) != 0;
  in->insertion_present = (from[99] & INSERTION) != 0;
}

void frames_output(const stopwell_output *out, uint8_t *to) {
  frames_put(to, 4, (uint32_t)out->speed_milli_rpm);
  frames_put(to + 4, 4, (uint32_t)out->torque_limit_micro_newton_metre);
  frames_put(to + 8, 4, (uint32_t)out->remaining_um);
  to[12] = (uint8_t)out->drive;
  to[13] = (uint8_t)out->state;
  to[14] = (uint8_t)out->trust;
  to[15] = (uint8_t)out->cause;
  to[16] = (uint8_t)out->reason;
  to[17] = (uint8_t)out->reading_present;
  frames_put(to + 18, 4, (uint32_t)out->bound_um);
}
