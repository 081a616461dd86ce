/* Reads golden vectors and checks a port against them. C99, no dependencies.
 *
 *   run_vectors FILE...
 *
 * Exit code 0: every vector is whole and the port agrees with every step that it can follow.
 * Exit code 1: a vector is damaged or the port disagrees; the message names file and step.
 *
 * The port at hand is the position filter fed by an outside locator, so that the distance in the
 * output is followed in vectors with sense.policy locator; in all others the form is checked. A
 * firmware team puts its own step in the place of follow(). Layout: README.md beside this file. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "position_filter.h"

enum { VERSION = 2, INPUT_BYTES = 100, OUTPUT_BYTES = 22, STEP_BYTES = 8 + 100 + 22 + 8 };
enum { LOCATOR = 2, DISTANCE = 2, NO_CONTACT = 3 };
static const double NS_PER_S = 1e9;
static const double JUMP_SIGMAS = 4;

typedef struct {
  const unsigned char *at, *end;
  int bad;
} reader;

static uint64_t take(reader *r, int bytes) {
  uint64_t value = 0;
  if (r->end - r->at < bytes) {
    r->bad = 1;
    return 0;
  }
  for (int i = 0; i < bytes; i++) value |= (uint64_t)r->at[i] << (8 * i);
  r->at += bytes;
  return value;
}

static int64_t i64(reader *r) { return (int64_t)take(r, 8); }
static int32_t i32_at(const unsigned char *p) {
  return (int32_t)((uint32_t)p[0] | (uint32_t)p[1] << 8 | (uint32_t)p[2] << 16 |
                   (uint32_t)p[3] << 24);
}
static int64_t i64_at(const unsigned char *p) {
  uint64_t value = 0;
  for (int i = 0; i < 8; i++) value |= (uint64_t)p[i] << (8 * i);
  return (int64_t)value;
}

typedef struct {
  int64_t policy, feed_change, stroke, noise, step, signal_age, jump_speed;
} settings;

typedef struct {
  position_filter filter;
  int sampled;
  int64_t sequence, sample_ns, filter_ns;
} port;

/* One step of the port; returns the remaining distance it would put out, um. */
static int follow(port *p, const settings *s, int64_t now_ns, const unsigned char *in,
                  int32_t *remaining) {
  int64_t sequence = i64_at(in), sample_ns = i64_at(in + 8);
  double noise = (double)s->noise, grain = (double)s->step;
  double sd = sqrt(noise * noise + grain * grain / 12), variance = sd * sd;
  if (in[96] == NO_CONTACT) return 0; /* lost contact is beyond this port */
  if (in[96] == DISTANCE && (!p->sampled || (sequence != p->sequence && sample_ns > p->sample_ns))) {
    double z = i32_at(in + 72);
    double dt = p->sampled ? (double)(sample_ns - p->filter_ns) / NS_PER_S : 0;
    if (!p->sampled) {
      position_filter_start(&p->filter, z, variance);
    } else {
      double spread = sqrt(position_filter_variance(&p->filter) + variance);
      double reach = (double)s->jump_speed * dt + JUMP_SIGMAS * spread;
      double moved = fabs(z - position_filter_distance(&p->filter));
      if (!(moved <= reach)) return 0; /* jumps are beyond this port */
      position_filter_predict(&p->filter, dt);
      position_filter_update(&p->filter, z, variance);
    }
    p->sampled = 1;
    p->sequence = sequence;
    p->sample_ns = p->filter_ns = sample_ns;
  }
  if (!p->sampled) {
    *remaining = 0;
    return 1;
  }
  int64_t age = now_ns - p->filter_ns;
  if (age > s->signal_age) age = s->signal_age;
  if (age < 0) age = 0;
  *remaining = (int32_t)position_filter_ahead(&p->filter, (double)age / NS_PER_S);
  return 1;
}

static uint64_t fnv1a(const unsigned char *p, size_t n) {
  uint64_t hash = 0xcbf29ce484222325u;
  for (size_t i = 0; i < n; i++) hash = (hash ^ p[i]) * 0x100000001b3u;
  return hash;
}

static int fail(const char *file, long step, const char *what) {
  if (step < 0)
    fprintf(stderr, "%s: %s\n", file, what);
  else
    fprintf(stderr, "%s: step %ld: %s\n", file, step, what);
  return 0;
}

static int check(const char *file, const unsigned char *bytes, size_t n) {
  reader r = {bytes, bytes + n, 0};
  settings s = {0, 0, 0, 0, 0, 0, 0};
  port p;
  int64_t last_ns = INT64_MIN;
  if (n < 32 || memcmp(bytes, "STOPWELL", 8) != 0) return fail(file, -1, "not a golden vector");
  if ((int64_t)fnv1a(bytes, n - 8) != i64_at(bytes + n - 8)) return fail(file, -1, "damaged");
  r.at += 8;
  if (take(&r, 4) != VERSION) return fail(file, -1, "another version of the layout");
  (void)i64(&r); /* fingerprint of the settings */
  for (uint64_t left = take(&r, 4); left > 0 && !r.bad; left--) {
    char key[256] = {0};
    size_t length = (size_t)take(&r, 1);
    if (r.end - r.at < (long)length) return fail(file, -1, "cut off");
    memcpy(key, r.at, length);
    r.at += length;
    int64_t value = i64(&r);
    if (!strcmp(key, "sense.policy")) s.policy = value;
    if (!strcmp(key, "sense.feed_change_mm_s")) s.feed_change = value;
    if (!strcmp(key, "sense.stroke_mm")) s.stroke = value;
    if (!strcmp(key, "sense.distance_noise_mm")) s.noise = value;
    if (!strcmp(key, "sense.locator_step_mm")) s.step = value;
    if (!strcmp(key, "guard.signal_age_ms")) s.signal_age = value;
    if (!strcmp(key, "guard.jump_mm_s")) s.jump_speed = value;
  }
  for (uint64_t left = take(&r, 4); left > 0 && !r.bad; left--) (void)take(&r, 8 + 4 + 8 + 4);
  long steps = (long)take(&r, 4);
  if (r.bad || r.end - r.at != steps * STEP_BYTES + 8) return fail(file, -1, "cut off");
  memset(&p, 0, sizeof p);
  position_filter_init(&p.filter, (double)s.feed_change, (double)s.stroke);
  for (long step = 0; step < steps; step++, r.at += STEP_BYTES) {
    int64_t now_ns = i64_at(r.at);
    const unsigned char *in = r.at + 8, *out = in + INPUT_BYTES;
    int32_t remaining = 0;
    if (out[12] > 3 || out[13] > 6 || out[14] > 2 || out[15] > 9 || out[17] > 1)
      return fail(file, step, "a code that does not exist");
    if (out[12] < 2 && i32_at(out) != 0) return fail(file, step, "a speed without a drive");
    if (s.policy == LOCATOR) {
      if (now_ns < last_ns) return fail(file, step, "time goes backwards");
      last_ns = now_ns;
      if (!follow(&p, &s, now_ns, in, &remaining)) return fail(file, step, "beyond this port");
      if (remaining != i32_at(out + 8)) {
        char text[96];
        snprintf(text, sizeof text, "remaining is %ld um, the port says %ld um",
                 (long)i32_at(out + 8), (long)remaining);
        return fail(file, step, text);
      }
    }
  }
  printf("%s: %ld steps, %s\n", file, steps, s.policy == LOCATOR ? "followed" : "form checked");
  return 1;
}

int main(int argc, char **argv) {
  int ok = argc > 1;
  for (int i = 1; i < argc; i++) {
    FILE *f = fopen(argv[i], "rb");
    unsigned char *bytes = NULL;
    long n = -1;
    if (f && fseek(f, 0, SEEK_END) == 0) n = ftell(f);
    if (n >= 0) {
      rewind(f);
      bytes = malloc((size_t)n + 1);
    }
    if (bytes && fread(bytes, 1, (size_t)n, f) == (size_t)n)
      ok &= check(argv[i], bytes, (size_t)n);
    else
      ok = fail(argv[i], -1, "cannot be read");
    free(bytes);
    if (f) fclose(f);
  }
  return ok ? 0 : 1;
}
