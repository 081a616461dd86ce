#include "tooth.h"

#include <math.h>

#include "sw_text.h"

#ifndef F_CPU
#define F_CPU 14745600UL
#endif

#define MOST_PHASES 120
#define LEAST_HARMONIC 87 /* a lower one must not fall on the fundamental */
#define MOST_CYCLES 110000UL /* 7.5 ms */
#define BUSY_CYCLES 765UL /* a conversion of 25 clocks of F_CPU / 16, and the work on its sample */
#define BIAS 512        /* the lip clip is held at half of the supply */
#define LEAST_SAMPLE 8  /* the amplifier does not reach its supplies (assumed) */
#define MOST_SAMPLE 1015
#define OPEN_OHMS 1e6f

/* 127 sin, a quarter of a period in 64 steps. */
static const int8_t QUARTER[65] PROGMEM = {
    0,   3,   6,   9,   12,  16,  19,  22,  25,  28,  31,  34,  37,  40,  43,  46,  49,
    51,  54,  57,  60,  63,  65,  68,  71,  73,  76,  78,  81,  83,  85,  88,  90,  92,
    94,  96,  98,  100, 102, 104, 106, 107, 109, 111, 112, 113, 115, 116, 117, 118, 120,
    121, 122, 122, 123, 124, 125, 125, 126, 126, 126, 127, 127, 127, 127};

static int8_t quarter(uint8_t step) {
#ifdef __AVR__
  return (int8_t)pgm_read_byte(&QUARTER[step]);
#else
  return QUARTER[step];
#endif
}

/* Of a whole period in 256 steps. */
static int16_t sine_of(uint8_t angle) {
  uint8_t within = angle & 63;
  switch (angle >> 6) {
  case 0:
    return quarter(within);
  case 1:
    return quarter((uint8_t)(64 - within));
  case 2:
    return (int16_t)-quarter(within);
  default:
    return (int16_t)-quarter((uint8_t)(64 - within));
  }
}

static uint16_t divisor(uint16_t a, uint16_t b) {
  while (b) {
    uint16_t rest = a % b;
    a = b;
    b = rest;
  }
  return a;
}

/* The quickest way through even phases: every phase once, none before the last sample is done. A square
 * wave has odd harmonics only; those next to a multiple of the number of phases fall on the fundamental. */
static bool phases(struct tooth_wave *wave) {
  uint16_t period = 2 * wave->half;
  uint32_t best = MOST_CYCLES;
  wave->phases = 0;
  for (uint16_t step = 1; step <= period / 3; step++) {
    uint16_t count = period / step;
    uint16_t harmonic = (uint16_t)((count % 2 ? 2 * count : count) - 1);
    if (period % step || count > MOST_PHASES || harmonic < LEAST_HARMONIC) {
      continue;
    }
    for (uint16_t k = 1; k <= 3 * count; k++) {
      uint32_t cycles = (uint32_t)k * step * wave->divider;
      /* The poll comes a count before that of the sample, or eight quick ones. */
      uint16_t early = wave->divider == 8 ? 64 : wave->divider;
      if (cycles >= BUSY_CYCLES + early && divisor(k, count) == 1) {
        if (cycles * count < best) {
          best = cycles * count;
          wave->turn = (uint16_t)(32768 / wave->half);
          wave->phases = (uint8_t)count;
          wave->stride = k * step;
        }
        break;
      }
    }
  }
  return wave->phases > 0;
}

bool tooth_wave(int32_t hertz, struct tooth_wave *wave) {
  static const uint16_t dividers[] = {8, 64, 256};
  if (!(hertz >= TOOTH_LEAST_HZ && hertz <= TOOTH_MOST_HZ)) {
    return false;
  }
  for (uint8_t i = 0; i < 3; i++) {
    uint32_t both = (uint32_t)2 * dividers[i] * (uint32_t)hertz;
    uint32_t nearest = ((uint32_t)F_CPU + both / 2) / both;
    wave->divider = dividers[i];
    /* Other counts, as far as the frequency stays within 2.5 %: test/check_canal.c. */
    for (uint8_t more = 0; more <= nearest / 40 + 1 && nearest <= 254; more++) {
      for (uint8_t less = 0; less < 2; less++) {
        wave->half = (uint16_t)(less ? nearest - more : nearest + more);
        if (wave->half <= 256 && phases(wave)) {
          return true;
        }
      }
    }
  }
  return false;
}

struct tooth_turn tooth_turned(const struct tooth_wave *wave, uint16_t count) {
  uint8_t angle = (uint8_t)((uint32_t)count * wave->turn >> 8);
  return (struct tooth_turn){sine_of((uint8_t)(angle + 64)), sine_of(angle)};
}

void tooth_add(struct tooth_sums *sums, struct tooth_turn turn, uint16_t sample) {
  int16_t value = (int16_t)(sample - BIAS);
  sums->cosine += (int32_t)value * turn.cosine;
  sums->sine -= (int32_t)value * turn.sine;
  sums->railed |= sample < LEAST_SAMPLE || sample > MOST_SAMPLE;
}

static struct tooth_ohms of(const struct tooth_sums *sums) {
  return (struct tooth_ohms){(float)sums->cosine, (float)sums->sine};
}

static struct tooth_ohms minus(struct tooth_ohms a, struct tooth_ohms b) {
  return (struct tooth_ohms){a.real - b.real, a.imag - b.imag};
}

static float squared(struct tooth_ohms a) { return a.real * a.real + a.imag * a.imag; }

static struct tooth_ohms by(struct tooth_ohms a, struct tooth_ohms b) {
  float size = squared(b);
  return (struct tooth_ohms){(a.real * b.real + a.imag * b.imag) / size,
                             (a.imag * b.real - a.real * b.imag) / size};
}

static struct tooth_ohms times(struct tooth_ohms a, struct tooth_ohms b) {
  return (struct tooth_ohms){a.real * b.real - a.imag * b.imag, a.real * b.imag + a.imag * b.real};
}

/* What the input is from the side of the tooth. */
static struct tooth_ohms source(const struct tooth_known *known, float check_ohms) {
  struct tooth_ohms check = of(&known->check);
  struct tooth_ohms ohms = by(minus(of(&known->open), check), check);
  return (struct tooth_ohms){ohms.real * check_ohms, ohms.imag * check_ohms};
}

bool tooth_impedance(const struct tooth_known *known, const struct tooth_sums *sums, float check_ohms,
                     struct tooth_ohms *ohms) {
  struct tooth_ohms here = of(sums);
  struct tooth_ohms rest = minus(of(&known->open), here);
  if (!(squared(rest) > squared(here) * 1e-4f)) {
    return false;
  }
  *ohms = times(source(known, check_ohms), by(here, rest));
  return squared(*ohms) < OPEN_OHMS * OPEN_OHMS;
}

float tooth_source_ohms(const struct tooth_known *known, float check_ohms) {
  bool dead = known->open.railed || known->check.railed || squared(of(&known->check)) == 0;
  return dead ? 0 : sqrtf(squared(source(known, check_ohms)));
}
