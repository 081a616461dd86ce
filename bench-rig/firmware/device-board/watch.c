#include "watch.h"

#include <string.h>

#define MOST_MICRONS 31 /* of one entry: six bits with a sign */

void watch_begin(struct watch *watch) { memset(watch, 0, sizeof *watch); }

static void lose(struct watch *watch, uint8_t samples) {
  if (watch->jump != 0 && watch->jump_at == watch->count) { /* it comes after all that is kept */
    watch->jump = 0;
  }
  watch->broken = true;
  watch->half = false;
  watch->lost += samples;
}

/* How late a sample comes for its place in the run, ns. */
static int32_t late_ns(const struct watch *watch, int64_t now_ns, uint32_t each_ns) {
  uint8_t samples = (uint8_t)(2 * watch->count + watch->half);
  return samples == 0 ? 0 : (int32_t)(now_ns - watch->first_ns) - (int32_t)(samples * each_ns);
}

static void add(struct watch *watch, int16_t turned, int32_t microns, uint8_t force, bool marked,
                bool witnessed) {
  if (!watch->half) {
    watch->turned = (int8_t)turned;
    watch->half = true;
    watch->half_marked = marked;
    return;
  }
  int32_t moved = microns - watch->microns;
  watch->microns = microns;
  if (moved > MOST_MICRONS || moved < -MOST_MICRONS) {
    lose(watch, 2);
    return;
  }
  watch->half = false;
  uint8_t at = watch->out + watch->count;
  at = at >= WATCH_ROOM ? (uint8_t)(at - WATCH_ROOM) : at;
  watch->entry[at] = (uint32_t)(uint8_t)watch->turned | (uint32_t)(uint8_t)turned << 8 |
                     (uint32_t)(moved & 63) << 16 | (uint32_t)(marked || watch->half_marked) << 22 |
                     (uint32_t)witnessed << 23 | (uint32_t)force << 24;
  watch->count++;
}

void watch_sample(struct watch *watch, int64_t now_ns, uint32_t each_ns, uint16_t angle_raw,
                  int32_t microns, uint8_t force, bool marked, bool witnessed) {
  /* Twelve bits that wrap around. */
  int16_t turned = (int16_t)((uint16_t)(angle_raw - watch->angle_raw) << 4) >> 4;
  watch->angle_raw = angle_raw;
  if (!watch->begun) {
    watch->begun = true;
    turned = 0;
    watch->microns = microns;
  }
  watch->angle += turned;
  if (watch->broken) {
    watch->lost++;
    watch->microns = microns;
    watch->broken = watch->count > 0; /* the next sample begins a run */
    return;
  }
  int32_t late = late_ns(watch, now_ns, each_ns);
  bool missed = late >= WATCH_LATE_NS;
  bool jumped = turned > INT8_MAX || turned < INT8_MIN;
  if ((uint8_t)(watch->count + missed) >= WATCH_ROOM || (jumped && watch->jump != 0) ||
      late < -WATCH_LATE_NS || late >= (int32_t)each_ns + WATCH_LATE_NS) {
    lose(watch, watch->half ? 2 : 1);
    watch->microns = microns;
    return;
  }
  if (watch->count == 0 && !watch->half) {
    watch->first_ns = now_ns;
    watch->first_angle = watch->angle - turned;
    watch->jump = 0; /* what was lost goes up to here */
    watch->first_microns = watch->microns;
  }
  if (jumped) { /* before the next whole entry */
    watch->jump = turned;
    watch->jump_at = (uint8_t)(watch->count + watch->half);
    turned = 0;
  }
  if (missed) { /* one tick: its sample is made up, and both are marked */
    add(watch, turned / 2, microns, force, true, witnessed);
    turned = (int16_t)(turned - turned / 2);
  }
  add(watch, turned, microns, force, marked || missed, witnessed);
}

/* The producer only adds behind what is counted here, so only the ends of it need the lock. */
void watch_take(struct watch *watch, int64_t zero_ns, uint32_t each_ns, struct sw_watched *to,
                void (*lock)(bool locked)) {
  const uint8_t most = sizeof to->entries / sizeof *to->entries;
  lock(true);
  if (watch->jump != 0 && watch->jump_at == 0) {
    watch->first_angle += watch->jump;
    watch->jump = 0;
  }
  uint8_t count = watch->count < most ? watch->count : most;
  if (watch->jump != 0 && count > watch->jump_at) {
    count = watch->jump_at;
  }
  int64_t first_ns = watch->first_ns;
  int32_t angle = watch->first_angle;
  int32_t microns = watch->first_microns;
  to->lost = watch->lost;
  lock(false);
  to->first_ns = first_ns - zero_ns;
  to->first_steps = angle;
  to->first_microns = microns;
  to->each_ns = each_ns;
  to->entries_count = count;
  uint8_t out = watch->out;
  for (uint8_t i = 0; i < count; i++) {
    const uint8_t *byte = (const uint8_t *)&watch->entry[out]; /* low byte first, as on the wire */
    to->entries[i] = (int32_t)watch->entry[out];
    angle += (int8_t)byte[0] + (int8_t)byte[1];
    microns += (int8_t)(uint8_t)(byte[2] << 2) >> 2;
    out = (uint8_t)(out + 1 == WATCH_ROOM ? 0 : out + 1);
  }
  if (count > 0) {
    first_ns += (int64_t)(2UL * each_ns * count);
    lock(true);
    watch->first_ns = first_ns;
    watch->first_angle = angle;
    watch->first_microns = microns;
    watch->out = out;
    watch->count = (uint8_t)(watch->count - count);
    watch->jump_at = (uint8_t)(watch->jump_at - count);
    lock(false);
  }
}
