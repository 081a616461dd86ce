/* The device board without its hardware: it plays a chain to a device under test and watches it. */
#ifndef DEVICE_H
#define DEVICE_H

#include <stdbool.h>
#include <stdint.h>

#include "chain.h"
#include "sw_messages.h"
#include "watch.h"

/* Data of one board, from the calibration; stored in its EEPROM. */
struct device_calibration {
  char serial_number[16];
  int32_t home_microns;        /* tip to foramen with the shank scale at its home switch */
  uint16_t step_nanometres;    /* of the shank scale */
  uint16_t force_micronewtons; /* of a step of the converter */
  uint16_t force_zero;         /* steps of the converter without force */
  uint16_t heard_above;        /* steps of the converter: the microphone hears a motor */
  uint32_t reference_deciohms; /* between supply and test node */
  uint16_t hold_picofarads;    /* at the test node */
};

extern struct device_calibration device_calibration;
extern const struct chain device_chain; /* in the EEPROM */

/* What the chain is connected to. */
enum device_circuit {
  APART,      /* nothing: all three relays at rest */
  GROUNDED,   /* its foot to ground only: it discharges */
  MEASURED,   /* test node and ground, for its resistances */
  FLOATING,   /* test node only, for its insulation */
  AT_DEVICE,  /* both ends to the device, nothing else */
};

/* Call it at a steady rate, twice a ms, with what the sensors say; interrupts allowed. */
void device_sample(uint16_t angle, uint16_t force_steps, uint16_t sound_steps);

/* Sets the chain for the place of the shank, in parts: call it after each sample. A place is shown 4 ms
 * after it was read. */
void device_follow(void);

/* Functions of the hardware. */
void hw_lines(bool turns, bool free); /* to the drive board: the file turns; the force is below its limit */
int64_t hw_clock_ns(void);
int32_t hw_steps(void); /* of the shank scale, since home */
bool hw_homed(void);
uint32_t hw_each_ns(void); /* from tick to tick */
void hw_lock(bool locked); /* keeps both out during a change */
void hw_codes(const struct chain_codes *codes);
/* Relays that open, and 0.1 ms later those that close; by the tick alone. */
void hw_step(const struct chain_codes *through, const struct chain_codes *to);
void hw_circuit(enum device_circuit circuit); /* at once; relays take up to 3 ms (assumed) */
void hw_charge(bool on);   /* supply to the reference resistor */
void hw_wait_ms(uint8_t count);
uint16_t hw_test_node(void); /* a sum of 16 samples of the converter */

#endif
