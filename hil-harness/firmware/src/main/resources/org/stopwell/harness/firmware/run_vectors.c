/* Runs golden vectors through the controller and compares every output and the hash of the whole
 * state after every step. For a computer; it needs a C library.
 *
 *   run_vectors FILE...
 *
 * Exit code 0: the controller agrees with every step of every file.
 * Exit code 1: a file is damaged, has other settings, or the controller disagrees; the message
 * names the file, and the byte or the step. */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "stopwell.h"

enum { VERSION = 2, INPUT_BYTES = 100, OUTPUT_BYTES = 22, STEP_BYTES = 8 + 100 + 22 + 8 };
enum { POINT_BYTES = 24, CHECKSUM_BYTES = 8 };

static uint64_t number(const unsigned char *at, int bytes) {
  uint64_t value = 0;
  int i;
  for (i = 0; i < bytes; i++) value |= (uint64_t)at[i] << (8 * i);
  return value;
}

static int32_t i32(const unsigned char *at) { return (int32_t)number(at, 4); }
static int64_t i64(const unsigned char *at) { return (int64_t)number(at, 8); }

static int fail(const char *file, const char *format, ...) {
  va_list values;
  va_start(values, format);
  fprintf(stderr, "%s: ", file);
  vfprintf(stderr, format, values);
  fprintf(stderr, "\n");
  va_end(values);
  return 0;
}

static int cut(const char *file, size_t has, size_t needs) {
  return fail(file, "cut short at byte %lu; byte %lu is needed", (unsigned long)has,
              (unsigned long)needs);
}

static void read_input(const unsigned char *at, stopwell_input *in) {
  int i;
  memset(in, 0, sizeof *in);
  in->sample_sequence = i64(at);
  in->sample_time_ns = i64(at + 8);
  in->link_age_ns = i64(at + 16);
  for (i = 0; i < STOPWELL_FREQUENCIES; i++) {
    in->frequency_hz[i] = i32(at + 24 + 12 * i);
    in->z_real_milli_ohm[i] = i32(at + 28 + 12 * i);
    in->z_imag_milli_ohm[i] = i32(at + 32 + 12 * i);
  }
  in->distance_um = i32(at + 72);
  in->insertion_um = i32(at + 76);
  in->speed_milli_rpm = i32(at + 80);
  in->torque_micro_newton_metre = i32(at + 84);
  in->current_milli_ampere = i32(at + 88);
  in->supply_milli_volt = i32(at + 92);
  in->position_kind = at[96];
  in->frequency_count = (int8_t)at[97];
  in->stage = at[98];
  in->railed = (at[99] & 1) != 0;
  in->demand = (at[99] & 2) != 0;
  in->stop_line = (at[99] & 4) != 0;
  in->reset = (at[99] & 8) != 0;
  in->insertion_present = (at[99] & 16) != 0;
}

static const char *difference(const unsigned char *at, const stopwell_output *out) {
  if (out->speed_milli_rpm != i32(at)) return "the speed";
  if (out->torque_limit_micro_newton_metre != i32(at + 4)) return "the torque limit";
  if (out->remaining_um != i32(at + 8)) return "the remaining distance";
  if (out->drive != at[12]) return "the drive";
  if (out->state != at[13]) return "the state";
  if (out->trust != at[14]) return "the trust";
  if (out->cause != at[15]) return "the cause";
  if (out->reason != at[16]) return "the reason";
  if (out->reading_present != at[17]) return "the presence of a reading";
  if (out->bound_um != i32(at + 18)) return "the bound";
  return NULL;
}

static int check(const char *file, const unsigned char *bytes, size_t n) {
  uint64_t hash = UINT64_C(0xcbf29ce484222325);
  uint64_t left;
  size_t at = 24, i, steps;
  if (n < 8 || memcmp(bytes, "STOPWELL", 8) != 0) return fail(file, "not a golden vector");
  if (n < at) return cut(file, n, at);
  if (number(bytes + 8, 4) != VERSION)
    return fail(file, "version %lu of the layout; this program reads version %d",
                (unsigned long)number(bytes + 8, 4), VERSION);
  for (left = number(bytes + 20, 4); left > 0; left--) {
    if (n < at + 1 || n < at + 1 + bytes[at] + 8) return cut(file, n, at + 9);
    at += 1 + bytes[at] + 8;
  }
  if (n < at + 4) return cut(file, n, at + 4);
  at += 4 + POINT_BYTES * (size_t)number(bytes + at, 4);
  if (n < at + 4) return cut(file, n, at + 4);
  steps = (size_t)number(bytes + at, 4);
  at += 4;
  if (n < at + steps * STEP_BYTES + CHECKSUM_BYTES)
    return cut(file, n, at + steps * STEP_BYTES + CHECKSUM_BYTES);
  if (n > at + steps * STEP_BYTES + CHECKSUM_BYTES)
    return fail(file, "more than %lu bytes", (unsigned long)(at + steps * STEP_BYTES + 8));
  for (i = 0; i < n - CHECKSUM_BYTES; i++) hash = (hash ^ bytes[i]) * UINT64_C(0x100000001b3);
  if (hash != number(bytes + n - CHECKSUM_BYTES, 8))
    return fail(file, "damaged: the checksum does not fit");
  if (number(bytes + 12, 8) != stopwell_settings_fingerprint)
    return fail(file, "settings %016llx; this controller has %016llx",
                (unsigned long long)number(bytes + 12, 8),
                (unsigned long long)stopwell_settings_fingerprint);
  stopwell_init();
  for (i = 0; i < steps; i++, at += STEP_BYTES) {
    const unsigned char *result = bytes + at + 8 + INPUT_BYTES;
    stopwell_input in;
    stopwell_output out;
    const char *what;
    read_input(bytes + at + 8, &in);
    stopwell_step(i64(bytes + at), &in, &out);
    what = difference(result, &out);
    if (what == NULL && stopwell_hash() != number(result + OUTPUT_BYTES, 8))
      what = "the hash of the state";
    if (what != NULL)
      return fail(file, "step %lu, byte %lu: %s differs", (unsigned long)i, (unsigned long)at,
                  what);
  }
  printf("%s: %lu steps agree\n", file, (unsigned long)steps);
  return 1;
}

int main(int argc, char **argv) {
  int ok = argc > 1, i;
  for (i = 1; i < argc; i++) {
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
      ok = fail(argv[i], "cannot be read");
    free(bytes);
    if (f) fclose(f);
  }
  return ok ? 0 : 1;
}
