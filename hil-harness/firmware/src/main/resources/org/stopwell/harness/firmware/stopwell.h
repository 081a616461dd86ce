/* The controller of Stopwell. C99, freestanding: no operating system, no heap, no recursion.
 *
 * Bench and research use; not a medical device, not for use on a person. A software stop is not a
 * safety function.
 *
 *   stopwell_init();                     once, at power-on
 *   for every frame, about 1000 a second:
 *     stopwell_step(now_ns, &in, &out);  then obey out
 *
 * One controller, one caller: a step is not reentrant. Time is the caller's; it starts anywhere and
 * never goes backwards. Units are in the names. */
#ifndef STOPWELL_H
#define STOPWELL_H

#include <stdint.h>

#define STOPWELL_FREQUENCIES 4

@CODES@
/* What the board has measured. */
typedef struct stopwell_input {
  int64_t sample_sequence;  /* counts samples: the same number means that nothing new has come */
  int64_t sample_time_ns;   /* when the sample was taken, on the time line of now_ns */
  int64_t link_age_ns;      /* age of the newest answer of the motor side */
  int32_t frequency_count;  /* 0 to STOPWELL_FREQUENCIES */
  int32_t frequency_hz[STOPWELL_FREQUENCIES];         /* ascending */
  int32_t z_real_milli_ohm[STOPWELL_FREQUENCIES];     /* from file to lip clip */
  int32_t z_imag_milli_ohm[STOPWELL_FREQUENCIES];
  int32_t distance_um;      /* an outside locator: tip to foramen, positive short of it */
  int32_t insertion_um;     /* depth of the tip below the reference point, positive deeper */
  int32_t speed_milli_rpm;  /* at the file, positive in the cutting direction */
  int32_t torque_micro_newton_metre;
  int32_t current_milli_ampere;
  int32_t supply_milli_volt; /* 0 when it is not measured */
  uint8_t position_kind;     /* STOPWELL_POSITION_KIND_... */
  uint8_t stage;             /* STOPWELL_STAGE_... */
  uint8_t railed;            /* the converter was saturated during the sample */
  uint8_t demand;            /* the operator asks for motion */
  uint8_t stop_line;         /* the emergency-stop line is open */
  uint8_t reset;             /* the operator holds the reset */
  uint8_t insertion_present; /* insertion_um is measured */
} stopwell_input;

/* What the board must do, and what the controller knows. */
typedef struct stopwell_output {
  int32_t speed_milli_rpm; /* at the file, never negative: drive holds the direction */
  int32_t torque_limit_micro_newton_metre; /* the motor side must not exceed it */
  int32_t remaining_um;    /* tip to foramen, positive short of it */
  int32_t bound_um;        /* the error is within it 95 times in 100; 0: none stated */
  uint8_t drive;           /* STOPWELL_DRIVE_... */
  uint8_t state;           /* STOPWELL_STATE_... */
  uint8_t trust;           /* STOPWELL_TRUST_... */
  uint8_t cause;           /* STOPWELL_CAUSE_... */
  uint8_t reason;          /* STOPWELL_REASON_... */
  uint8_t reading_present; /* remaining_um holds a reading */
} stopwell_output;

/* Power-on: may be called again, and brings back the state of a power-on. */
void stopwell_init(void);

/* One step. */
void stopwell_step(int64_t now_ns, const stopwell_input *in, stopwell_output *out);

/* The hash of the whole state after the last step: equal to that of the Java controller. */
uint64_t stopwell_hash(void);

/* What the length stage has taught about a canal, to keep in memory that outlives the power. */
#define STOPWELL_CANAL_NUMBERS @CANAL_NUMBERS@
typedef struct stopwell_canal {
  uint64_t weights_fingerprint; /* of the weights that learned it */
  double numbers[STOPWELL_CANAL_NUMBERS];
} stopwell_canal;

/* Fills canal. 0: nothing was learned, or the settings have no policy that learns. Without a power
 * cut nothing needs to be done: later stages use what the length stage has learned. */
int stopwell_learned(stopwell_canal *canal);

/* After stopwell_init and before the first step of a later stage of the same canal. 0: not in use,
 * since other weights learned it or a number is out of range. */
int stopwell_recall(const stopwell_canal *canal);

/* Of settings, curve and weights together; of the weights alone, 0 without; of the code. */
extern const uint64_t stopwell_settings_fingerprint;
extern const uint64_t stopwell_weights_fingerprint;
extern const uint64_t stopwell_build_fingerprint;

/* The frequencies that the settings ask the front end for; none with an outside locator. */
extern const int32_t stopwell_frequency_count;
extern const int32_t stopwell_frequency_hz[];

#endif
