#include "canal.h"

#include <string.h>

#include "stage.h"
#include "steps.h"
#include "sw_board.h"
#include "sw_text.h"

#define RAILED_BELOW (16 * 10) /* below 10 steps of the converter, about 100 ohm */
#define TWO_PI 6.2831853f
#define PERIOD_NS 10000000UL /* an exchange takes 8 ms in the emulator, most of it sums and the line */

enum given { KIND = 1, LENGTH = 2, BODY = 4, SLOPE = 8, SHUNT = 16, SIGNAL = 32, FREQUENCY = 64 };
#define ALL_GIVEN (KIND | LENGTH | BODY | SLOPE | SHUNT | SIGNAL | FREQUENCY)

static struct steps_scene scene;
static struct steps steps;
static int32_t frequency_hz[4];
static uint8_t given;
static volatile bool following; /* false while anything else than canal_follow moves relays */
static uint16_t shown;
static uint16_t capacitors; /* their bits of a word, the same at every position */
static uint32_t tens_of_picofarads;
static uint32_t first_sample;

static void show(uint16_t word) {
  shown = word;
  hw_word(word);
}

void canal_follow(void) {
  static int32_t shown_at;
  uint16_t word = LADDER_OPEN;
  int32_t at = hw_steps();
  if (!following || (at == shown_at && shown != LADDER_OPEN)) {
    return;
  }
  shown_at = at;
  uint16_t ohms = steps_at(&steps, stage_remaining_microns(at, canal_calibration.home_microns,
                                                           canal_calibration.step_nanometres));
  if (ohms != STEPS_OPEN_OHMS) {
    word = ladder_word(&canal_calibration.ladder, ohms * 10UL) | capacitors;
  }
  if (word != shown) {
    show(word);
  }
}

int64_t sw_plant_clock_ns(void) { return hw_clock_ns(); }

void sw_plant_identity(struct sw_identity *identity) {
  sw_name(identity, PSTR("canal board"), PSTR("stopwell canal"), canal_calibration.serial_number,
          sizeof canal_calibration.serial_number);
  identity->has_truth = 1;
  identity->has_position = 1;
  identity->period_ns = PERIOD_NS;
}

/* The power of this board is its circuit: without it the device under test reads an open one. */
void sw_plant_off(void) {
  following = false;
  show(LADDER_OPEN);
  hw_excite(false);
}

void sw_plant_mount_begin(void) {
  given = 0;
  capacitors = 0;
  tens_of_picofarads = 0;
}

static const char *number(const struct sw_mount_value *value, uint8_t decimals, enum given what,
                          int32_t *to) {
  if (value->decimals != decimals || value->value < 0 || value->value > INT32_MAX) {
    return PSTR("not a number with the decimals that this board knows");
  }
  *to = (int32_t)value->value;
  given |= (uint8_t)what;
  return NULL;
}

/* The sum of capacitors that is nearest to what a scene wants, if it is within 5 % of it. */
static const char *capacitance(const struct sw_mount_value *value) {
  const char *why = PSTR("no sum of this board's capacitors is within 5 % of it");
  if (value->decimals != 1 || value->value < 0 || value->value > 10000) {
    return why;
  }
  uint32_t wanted = (uint32_t)value->value * 10; /* tenths of nF to tens of pF */
  uint32_t nearest = UINT32_MAX;
  for (uint8_t code = 0; code < 1 << CANAL_CAPACITORS; code++) {
    uint32_t sum = 0;
    for (uint8_t k = 0; k < CANAL_CAPACITORS; k++) {
      sum += code >> k & 1 ? canal_calibration.capacitor_tens_of_picofarads[k] : 0;
    }
    uint32_t off = sum > wanted ? sum - wanted : wanted - sum;
    if (off < nearest) {
      nearest = off;
      tens_of_picofarads = sum;
      capacitors = (uint16_t)((uint16_t)code << CANAL_CAPACITOR_BIT);
    }
  }
  return nearest * 20 <= wanted ? NULL : why;
}

static const char *frequency(const struct sw_mount_value *value) {
  uint8_t which = (uint8_t)(value->key[20] - '1'); /* front_end.frequency_1_hz */
  return which < 4 ? number(value, 0, FREQUENCY, &frequency_hz[which]) : PSTR("no such frequency");
}

/* The keys of a tooth, its fluid and its file mean nothing to resistors and are passed over. */
const char *sw_plant_value(const struct sw_mount_value *value) {
  const char *key = value->key;
  uint8_t bytes = value->key_bytes;
  if (sw_is(key, bytes, PSTR("canal.kind"))) {
    given |= KIND;
    return sw_is(value->word, value->word_bytes, PSTR("resistors"))
               ? NULL
               : PSTR("this board is made of resistors: only resistors can be");
  }
  if (sw_is(key, bytes, PSTR("front_end.signal"))) {
    given |= SIGNAL;
    return sw_is(value->word, value->word_bytes, PSTR("impedance"))
               ? NULL
               : PSTR("this board measures its own ladder: only impedance can be");
  }
  if (sw_is(key, bytes, PSTR("canal.parallel_nf"))) {
    return capacitance(value);
  }
  if (sw_is(key, bytes, PSTR("canal.length_mm"))) {
    return value->value > STEPS_LONGEST_MICRONS ? PSTR("the table of steps ends at 30 mm")
                                                : number(value, 3, LENGTH, &scene.length_microns);
  }
  if (sw_is(key, bytes, PSTR("canal.body_ohm"))) {
    return number(value, 0, BODY, &scene.body_ohms);
  }
  if (sw_is(key, bytes, PSTR("canal.ohm_per_mm"))) {
    return number(value, 0, SLOPE, &scene.ohms_per_mm);
  }
  if (sw_is(key, bytes, PSTR("canal.shunt_ohm"))) {
    return number(value, 0, SHUNT, &scene.shunt_ohms);
  }
  if (bytes == 24 && sw_is(key, 20, PSTR("front_end.frequency_"))) {
    return frequency(value);
  }
  return NULL;
}

static uint32_t measured_milliohms(uint16_t word) {
  struct canal_sample sample;
  show(word);
  hw_settle();
  hw_sample(&sample);
  return ladder_measured_milliohms(canal_calibration.reference_deciohms, sample.sum);
}

/* Every resistor alone, then none: a relay that sticks or a joint that came loose shows. */
static uint8_t self_measure(char *why, uint8_t room) {
  const struct ladder *ladder = &canal_calibration.ladder;
  for (uint8_t k = 0; k <= LADDER_RESISTORS; k++) {
    uint16_t word = (uint16_t)(LADDER_MAIN | (LADDER_ALL & ~(1u << k)));
    uint32_t wanted = ladder_deciohms(ladder, word);
    uint32_t measured = measured_milliohms(word);
    if (!ladder_plausible(wanted, measured)) {
      uint8_t bytes = sw_text(why, room, PSTR("ladder, resistor "));
      bytes = sw_number(why, room, bytes, k);
      bytes += sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(": "));
      bytes = sw_number(why, room, bytes, measured / 1000);
      bytes += sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(" ohm measured, "));
      bytes = sw_number(why, room, bytes, wanted / 10);
      return bytes + sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(" ohm wanted"));
    }
  }
  return 0;
}

static uint16_t greatest_ohms(void) {
  uint32_t ohms = ladder_deciohms(&canal_calibration.ladder, LADDER_MAIN) / 10;
  return ohms < STEPS_OPEN_OHMS ? (uint16_t)ohms : STEPS_OPEN_OHMS - 1;
}

uint8_t sw_plant_mount(char *why, uint8_t room) {
  if (given != ALL_GIVEN) {
    return sw_text(why, room, PSTR("the scene lacks a value that this board needs"));
  }
  if (!hw_homed()) {
    return sw_text(why, room, PSTR("the stage has not been at its home switch since the reset"));
  }
  if (!steps_fill(&steps, &scene, greatest_ohms())) {
    uint8_t bytes = sw_text(why, room, PSTR("more resistance at the orifice than the ladder has, "));
    bytes = sw_number(why, room, bytes, greatest_ohms());
    return bytes + sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(" ohm"));
  }
  hw_excite(true);
  uint8_t bytes = self_measure(why, room);
  if (bytes) {
    sw_plant_off();
    return bytes;
  }
  show(LADDER_OPEN);
  following = true;
  hw_settle();
  struct canal_sample sample;
  hw_sample(&sample);
  first_sample = sample.sequence - 1;
  return 0;
}

/* There is no motor on this board; a command only says that the host is alive and goes on. */
void sw_plant_obey(const struct sw_exchange *command) {
  (void)command;
  hw_excite(true);
  following = true;
}

bool sw_plant_stage(struct sw_message *m) {
  (void)m;
  return false;
}

void sw_plant_read(struct sw_reading *reading, const struct sw_board *board) {
  struct canal_sample sample;
  hw_sample(&sample);
  int64_t at_ns = board->running ? sample.at_ns - board->zero_ns : 0;
  uint32_t milliohms =
      ladder_measured_milliohms(canal_calibration.reference_deciohms, sample.sum);
  reading->position_kind = SW_READING_POSITION_KIND_IMPEDANCE;
  reading->sample_sequence = sample.sequence - first_sample;
  reading->sample_time_ns = at_ns > 0 ? at_ns : 0;
  reading->railed = sample.sum < RAILED_BELOW;
  /* Resistance as measured, with direct current; capacitance as the calibration says: R and C side
   * by side are R (1 - jx) / (1 + x²) with x = 2 pi f R C. */
  uint8_t count = 0;
  while (count < 4 && frequency_hz[count] > 0) {
    reading->frequency_hz[count] = frequency_hz[count];
    float x = TWO_PI * (float)frequency_hz[count] * (float)milliohms * 1e-3f *
              (float)tens_of_picofarads * 1e-11f;
    float real = (float)milliohms / (1 + x * x);
    bool resistors_alone = tens_of_picofarads == 0;
    reading->z_real_milli_ohms[count] =
        resistors_alone || milliohms == INT32_MAX ? (int32_t)milliohms : (int32_t)real;
    reading->z_imag_milli_ohms[count] =
        resistors_alone || milliohms == INT32_MAX ? 0 : (int32_t)(-real * x);
    count++;
  }
  reading->frequency_hz_count = count;
  reading->z_real_milli_ohms_count = count;
  reading->z_imag_milli_ohms_count = count;
  reading->demand = 1;
  reading->stage = SW_READING_STAGE_LENGTH;
  reading->true_remaining_microns = stage_remaining_microns(
      hw_steps(), canal_calibration.home_microns, canal_calibration.step_nanometres);
}
