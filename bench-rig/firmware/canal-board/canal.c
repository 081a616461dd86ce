/*
 * The plant of the canal board: ladder, bank, stage encoder and tooth input.
 *
 * Who calls whom:
 *
 *   main.c      -> sw_avr.c    sw_avr_start, sw_avr_serve; the clock
 *   sw_avr.c    -> sw_board.c  sw_board_take for each request, sw_board_poll in between
 *   sw_avr.c    -> main.c      sw_plant_tick
 *   sw_board.c  -> canal.c     sw_plant_ functions: mount, obey, read, off
 *   sw_board.c  -> sw_avr.c    hw_firmware_hash
 *   canal.c     -> main.c      hw_ functions: pins, converter, encoder
 */
#include "canal.h"

#include <string.h>

#include "stage.h"
#include "steps.h"
#include "sw_board.h"
#include "sw_text.h"

#define RAILED_BELOW (16 * 10) /* below 10 steps of the converter, about 100 ohm */
#define TWO_PI 6.2831853f
#define PERIOD_NS 10000000UL /* an exchange takes 8 ms in the emulator, most of it sums and the line */
_Static_assert(PERIOD_NS >= SW_LEAST_PERIOD_NS && PERIOD_NS <= SW_MOST_PERIOD_NS,
               "the host refuses a period outside of its bounds");

enum given { KIND = 1, LENGTH = 2, BODY = 4, SLOPE = 8, SHUNT = 16, SIGNAL = 32, FREQUENCY = 64 };
#define ALL_GIVEN (KIND | LENGTH | BODY | SLOPE | SHUNT | SIGNAL | FREQUENCY)

enum kind { RESISTORS, NETWORK, TOOTH };

#define STRAY_PICOFARADS 60 /* contacts, a short wire, the converter's own (assumed) */
#define MOST_STRAY_PICOFARADS 150 /* more indicates a relay that sticks, or an extra cable */

static struct steps_scene scene;
static int32_t frequency_hz[TOOTH_FREQUENCIES];
static uint8_t given;
static volatile bool following; /* false while anything else than canal_follow moves relays */
static enum kind kind; /* network: the host names the steps */
static uint16_t shown;
static volatile uint16_t shown_code; /* of the bank */
static uint32_t first_sample;

/* A tooth needs no steps, and steps no tooth. */
static union {
  struct steps steps;
  struct {
    struct tooth_wave wave[TOOTH_FREQUENCIES];
    struct tooth_known known[TOOTH_FREQUENCIES];
    struct tooth_sums next[TOOTH_FREQUENCIES];
    struct tooth_sums done[TOOTH_FREQUENCIES]; /* the newest whole set */
    uint32_t sets;
    int64_t begun_ns; /* of the next set */
    int64_t done_ns;  /* the middle of the newest */
    uint8_t count;    /* frequencies */
    uint8_t at;       /* the next frequency */
    bool measuring;
  } tooth;
} of;

/* The tooth whose zero is set, 0: none; and the steps of the stage there. */
static int32_t zero_tooth;
static int32_t zero_steps;
static int32_t tooth_number;
static bool zero_here;

static void show(uint16_t word, uint16_t code) {
  shown = word;
  shown_code = code;
  hw_word(word | (uint16_t)(code >> BANK_ON_REGISTER << LADDER_RESISTORS), (uint8_t)code);
}

void canal_follow(void) {
  static int32_t shown_at;
  uint16_t word = LADDER_OPEN;
  uint16_t code = 0;
  int32_t at = hw_steps();
  if (!following || (at == shown_at && shown != LADDER_OPEN)) {
    return;
  }
  shown_at = at;
  struct steps_pair pair =
      steps_at(&of.steps, stage_remaining_microns(at, canal_calibration.home_microns,
                                               canal_calibration.step_nanometres));
  if (pair.ohms != STEPS_OPEN_OHMS) {
    word = ladder_word(&canal_calibration.ladder, pair.ohms * 10UL);
    code = bank_code(&canal_calibration.bank, pair.picofarads);
  }
  if (word != shown || code != shown_code) {
    show(word, code);
  }
}

int64_t sw_plant_clock_ns(void) { return hw_clock_ns(); }

void sw_plant_identity(struct sw_identity *identity) {
  sw_name(identity, PSTR("canal board"), PSTR("stopwell canal"), canal_calibration.serial_number,
          sizeof canal_calibration.serial_number);
  identity->has_truth = 1;
  identity->has_position = 1;
  identity->reads_tooth = canal_calibration.tooth_check_deciohms > 0;
  identity->most_steps = STEPS_NAMED;
  identity->period_ns = PERIOD_NS;
}

/* The power of this board is its circuit: without it the device under test reads an open one. */
void sw_plant_off(void) {
  following = false;
  show(LADDER_OPEN, 0);
  hw_excite(false);
  if (kind == TOOTH) {
    of.tooth.measuring = false;
    hw_tooth(TOOTH_OFF);
  }
}

void sw_plant_mount_begin(const struct sw_mount_begin *begin) {
  (void)begin;
  given = 0;
  kind = RESISTORS;
  tooth_number = 0;
  zero_here = false;
  scene.picofarads = 0;
  memset(&of, 0, sizeof of);
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

static const char *capacitance(const struct sw_mount_value *value) {
  bool known = value->decimals == 1 && value->value >= 0 && value->value <= UINT16_MAX / 100;
  uint16_t picofarads = known ? (uint16_t)(value->value * 100) : 0; /* from tenths of nF */
  scene.picofarads = picofarads;
  return known && bank_makes(&canal_calibration.bank, picofarads)
             ? NULL
             : PSTR("no sum of this board's capacitors is within 5 % of it");
}

static const char *frequency(const struct sw_mount_value *value) {
  uint8_t which = (uint8_t)(value->key[20] - '1'); /* front_end.frequency_1_hz */
  return which < 4 ? number(value, 0, FREQUENCY, &frequency_hz[which]) : PSTR("no such frequency");
}

static const char *kind_of(const struct sw_mount_value *value) {
  const char *word = value->word;
  uint8_t bytes = value->word_bytes;
  given |= KIND;
  if (sw_is(word, bytes, PSTR("tooth"))) {
    kind = TOOTH;
    return canal_calibration.tooth_check_deciohms > 0 ? NULL
                                                      : PSTR("this board has no tooth input");
  }
  kind = sw_is(word, bytes, PSTR("network")) ? NETWORK : RESISTORS;
  return kind == NETWORK || sw_is(word, bytes, PSTR("resistors"))
             ? NULL
             : PSTR("this board cannot play a model: only resistors, network or an extracted tooth");
}

/* The keys of a tooth, its fluid and its file mean nothing to resistors and are passed over. */
const char *sw_plant_value(const struct sw_mount_value *value) {
  const char *key = value->key;
  uint8_t bytes = value->key_bytes;
  if (sw_is(key, bytes, PSTR("canal.kind"))) {
    return kind_of(value);
  }
  if (sw_is(key, bytes, PSTR("front_end.signal"))) {
    given |= SIGNAL;
    return sw_is(value->word, value->word_bytes, PSTR("impedance"))
               ? NULL
               : PSTR("this board measures impedance: only impedance can be");
  }
  if (sw_is(key, bytes, PSTR("tooth.number"))) {
    tooth_number = (int32_t)value->value;
    return NULL;
  }
  if (sw_is(key, bytes, PSTR("tooth.zero"))) {
    zero_here = sw_is(value->word, value->word_bytes, PSTR("here"));
    return NULL;
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

static uint16_t greatest_ohms(void) {
  uint32_t ohms = ladder_deciohms(&canal_calibration.ladder, LADDER_MAIN) / 10;
  return ohms < STEPS_OPEN_OHMS ? (uint16_t)ohms : STEPS_OPEN_OHMS - 1;
}

const char *sw_plant_step(const struct sw_mount_step *step) {
  if (kind != NETWORK) {
    return PSTR("canal.kind asks for no table of steps");
  }
  if (step->resistance_ohms > greatest_ohms()) {
    return PSTR("more resistance than the ladder has");
  }
  if (!bank_makes(&canal_calibration.bank, step->capacitance_picofarads)) {
    return PSTR("no sum of this board's capacitors is near it");
  }
  return steps_name(&of.steps, step->remaining_microns, step->resistance_ohms,
                    step->capacitance_picofarads)
             ? NULL
             : PSTR("not above the step before, or no room");
}

static uint32_t measured_milliohms(uint16_t word, uint16_t code) {
  struct canal_sample sample;
  show(word, code);
  hw_settle();
  hw_sample(&sample);
  return ladder_measured_milliohms(canal_calibration.reference_deciohms, sample.sum);
}

static uint8_t complain(const char *what, uint8_t k, const char *unit, uint32_t measured,
                        uint32_t wanted, char *why, uint8_t room) {
  uint8_t bytes = sw_text(why, room, what);
  bytes = sw_number(why, room, bytes, k);
  bytes += sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(": "));
  bytes = sw_number(why, room, bytes, measured);
  bytes += sw_text(why + bytes, (uint8_t)(room - bytes), unit);
  bytes += sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(" measured, "));
  bytes = sw_number(why, room, bytes, wanted);
  bytes += sw_text(why + bytes, (uint8_t)(room - bytes), unit);
  return bytes + sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(" wanted"));
}

/* Every resistor alone, then none: a relay that sticks or a joint that came loose shows. */
static uint8_t self_measure(char *why, uint8_t room) {
  const struct ladder *ladder = &canal_calibration.ladder;
  for (uint8_t k = 0; k <= LADDER_RESISTORS; k++) {
    uint16_t word = (uint16_t)(LADDER_MAIN | (LADDER_ALL & ~(1u << k)));
    uint32_t wanted = ladder_deciohms(ladder, word);
    uint32_t measured = measured_milliohms(word, 0);
    if (!ladder_plausible(wanted, measured)) {
      return complain(PSTR("ladder, resistor "), k, PSTR(" ohm"), measured / 1000, wanted / 10, why,
                      room);
    }
  }
  return 0;
}

/* Charged through the reference and let go, a capacitor keeps its charge for a while: one whose lead
 * is off does not. With direct current a short or a leak shows. */
static uint32_t measured_picofarads(uint16_t code, uint32_t wanted, uint32_t *wanted_deciohms,
                                    uint32_t *milliohms) {
  uint32_t ohms = BANK_REST_MICROSECONDS * 1000000UL / wanted;
  uint16_t word = ladder_word(&canal_calibration.ladder,
                              ohms < greatest_ohms() ? ohms * 10 : greatest_ohms() * 10UL);
  *wanted_deciohms = ladder_deciohms(&canal_calibration.ladder, word);
  *milliohms = measured_milliohms(word, code);
  struct canal_sample sample;
  hw_sample(&sample);
  uint32_t nanoseconds = *wanted_deciohms / 10 * wanted / 1000 * 7 / 10; /* most of its time constant */
  uint16_t after = hw_decay(&nanoseconds);
  return bank_decayed_picofarads(sample.sum / 16, after, nanoseconds, *wanted_deciohms / 10);
}

static uint8_t bank_measure(char *why, uint8_t room) {
  const struct bank *bank = &canal_calibration.bank;
  uint32_t ohms, milliohms;
  uint32_t stray = measured_picofarads(0, STRAY_PICOFARADS, &ohms, &milliohms);
  if (stray > MOST_STRAY_PICOFARADS) {
    return complain(PSTR("no capacitor of "), BANK_CAPACITORS, PSTR(" pF"), stray, 0, why, room);
  }
  for (uint8_t k = 0; k < BANK_CAPACITORS; k++) {
    uint32_t wanted = bank->picofarads[k];
    if (wanted) {
      uint32_t picofarads = measured_picofarads((uint16_t)(1u << k), wanted + stray, &ohms, &milliohms);
      if (!ladder_plausible(ohms, milliohms)) {
        return complain(PSTR("leak of capacitor "), k, PSTR(" ohm"), milliohms / 1000, ohms / 10, why,
                        room);
      }
      if (!bank_plausible(wanted + stray, picofarads)) {
        return complain(PSTR("capacitor "), k, PSTR(" pF"),
                        picofarads > stray ? picofarads - stray : 0, wanted, why, room);
      }
    }
  }
  return 0;
}

static int32_t remaining_microns(void) {
  int32_t steps = hw_steps();
  uint16_t nanometres = canal_calibration.step_nanometres;
  return kind == TOOTH ? stage_remaining_microns(steps - zero_steps, scene.length_microns, nanometres)
                       : stage_remaining_microns(steps, canal_calibration.home_microns, nanometres);
}

static float check_ohms(void) { return (float)canal_calibration.tooth_check_deciohms * 0.1f; }

/* Source, capacitor and converter of the input, with nothing and with a known resistor. */
static bool tooth_learn(enum tooth_input input) {
  hw_tooth(input);
  for (uint8_t i = 0; i < of.tooth.count; i++) {
    struct tooth_known *known = &of.tooth.known[i];
    if (!hw_tooth_slice(&of.tooth.wave[i], input == TOOTH_CHECK ? &known->check : &known->open)) {
      return false;
    }
  }
  return true;
}

static uint8_t mount_tooth(char *why, uint8_t room) {
  if (tooth_number <= 0) {
    return sw_text(why, room, PSTR("canal.kind tooth is an extracted tooth here: the plan needs teeth"));
  }
  if (zero_here) {
    zero_tooth = tooth_number;
    zero_steps = hw_steps();
  }
  if (zero_tooth != tooth_number) {
    return sw_text(why, room, PSTR("the stage has no zero for this tooth: set it at the reference point"));
  }
  while (of.tooth.count < TOOTH_FREQUENCIES && frequency_hz[of.tooth.count] > 0) {
    if (!tooth_wave(frequency_hz[of.tooth.count], &of.tooth.wave[of.tooth.count])) {
      uint8_t bytes = sw_text(why, room, PSTR("the tooth input takes 280 to 20500 Hz, not "));
      return sw_number(why, room, bytes, (uint32_t)frequency_hz[of.tooth.count]);
    }
    of.tooth.count++;
  }
  if (!tooth_learn(TOOTH_CHECK) || !tooth_learn(TOOTH_NOTHING)) {
    sw_plant_off();
    return sw_text(why, room, PSTR("the tooth input did not finish in time"));
  }
  for (uint8_t i = 0; i < of.tooth.count; i++) {
    uint32_t wanted = canal_calibration.tooth_source_deciohms / 10;
    uint32_t found = (uint32_t)tooth_source_ohms(&of.tooth.known[i], check_ohms());
    if (found < wanted - wanted / 7 || found > wanted + wanted / 7) { /* the capacitor takes most */
      sw_plant_off();
      return complain(PSTR("tooth input, source at frequency "), (uint8_t)(i + 1), PSTR(" ohm"), found,
                      wanted, why, room);
    }
  }
  hw_tooth(TOOTH_TOOTH);
  of.tooth.measuring = true;
  while (of.tooth.sets == 0) {
    canal_measure();
  }
  return 0;
}

void canal_measure(void) {
  if (kind != TOOTH || !of.tooth.measuring) {
    return;
  }
  uint8_t at = of.tooth.at;
  if (at == 0) {
    of.tooth.begun_ns = hw_clock_ns();
  }
  struct tooth_sums *sums = &of.tooth.next[at];
  memset(sums, 0, sizeof *sums);
  if (!hw_tooth_slice(&of.tooth.wave[at], sums)) {
    return; /* interrupts took the time; the same frequency comes again */
  }
  of.tooth.at = (uint8_t)(at + 1);
  if (of.tooth.at == of.tooth.count) {
    of.tooth.at = 0;
    memcpy(of.tooth.done, of.tooth.next, sizeof of.tooth.done);
    of.tooth.done_ns = (of.tooth.begun_ns + hw_clock_ns()) / 2;
    of.tooth.sets++;
  }
}

static int32_t milliohms(float ohms) {
  return ohms > 2e6f ? INT32_MAX : ohms < -2e6f ? -INT32_MAX : (int32_t)(ohms * 1000);
}

static void read_tooth(struct sw_reading *reading, const struct sw_board *board) {
  int64_t at_ns = board->running ? of.tooth.done_ns - board->zero_ns : 0;
  reading->position_kind = SW_READING_POSITION_KIND_IMPEDANCE;
  reading->sample_sequence = of.tooth.sets;
  reading->sample_time_ns = at_ns > 0 ? at_ns : 0;
  for (uint8_t i = 0; i < of.tooth.count; i++) {
    struct tooth_ohms ohms = {0, 0};
    bool closed = of.tooth.measuring &&
                  tooth_impedance(&of.tooth.known[i], &of.tooth.done[i], check_ohms(), &ohms);
    reading->railed |= of.tooth.measuring && of.tooth.done[i].railed;
    reading->frequency_hz[i] = frequency_hz[i];
    reading->z_real_milli_ohms[i] = closed ? milliohms(ohms.real) : TOOTH_OPEN_MILLIOHMS;
    reading->z_imag_milli_ohms[i] = closed ? milliohms(ohms.imag) : 0;
  }
  reading->frequency_hz_count = of.tooth.count;
  reading->z_real_milli_ohms_count = of.tooth.count;
  reading->z_imag_milli_ohms_count = of.tooth.count;
}

uint8_t sw_plant_mount(char *why, uint8_t room) {
  if (given != ALL_GIVEN) {
    return sw_text(why, room, PSTR("the scene lacks a value that this board needs"));
  }
  if (!hw_homed()) {
    return sw_text(why, room, PSTR("the stage has not been at its home switch since the reset"));
  }
  if (kind == TOOTH) {
    return mount_tooth(why, room);
  }
  if (tooth_number != 0) {
    return sw_text(why, room, PSTR("an extracted tooth needs canal.kind tooth"));
  }
  if (kind == NETWORK && of.steps.named < 2) {
    return sw_text(why, room, PSTR("a network needs a table of two steps or more"));
  }
  if (kind == RESISTORS && !steps_fill(&of.steps, &scene, greatest_ohms())) {
    uint8_t bytes = sw_text(why, room, PSTR("more resistance at the orifice than the ladder has, "));
    bytes = sw_number(why, room, bytes, greatest_ohms());
    return bytes + sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(" ohm"));
  }
  hw_excite(true);
  uint8_t bytes = self_measure(why, room);
  if (!bytes && (kind == NETWORK || scene.picofarads)) {
    bytes = bank_measure(why, room);
  }
  if (bytes) {
    sw_plant_off();
    return bytes;
  }
  show(LADDER_OPEN, 0);
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
  if (kind == TOOTH) {
    return; /* measuring goes on until it is off */
  }
  hw_excite(true);
  following = true;
}

bool sw_plant_stage(struct sw_message *m) {
  (void)m;
  return false;
}

void sw_plant_read(struct sw_reading *reading, const struct sw_board *board) {
  reading->demand = 1;
  reading->stage = SW_READING_STAGE_LENGTH;
  reading->true_remaining_microns = remaining_microns();
  if (kind == TOOTH) {
    read_tooth(reading, board);
    return;
  }
  struct canal_sample sample;
  uint16_t code;
  do { /* it may change between two bytes */
    code = shown_code;
  } while (code != shown_code);
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
  float farads = (float)bank_picofarads(&canal_calibration.bank, code) * 1e-12f;
  bool plain = code == 0 || milliohms == INT32_MAX;
  uint8_t count = 0;
  while (count < 4 && frequency_hz[count] > 0) {
    float x = TWO_PI * (float)frequency_hz[count] * (float)milliohms * 1e-3f * farads;
    float real = (float)milliohms / (1 + x * x);
    reading->frequency_hz[count] = frequency_hz[count];
    reading->z_real_milli_ohms[count] = plain ? (int32_t)milliohms : (int32_t)real;
    reading->z_imag_milli_ohms[count] = plain ? 0 : (int32_t)(-real * x);
    count++;
  }
  reading->frequency_hz_count = count;
  reading->z_real_milli_ohms_count = count;
  reading->z_imag_milli_ohms_count = count;
}
