/*
 * The tooth input: it measures the impedance between file clip and lip clip.
 *
 * A pin drives a square wave through a capacitor and a resistor into the tooth, beside which a resistor
 * keeps the open circuit within the converter's range. The converter samples
 * the file clip once at each of many even phases of the wave, over several periods. The sum of the
 * samples, each times the turned phase, is the fundamental; harmonics up to the number of phases fall
 * out. The same is done with nothing and with a known resistor in place of the tooth, so source,
 * capacitor, converter and delays drop out:
 *
 *   Z = R (V0 - VR) / VR * V / (V0 - V)
 */
#ifndef TOOTH_H
#define TOOTH_H

#include <stdbool.h>
#include <stdint.h>

#define TOOTH_FREQUENCIES 4
#define TOOTH_LEAST_HZ 280 /* slower takes too long */
#define TOOTH_MOST_HZ 20500 /* quicker has too few counts */
#define TOOTH_OPEN_MILLIOHMS INT32_MAX

/* How a frequency is driven and sampled. */
struct tooth_wave {
  uint16_t divider;   /* of the controller's clock: 8, 64 or 256 */
  uint16_t half;      /* counts of half a period, at most 256 */
  uint16_t stride;    /* counts from one sample to the next, up to three periods */
  uint16_t turn;      /* of a count, 1/65536 of a period */
  uint8_t phases;     /* samples, at even phases */
};

/* Of one slice: the fundamental, and whether the converter reached an end. */
struct tooth_sums {
  int32_t cosine;
  int32_t sine;
  bool railed;
};

/* 127 times cosine and sine of a phase. */
struct tooth_turn {
  int16_t cosine;
  int16_t sine;
};

/* The fundamentals of one frequency that belong to the input and not to the tooth. */
struct tooth_known {
  struct tooth_sums open;
  struct tooth_sums check;
};

struct tooth_ohms {
  float real;
  float imag;
};

/* The wave nearest to a frequency; false outside of the limits. */
bool tooth_wave(int32_t hertz, struct tooth_wave *wave);

/* The phase of a count of the period, 0 to 2 * half - 1. */
struct tooth_turn tooth_turned(const struct tooth_wave *wave, uint16_t count);

/* Takes a sample of the converter, 0 to 1023, at a phase. */
void tooth_add(struct tooth_sums *sums, struct tooth_turn turn, uint16_t sample);

/* The impedance of the tooth; false for an open circuit, above 1 Mohm. */
bool tooth_impedance(const struct tooth_known *known, const struct tooth_sums *sums, float check_ohms,
                     struct tooth_ohms *ohms);

/* The resistance of the source that open circuit and check resistor give; 0 where the converter reached
 * an end. */
float tooth_source_ohms(const struct tooth_known *known, float check_ohms);

#endif
