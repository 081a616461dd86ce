/* The controller: generated from the class files of the Java controller, the same bits. Compile
 * without contraction of floating point (-ffp-contract=off): it rounds once where Java rounds
 * twice. Right shifts of negative numbers must be arithmetic, as with gcc and clang. */
#if defined(__GNUC__)
/* What Java passes and keeps, and C does not always need. */
#pragma GCC diagnostic ignored "-Wunused-parameter"
#pragma GCC diagnostic ignored "-Wunused-but-set-variable"
#endif
#include "stopwell.h"

#include "stopwell_model.h"

void *memmove(void *to, const void *from, size_t bytes);

/* What the Java controller proves never to happen. The watchdog must reset the board. */
#ifndef STOPWELL_TRAP
#define STOPWELL_TRAP() \
  for (;;) {            \
  }
#endif

static int32_t stopwell_trap(void) {
  STOPWELL_TRAP();
  return 0;
}

/* With STOPWELL_CHECKED every index is checked. */
#ifdef STOPWELL_CHECKED
#define AT(array, index) \
  ((uint32_t)(index) < (uint32_t)LENGTH(array) ? (index) : stopwell_trap())
#else
#define AT(array, index) (index)
#endif

/* Java's whole numbers wrap; its shifts take the count modulo the width. */
#define ADD32(a, b) ((int32_t)((uint32_t)(a) + (uint32_t)(b)))
#define SUB32(a, b) ((int32_t)((uint32_t)(a) - (uint32_t)(b)))
#define MUL32(a, b) ((int32_t)((uint32_t)(a) * (uint32_t)(b)))
#define SHL32(a, b) ((int32_t)((uint32_t)(a) << ((b)&31)))
#define USHR32(a, b) ((int32_t)((uint32_t)(a) >> ((b)&31)))
#define ADD64(a, b) ((int64_t)((uint64_t)(a) + (uint64_t)(b)))
#define SUB64(a, b) ((int64_t)((uint64_t)(a) - (uint64_t)(b)))
#define MUL64(a, b) ((int64_t)((uint64_t)(a) * (uint64_t)(b)))
#define SHL64(a, b) ((int64_t)((uint64_t)(a) << ((b)&63)))
#define USHR64(a, b) ((int64_t)((uint64_t)(a) >> ((b)&63)))
#define MIN(a, b) ((a) < (b) ? (a) : (b))
#define MAX(a, b) ((a) > (b) ? (a) : (b))

#if defined(__GNUC__)
#define MAYBE_UNUSED __attribute__((unused))
#else
#define MAYBE_UNUSED
#endif
#define HELPER static inline MAYBE_UNUSED

HELPER int32_t stopwell_div32(int32_t a, int32_t b) { return b == -1 ? SUB32(0, a) : a / b; }
HELPER int32_t stopwell_rem32(int32_t a, int32_t b) { return b == -1 ? 0 : a % b; }
HELPER int64_t stopwell_div64(int64_t a, int64_t b) { return b == -1 ? SUB64(0, a) : a / b; }
HELPER int64_t stopwell_rem64(int64_t a, int64_t b) { return b == -1 ? 0 : a % b; }

HELPER int64_t stopwell_floor_div(int64_t a, int64_t b) {
  int64_t quotient = stopwell_div64(a, b);
  return (a < 0) != (b < 0) && MUL64(quotient, b) != a ? quotient - 1 : quotient;
}

HELPER int32_t stopwell_abs32(int32_t a) { return a < 0 ? SUB32(0, a) : a; }
HELPER int64_t stopwell_abs64(int64_t a) { return a < 0 ? SUB64(0, a) : a; }

HELPER int64_t stopwell_rotate(int64_t a, int32_t b) {
  return (int64_t)((uint64_t)a << (b & 63) | (uint64_t)a >> (-b & 63));
}

/* A union and not memcpy: without the built-in functions of a compiler that is a call. */
typedef union stopwell_number {
  double value;
  int64_t bits;
} stopwell_number;

HELPER int64_t stopwell_bits(double a) {
  stopwell_number number;
  number.value = a;
  return number.bits;
}

HELPER double stopwell_double(int64_t bits) {
  stopwell_number number;
  number.bits = bits;
  return number.value;
}

HELPER int64_t stopwell_canonical_bits(double a) {
  return a != a ? INT64_C(0x7ff8000000000000) : stopwell_bits(a);
}

HELPER double stopwell_abs(double a) { return stopwell_double(stopwell_bits(a) & INT64_MAX); }

HELPER double stopwell_min(double a, double b) {
  if (a != a) return a;
  if (a == 0 && b == 0) return stopwell_bits(b) < 0 ? b : a;
  return a <= b ? a : b;
}

HELPER double stopwell_max(double a, double b) {
  if (a != a) return a;
  if (a == 0 && b == 0) return stopwell_bits(a) < 0 ? b : a;
  return a >= b ? a : b;
}

/* The processor converts as Java does: towards zero, held within 32 bits, 0 for no number. */
HELPER int32_t stopwell_to32(double a) {
#if defined(__ARM_FP) && (__ARM_FP & 8)
  union {
    float single;
    int32_t whole;
  } number;
  __asm__("vcvt.s32.f64 %0, %P1" : "=t"(number.single) : "w"(a));
  return number.whole;
#else
  if (a != a) return 0;
  if (a >= 2147483647.0) return INT32_MAX;
  if (a <= -2147483648.0) return INT32_MIN;
  return (int32_t)a;
#endif
}

HELPER int64_t stopwell_to64(double a) {
  if (a != a) return 0;
  if (a >= 0x1p63) return INT64_MAX;
  if (a <= -0x1p63) return INT64_MIN;
  return (int64_t)a;
}

HELPER double stopwell_floor(double a) {
  double whole;
  if (!(a > -0x1p52 && a < 0x1p52)) return a;
  whole = a > -0x1p31 && a < 0x1p31 ? (double)(int32_t)a : (double)(int64_t)a;
  if (whole > a) whole -= 1;
  return whole == 0 ? stopwell_double(stopwell_bits(a) & INT64_MIN) : whole;
}

/* The square root, rounded to the nearest: by the processor where it has one for double
 * precision, else bit by bit. */
HELPER double stopwell_sqrt(double a) {
#if defined(__ARM_FP) && (__ARM_FP & 8)
  double result;
  __asm__("vsqrt.f64 %P0, %P1" : "=w"(result) : "w"(a));
  return result;
#else
  int64_t bits = stopwell_bits(a);
  int32_t exponent = (int32_t)(bits >> 52);
  uint64_t mantissa = (uint64_t)bits & UINT64_C(0xfffffffffffff);
  uint64_t root = 0;
  uint64_t rest = 0;
  int i;
  if (a != a || a == 0) return a;
  if (a < 0) return stopwell_double(INT64_C(0x7ff8000000000000));
  if (exponent == 0x7ff) return a;
  if (exponent == 0) {
    exponent = 1;
    while (!(mantissa >> 52)) {
      mantissa <<= 1;
      exponent--;
    }
  } else {
    mantissa |= UINT64_C(1) << 52;
  }
  exponent -= 1075;
  if (exponent & 1) {
    mantissa <<= 1;
    exponent--;
  }
  mantissa <<= 10; /* 54 bits, the highest first */
  for (i = 0; i < 54; i++) {
    uint64_t trial;
    rest = rest << 2 | mantissa >> 62;
    mantissa <<= 2;
    trial = root << 2 | 1;
    root <<= 1;
    if (rest >= trial) {
      rest -= trial;
      root |= 1;
    }
  }
  root = (root >> 1) + (root & 1); /* a tie cannot be */
  return stopwell_double(((int64_t)(exponent / 2 + 26 + 1023) << 52) +
                         (int64_t)(root - (UINT64_C(1) << 52)));
#endif
}

HELPER int32_t stopwell_ordinal(const void *a) { return ((const struct Enum *)a)->ordinal; }

HELPER void stopwell_copy(const void *from, int32_t at, void *to, int32_t place, int32_t count,
                          size_t size) {
  memmove((char *)to + (size_t)place * size, (const char *)from + (size_t)at * size,
          (size_t)count * size);
}

@CONSTANTS@
@DECLARATIONS@
@FUNCTIONS@

void stopwell_step(int64_t now_ns, const stopwell_input *in, stopwell_output *out) {
  struct ControllerInput *to = stopwell_frame_in;
  struct ControllerOutput *from = stopwell_frame_out;
  int i;
  to->sampleSequence = in->sample_sequence;
  to->sampleTimeNs = in->sample_time_ns;
  to->linkAgeNs = in->link_age_ns;
  to->frequencyCount = in->frequency_count;
  for (i = 0; i < STOPWELL_FREQUENCIES; i++) {
    ((int32_t *)to->frequencyHz)[i] = in->frequency_hz[i];
    ((int32_t *)to->zRealMilliOhms)[i] = in->z_real_milli_ohm[i];
    ((int32_t *)to->zImagMilliOhms)[i] = in->z_imag_milli_ohm[i];
  }
  to->distanceMicrons = in->distance_um;
  to->insertionMicrons = in->insertion_um;
  to->speedMilliRpm = in->speed_milli_rpm;
  to->torqueMicroNewtonMetres = in->torque_micro_newton_metre;
  to->currentMilliAmps = in->current_milli_ampere;
  to->supplyMilliVolts = in->supply_milli_volt;
  to->positionKind = PositionKind_ofCode(in->position_kind);
  to->stage = Stage_ofCode(in->stage);
  to->railed = in->railed != 0;
  to->demand = in->demand != 0;
  to->stopLine = in->stop_line != 0;
  to->reset = in->reset != 0;
  to->insertionPresent = in->insertion_present != 0;
  @STEP@(stopwell_controller, now_ns, to, from);
  out->speed_milli_rpm = from->speedMilliRpm;
  out->torque_limit_micro_newton_metre = from->torqueLimitMicroNewtonMetres;
  out->remaining_um = from->remainingMicrons;
  out->bound_um = from->boundMicrons;
  out->drive = (uint8_t)stopwell_ordinal(from->drive);
  out->state = (uint8_t)stopwell_ordinal(from->state);
  out->trust = (uint8_t)stopwell_ordinal(from->trust);
  out->cause = (uint8_t)stopwell_ordinal(from->cause);
  out->reason = (uint8_t)stopwell_ordinal(from->reason);
  out->reading_present = from->readingPresent != 0;
}

uint64_t stopwell_hash(void) { return (uint64_t)@HASH@(stopwell_controller); }

@CANAL@