#include "feed.h"

#include <string.h>

#include "sw_text.h"

#ifdef __AVR__
#pragma GCC optimize("O2") /* each tick has 1920 cycles */
#define WORD(of) pgm_read_word(&(of))
#else
#define WORD(of) (of)
#endif

#define SLOTS FEED_SLOTS_PER_SECOND
#define DRIFT_HERTZ_A 0.1f /* as the hand of the virtual bench: a change of posture (assumed) */
#define DRIFT_HERTZ_B 0.3f
#define LEAST_RAMP (1.0f / FEED_SHAPE) /* two entries of the table */
#define MOST_RAMP 0.25f /* of a stroke: more is not an even speed any more (assumed) */

static bool is(const struct sw_mount_value *value, const char *key) {
  return sw_is(value->key, value->key_bytes, key);
}

void feed_value(struct feed_hand *hand, const struct sw_mount_value *value) {
  uint32_t number = (uint32_t)value->value;
  if (is(value, PSTR("hand.motion"))) {
    hand->given = true;
    hand->stiff = sw_is(value->word, value->word_bytes, PSTR("stage"));
    hand->strokes = sw_is(value->word, value->word_bytes, PSTR("pecking"));
    hand->cannot |= sw_is(value->word, value->word_bytes, PSTR("hesitating"));
  } else if (is(value, PSTR("hand.feed_mm_per_s"))) {
    hand->microns_per_second = number;
  } else if (is(value, PSTR("hand.start_above_mm"))) {
    hand->start_above_microns = number;
  } else if (is(value, PSTR("hand.passive_mm"))) {
    hand->passive_microns = number;
  } else if (is(value, PSTR("hand.peck_stroke_mm"))) {
    hand->stroke_microns = number;
  } else if (is(value, PSTR("hand.peck_mm_per_s"))) {
    hand->stroke_microns_per_second = number;
  } else if (is(value, PSTR("hand.reaction_ms"))) {
    hand->reaction_ms = (uint16_t)number;
  } else if (is(value, PSTR("hand.tremor_um"))) {
    hand->tremor_microns = (uint16_t)number;
  } else if (is(value, PSTR("hand.tremor_hz"))) {
    hand->tremor_decihertz = (uint16_t)number;
  }
}

static int32_t size_of(int32_t value) { return value < 0 ? -value : value; }

/* Between two entries of a table of 64 and its end; of u the upper seven bits are no part of it. */
static uint16_t between(uint16_t a, uint16_t b, uint16_t u) {
  return (uint16_t)(a + ((uint32_t)(uint16_t)(b - a) * (uint8_t)(u >> 1) >> 8));
}

/* The first quarter of a sine, 2^15 - 1 is its top. */
static const uint16_t QUARTER[65] PROGMEM = {
    0, 804, 1608, 2410, 3212, 4011, 4808, 5602, 6393, 7179, 7962,
    8739, 9512, 10278, 11039, 11793, 12539, 13279, 14010, 14732, 15446, 16151,
    16846, 17530, 18204, 18868, 19519, 20159, 20787, 21403, 22005, 22594, 23170,
    23731, 24279, 24811, 25329, 25832, 26319, 26790, 27245, 27683, 28105, 28510,
    28898, 29268, 29621, 29956, 30273, 30571, 30852, 31113, 31356, 31580, 31785,
    31971, 32137, 32285, 32412, 32521, 32609, 32678, 32728, 32757, 32767};

/* Nanometres; the amplitude is in 64 nm. */
static int32_t sine(int16_t amplitude, uint32_t phase) {
  uint16_t u = (uint16_t)(phase >> 15);
  u = phase & 0x40000000 ? (uint16_t)~u : u;
  u &= 0x7FFF;
  const uint16_t *at = &QUARTER[u >> 9];
  int16_t value = (int16_t)between(WORD(at[0]), WORD(at[1]), u);
  return ((int32_t)amplitude * (phase >> 31 ? (int16_t)-value : value)) >> 9;
}

static void wave(struct feed_sine *of, float hertz, float microns, uint16_t phase) {
  of->phase = (uint32_t)phase << 16;
  of->step = (uint32_t)(hertz * (4294967296.0f / (float)SLOTS));
  of->amplitude = (int16_t)(microns * (1000 / 64.0f) + 0.5f);
  of->value = sine(of->amplitude, of->phase);
}

/* First half of the way from rest to rest: quadratic, then even. */
static float shape(float u, float share) {
  return (u < share ? u * u / (2 * share) : u - share * 0.5f) / (1 - share);
}

bool feed_begin(struct feed *feed, const struct feed_hand *hand, const struct motion_calibration *by,
                int32_t at_microns, int32_t most_microns) {
  memset(feed, 0, sizeof *feed);
  float speed = (float)hand->microns_per_second; /* µm/s, as all that follows */
  float fastest = (float)by->fastest * (float)by->step_nanometres * 1e-3f;
  float change = (float)by->turn_millimetres * 1000;
  feed->way = (int32_t)(hand->microns_per_second * 1000 / SLOTS);
  feed->way_rest = (uint16_t)(hand->microns_per_second * 1000 % SLOTS);
  feed->start = (int32_t)((uint32_t)by->start * by->step_nanometres / SLOTS);
  feed->brake = (int32_t)(change * 1000 / (float)SLOTS / (float)SLOTS);
  feed->passive = (int32_t)(hand->start_above_microns + hand->passive_microns) * 1000;
  feed->most = (most_microns - at_microns) * 1000;
  feed->least = (motion_least_microns(by) - at_microns) * 1000;
  feed->inward = feed->pecks = true;
  if (!hand->stiff) {
    float tremor = (float)hand->tremor_microns;
    float hertz = (float)hand->tremor_decihertz * 0.1f;
    uint64_t mixed = (uint64_t)hand->seed * 0x9E3779B97F4A7C15u; /* any seed gives three phases */
    feed->reaction_ticks = (uint16_t)(hand->reaction_ms * (uint32_t)MOTION_TICKS_PER_SECOND / 1000);
    wave(&feed->sine[0], hertz, 1.41421f * tremor, (uint16_t)(mixed >> 16));
    wave(&feed->sine[1], DRIFT_HERTZ_A, tremor, (uint16_t)(mixed >> 32));
    wave(&feed->sine[2], DRIFT_HERTZ_B, tremor, (uint16_t)(mixed >> 48));
    float shakes = 6.2832f * hertz * 1.41421f * tremor;
    speed += shakes;
    if (shakes * 6.2832f * hertz > change) {
      return false;
    }
  }
  if (hand->strokes && hand->stroke_microns > 0 && hand->stroke_microns_per_second > 0) {
    float even = (float)hand->stroke_microns_per_second;
    float stroke = (float)hand->stroke_microns;
    float share = 0; /* of a stroke to gain speed in: even speed and turns take as long as plain strokes */
    for (uint8_t i = 0; i < 6; i++) {
      share = even * even / (change * stroke) / (1 - share);
    }
    if (!(share <= MOST_RAMP)) {
      return false;
    }
    share = share < LEAST_RAMP ? LEAST_RAMP : share;
    feed->strokes = true;
    feed->half = (int32_t)hand->stroke_microns * 500;
    feed->stroke_way = feed->half;
    feed->stroke_step = (uint32_t)(even / stroke * (4294967296.0f / (float)SLOTS));
    for (uint8_t i = 0; i <= FEED_SHAPE; i++) {
      feed->shape[i] = (uint16_t)(shape((float)i * (0.5f / FEED_SHAPE), share) * 32768 + 0.5f);
    }
    speed += even / (1 - share);
  }
  return hand->given && !hand->cannot && hand->microns_per_second > 0 && speed <= fastest;
}

/* The wanted place goes to where the stage is; strokes go on from there. */
static void stay_at(struct feed *feed, int32_t place) {
  feed->stroke += place - feed->place;
  feed->place = place;
}

static void stroke_begins(struct feed *feed) {
  feed->stroke_phase = 0;
  feed->stroke_from = feed->stroke;
  feed->stroke_way = (feed->inward ? feed->half : -feed->half) - feed->stroke;
}

/* At once where the stage may stop so, else by a ramp. */
static void hold(struct feed *feed) {
  int32_t here = feed->due;
  feed->braking = size_of(feed->to - feed->from) > feed->start;
  if (!feed->braking) {
    feed->from = feed->to = here;
    feed->each = 0;
    stay_at(feed, here);
  }
  stroke_begins(feed);
}

static void feel(struct feed *feed, bool turns) {
  if (turns) {
    feed->touched_ticks = feed->touched && feed->touched_ticks < UINT16_MAX ? feed->touched_ticks + 1 : 0;
    feed->touched = true;
    feed->along_ago = 0;
    feed->feels |= feed->touched_ticks >= feed->reaction_ticks;
  } else if (feed->touched && feed->along_ago++ >= feed->reaction_ticks) {
    feed->touched = feed->feels = false;
  }
}

/* What the hand of a scene does; see Hand of the virtual bench. */
static void decide(struct feed *feed) {
  if (feed->ending) {
    return;
  }
  if (feed->feels && feed->phase != FEED_FEEDING) {
    if (feed->phase == FEED_ENTERING) {
      feed->began = feed->place;
    }
    feed->phase = FEED_FEEDING;
    stroke_begins(feed);
  } else if (!feed->feels && feed->phase == FEED_FEEDING) {
    hold(feed);
    bool stays = !feed->strokes || feed->place - feed->began >= 2 * feed->half ||
                 feed->place >= feed->passive;
    feed->phase = stays ? FEED_STAYING : FEED_LIFTING;
    feed->pecks = stays;
    feed->lifted_to = feed->place - 2 * feed->half;
  } else if (feed->phase == FEED_LIFTING && feed->place <= feed->lifted_to) {
    feed->phase = FEED_ENTERING;
  }
}

static bool strokes_now(const struct feed *feed) {
  return feed->strokes && feed->pecks && feed->phase == FEED_FEEDING;
}

/* A force above its limit: no way in. A stroke ends here, and the next one goes out by all of its depth. */
static void yield(struct feed *feed, bool yields) {
  if (yields && !feed->yields && feed->phase != FEED_LIFTING && feed->to > feed->from) {
    hold(feed);
    if (strokes_now(feed)) {
      feed->inward = false;
      feed->stroke = feed->half;
      stroke_begins(feed);
    }
  }
  feed->yields = yields;
}

static void go_on(struct feed *feed) {
  int32_t way = feed->way;
  feed->rest = (uint16_t)(feed->rest + feed->way_rest);
  if (feed->rest >= SLOTS) {
    feed->rest = (uint16_t)(feed->rest - SLOTS);
    way++;
  }
  if (feed->phase == FEED_LIFTING) {
    feed->place -= way;
  } else if (!feed->yields && (feed->phase == FEED_FEEDING ||
                               (feed->phase == FEED_ENTERING && feed->place < feed->passive))) {
    feed->place += way;
  }
  feed->pecks |= feed->place - feed->began >= 2 * feed->half;
}

/* Share of a stroke in or out that is gone, 2^15 is all. */
static uint16_t gone(const struct feed *feed) {
  uint16_t u = (uint16_t)(feed->stroke_phase >> 16);
  bool second = u >> 15;
  u = second ? (uint16_t)~u : u;
  uint16_t share = between(feed->shape[u >> 9], feed->shape[(u >> 9) + 1], u);
  return second ? (uint16_t)(32768u - share) : share;
}

static void go_stroke(struct feed *feed) {
  if (!strokes_now(feed) || (feed->yields && feed->inward)) {
    return;
  }
  uint32_t before = feed->stroke_phase;
  feed->stroke_phase += feed->stroke_step;
  int32_t next = feed->stroke_from;
  bool over = feed->stroke_phase < before;
  next += over ? feed->stroke_way : (int32_t)(int16_t)(feed->stroke_way >> 8) * gone(feed) >> 7;
  feed->place += next - feed->stroke;
  feed->stroke = next;
  if (over) { /* what is over counts for the next one, so that the strokes keep their rate */
    uint32_t rest = feed->stroke_phase;
    feed->inward = !feed->inward;
    stroke_begins(feed);
    feed->stroke_phase = rest;
  }
}

static void shake(struct feed *feed, struct feed_sine *of) {
  if (of->amplitude == 0) {
    return;
  }
  of->phase += of->step;
  int32_t before = of->value;
  of->value = sine(of->amplitude, of->phase);
  bool shakes = feed->phase == FEED_FEEDING || feed->phase == FEED_STAYING ||
                (feed->phase == FEED_ENTERING && feed->place < feed->passive);
  if (shakes && !feed->yields && !feed->ending) {
    feed->place += of->value - before;
  }
}

static void next_slot(struct feed *feed) {
  int32_t way = feed->to - feed->from;
  feed->from = feed->to;
  if (feed->braking) {
    int32_t less = size_of(way) - feed->brake;
    feed->braking = less > feed->start;
    int32_t here = feed->from + (feed->braking ? (way < 0 ? -less : less) : 0);
    stay_at(feed, here);
    stroke_begins(feed);
  }
  feed->to = feed->place;
  feed->each = (feed->to - feed->from) >> 3;
  feed->due = feed->from;
}

static void work(struct feed *feed) {
  uint8_t tick = feed->tick;
  if (tick == 0) {
    next_slot(feed);
  } else if (feed->braking || feed->ending) {
    return;
  } else if (tick == 1) {
    go_on(feed);
  } else if (tick == 2) {
    go_stroke(feed);
  } else if (tick < 3 + FEED_SINES) {
    shake(feed, &feed->sine[tick - 3]);
  } else if (tick == 7 && (feed->place > feed->most || feed->place < feed->least)) {
    stay_at(feed, feed->place > feed->most ? feed->most : feed->least);
    stroke_begins(feed);
  }
}

void feed_end(struct feed *feed) {
  feed->ending = true;
  hold(feed);
}

bool feed_rests(const struct feed *feed) { return feed->ending && !feed->braking && feed->from == feed->to; }

int8_t feed_tick(struct feed *feed, const struct motion_calibration *by, const struct feed_lines *lines,
                 bool *backward) {
  feel(feed, lines->turns);
  yield(feed, !lines->free);
  decide(feed);
  feed->tick = (uint8_t)((feed->tick + 1) & (FEED_SLOT_TICKS - 1));
  work(feed);
  feed->due += feed->each;
  int32_t left = feed->due - feed->at;
  bool back = left < 0;
  if (size_of(left) < by->step_nanometres) {
    return 0;
  }
  if (back != *backward) {
    *backward = back; /* the driver wants its direction some µs before the step */
    return 0;
  }
  int8_t steps = 0;
  int32_t step = by->step_nanometres;
  for (left = size_of(left); left >= step && steps < MOTION_MOST_STEPS; left -= step) {
    steps++;
  }
  feed->at += back ? -steps * step : steps * step;
  return (int8_t)(back ? -steps : steps);
}
