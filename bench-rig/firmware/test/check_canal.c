/* Facts about the parts of the canal board that need no hardware. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "canal.h"
#include "facts.h"
#include "stage.h"
#include "steps.h"
#include "sw_board.h"
#include "sw_frame.h"

/* The hardware as a model: relays that obey, a converter without noise. */
struct canal_calibration canal_calibration = {
    .serial_number = "C-TEST",
    .home_microns = 25000,
    .step_nanometres = 5000,
    .reference_deciohms = 100000,
    .ladder = {.deciohms = {100, 200, 402, 806, 1620, 3240, 6340, 12100, 23700, 46400, 90900,
                            178000, 348000},
               .base_deciohms = 1000},
    .bank = {.picofarads = {68, 150, 220, 470, 680, 1500, 2200, 4700, 10000, 22000}},
    .tooth_check_deciohms = 100000,
    .tooth_source_deciohms = 319700};
static struct stage stage;
static int64_t clock_ns;
static uint16_t relays;
static uint8_t bank_relays;
static int broken = -1, cut = -1, shorted = -1, stuck = -1;
static uint32_t samples;
static bool excited;

int64_t hw_clock_ns(void) { return clock_ns; }
void hw_word(uint16_t word, uint8_t bank) {
  relays = word;
  bank_relays = bank;
}
static uint16_t code(void) { return (uint16_t)((relays >> 13 & 3) << 8 | bank_relays); }
void hw_excite(bool on) { excited = on; }
int32_t hw_steps(void) { return stage.steps; }
bool hw_homed(void) { return stage.homed; }
void hw_settle(void) { samples += 3; }
void hw_firmware_hash(char *eight_digits) { memcpy(eight_digits, "c0ffee00", 8); }
void hw_sample(struct canal_sample *sample) {
  uint16_t word = (uint16_t)(relays | (broken < 0 ? 0u : 1u << broken));
  uint32_t ohms = ladder_deciohms(&canal_calibration.ladder, word) / 10;
  if (shorted >= 0 && code() >> shorted & 1) {
    ohms = 1;
  }
  uint64_t sum = !excited ? 0 : 16384ull * ohms / (ohms + 10000);
  sample->sum = (uint16_t)(sum > 16368 ? 16368 : sum);
  sample->sequence = ++samples;
  sample->at_ns = clock_ns;
}

/* What a charge does in 2.7 µs more than was asked for, with 50 pF of stray; parts are 5 % too great. */
uint16_t hw_decay(uint32_t *nanoseconds) {
  double ohms = ladder_deciohms(&canal_calibration.ladder, relays) / 10.0;
  uint16_t closed = (uint16_t)((code() | (stuck < 0 ? 0u : 1u << stuck)) & ~(cut < 0 ? 0u : 1u << cut));
  double farads = (50 + 1.05 * bank_picofarads(&canal_calibration.bank, closed)) * 1e-12;
  *nanoseconds += 2700;
  return (uint16_t)(1023 * ohms / (ohms + 10000) * exp(-(double)*nanoseconds * 1e-9 / (ohms * farads)));
}

/* The tooth input: 47 kohm to the drive beside 100 kohm, and a tooth of 3 kohm with 5 kohm beside 10 nF. */
static enum tooth_input input;
static double drive_ohms = 47000;
void hw_tooth(enum tooth_input to) { input = to; }
bool hw_tooth_slice(const struct tooth_wave *wave, struct tooth_sums *sums) {
  uint16_t at = 0;
  for (uint8_t k = 0; k < wave->phases; k++) {
    double volts = 0;
    for (int n = 1; n < 400; n += 2) {
      double x = 2 * M_PI * n * 14745600.0 / 2 / wave->divider / wave->half * 5000 * 10e-9;
      double real = 1 / drive_ohms + 1 / 100000.0, imag = 0; /* of the admittance at the clip */
      if (input == TOOTH_CHECK) {
        real += 1 / 10000.0;
      } else if (input == TOOTH_TOOTH) {
        double ohms = 3000 + 5000 / (1 + x * x), reactance = -5000 * x / (1 + x * x);
        real += ohms / (ohms * ohms + reactance * reactance);
        imag -= reactance / (ohms * ohms + reactance * reactance);
      }
      double size = 10 / M_PI / n / drive_ohms / hypot(real, imag);
      volts += size * sin(M_PI * n * (at + 0.5) / wave->half - atan2(imag, real));
    }
    tooth_add(sums, tooth_turned(wave, at), (uint16_t)(512 + volts * 1024 / 5));
    at = (uint16_t)((at + wave->stride) % (2 * wave->half));
  }
  return true;
}

static void the_crc_is_that_of_the_standard(void) {
  /* Check value of CRC-32C in every catalogue, and RFC 3720 B.4: 32 zeros. */
  uint8_t zeros[32] = {0};
  FACT(sw_crc32c((const uint8_t *)"123456789", 9) == 0xE3069283);
  FACT(sw_crc32c(zeros, sizeof zeros) == 0x8A9136AA);
}

static void a_word_is_the_nearest_that_the_ladder_has(void) {
  const struct ladder *ladder = &canal_calibration.ladder;
  uint32_t worst = 0;
  for (uint32_t ohms = 100; ohms < 65535; ohms++) {
    uint16_t word = ladder_word(ladder, ohms * 10);
    uint32_t made = ladder_deciohms(ladder, word);
    uint32_t off = made > ohms * 10 ? made - ohms * 10 : ohms * 10 - made;
    worst = off > worst ? off : worst;
  }
  /* Half of 10 ohm, and what E96 leaves below 162 and 324 ohm. */
  FACT(worst <= 70);
  FACT(ladder_word(ladder, 1000) == (LADDER_MAIN | LADDER_ALL));
  FACT(ladder_word(ladder, 0) == (LADDER_MAIN | LADDER_ALL));
  FACT(ladder_word(ladder, UINT32_MAX / 2) == LADDER_MAIN);
  FACT(ladder_deciohms(ladder, LADDER_OPEN) == UINT32_MAX);
}

static void the_converter_sees_what_a_divider_gives(void) {
  FACT(ladder_measured_milliohms(100000, 8192) == 10000000); /* half of the supply */
  FACT(ladder_measured_milliohms(100000, 0) == 0);
  FACT(ladder_measured_milliohms(100000, 16368) == INT32_MAX); /* open */
  FACT(ladder_plausible(65000, 6500000));
  FACT(!ladder_plausible(65000, 7000000));
  FACT(!ladder_plausible(65000, 4000000000u));
}

static void the_table_is_a_straight_line_that_ends(void) {
  static struct steps steps;
  struct steps_scene scene = {16000, 6500, 3000, 0, 0};
  FACT(steps_fill(&steps, &scene, 65534));
  FACT(steps_at(&steps, 0).ohms == 6500);
  FACT(steps_at(&steps, 500).ohms == 8000);
  FACT(steps_at(&steps, 16000).ohms == 54500);
  FACT(steps_at(&steps, 16001).ohms == STEPS_OPEN_OHMS);
  FACT(steps_at(&steps, -1000).ohms == 3500);
  FACT(steps_at(&steps, -2500).ohms == STEPS_LEAST_OHMS);
  FACT(steps_at(&steps, -1000000).ohms == STEPS_LEAST_OHMS);
  for (int32_t remaining = -2000; remaining <= 16000; remaining++) {
    int32_t wanted = 6500 + 3 * remaining;
    if (abs(steps_at(&steps, remaining).ohms - wanted) > 1) {
      FACT(!"on the line to 1 ohm");
      break;
    }
  }
  FACT(!steps_fill(&steps, &scene, 54499));
}

static void a_leak_bends_the_line(void) {
  static struct steps steps;
  struct steps_scene scene = {16000, 6500, 3000, 10000, 0};
  FACT(steps_fill(&steps, &scene, 65534));
  FACT(steps_at(&steps, 0).ohms == 3939);     /* 6500 and 10000 side by side */
  FACT(steps_at(&steps, 10000).ohms == 7849); /* 36500 and 10000 */
}

static void between_two_places_that_the_host_names_there_is_a_straight_line(void) {
  static struct steps steps;
  memset(&steps, 0, sizeof steps);
  FACT(steps_name(&steps, -1000, 5000, 5600));
  FACT(steps_name(&steps, 0, 7000, 3400));
  FACT(!steps_name(&steps, 0, 8000, 1000)); /* not above the last */
  FACT(steps_name(&steps, 30000, 21000, 300));
  FACT(steps_at(&steps, -3000).ohms == 5000 && steps_at(&steps, -3000).picofarads == 5600);
  FACT(steps_at(&steps, -500).ohms == 6000 && steps_at(&steps, -500).picofarads == 4500);
  FACT(steps_at(&steps, 0).ohms == 7000 && steps_at(&steps, 0).picofarads == 3400);
  FACT(steps_at(&steps, 15000).ohms == 14000 && steps_at(&steps, 15000).picofarads == 1850);
  FACT(steps_at(&steps, 30001).ohms == STEPS_OPEN_OHMS);
  for (int32_t k = 0; k < (int32_t)STEPS_NAMED - 3; k++) {
    FACT(steps_name(&steps, 30001 + k, 1, 1));
  }
  FACT(!steps_name(&steps, 32000, 1, 1)); /* no room */
}

static void the_bank_makes_every_capacitance_that_a_tooth_asks_for(void) {
  const struct bank *bank = &canal_calibration.bank;
  uint32_t worst = 0;
  for (uint32_t picofarads = 0; picofarads <= 10000; picofarads++) {
    uint32_t made = bank_picofarads(bank, bank_code(bank, picofarads));
    uint32_t off = made > picofarads ? made - picofarads : picofarads - made;
    worst = off > worst ? off : worst;
  }
  FACT(worst <= 57); /* computed: half of the gaps that doubling values of E6 leave */
  FACT(bank_code(bank, 0) == 0 && bank_code(bank, 42000) == 0x3FF);
  FACT(bank_makes(bank, 10000) && bank_makes(bank, 32000) && !bank_makes(bank, 60000));
  const struct bank none = {{0}};
  const struct bank two = {{0, 0, 0, 0, 0, 0, 0, 0, 10000, 22000}};
  FACT(bank_code(&none, 5000) == 0 && !bank_makes(&none, 5000));
  FACT(bank_code(&two, 22000) == 0x200 && !bank_makes(&two, 15000));
}

/* 88 kohm and 680 pF: after one time constant of 59.84 µs, 1 / e is left. */
static void a_capacitance_follows_from_how_fast_a_charge_goes(void) {
  FACT(labs((long)bank_decayed_picofarads(1000, 368, 59840, 88000) - 680) <= 1);
  FACT(bank_decayed_picofarads(1000, 1000, 59840, 88000) == UINT32_MAX);
  FACT(bank_decayed_picofarads(1000, 0, 59840, 88000) < 100);
  FACT(bank_plausible(680, 880) && !bank_plausible(680, 50) && !bank_plausible(68, 0));
}

static void the_longest_canal_fits_the_table(void) {
  static struct steps steps;
  struct steps_scene scene = {STEPS_LONGEST_MICRONS, 100, 2000, 0, 0};
  FACT(steps_fill(&steps, &scene, 65534));
  FACT(steps_at(&steps, STEPS_LONGEST_MICRONS).ohms == 60100);
}

static void the_stage_is_counted_both_ways(void) {
  struct stage here = {0, 0, 0, false};
  const uint8_t circle[] = {2, 3, 1, 0};
  for (int i = 0; i < 4; i++) {
    stage_levels(&here, circle[i]);
  }
  FACT(here.steps == 4);
  for (int i = 2; i >= 0; i--) {
    stage_levels(&here, circle[i]);
  }
  FACT(here.steps == 1 && here.lost == 0);
  stage_levels(&here, 1);
  FACT(here.steps == 1 && here.lost == 1);
  stage_home(&here);
  FACT(here.steps == 0 && here.homed);
  FACT(stage_remaining_microns(3000, 25000, 5000) == 10000);
  FACT(stage_remaining_microns(-10, 25000, 5000) == 25050);
}

/* The protocol, with the canal board behind it. */
static struct sw_board board;
static struct sw_message m;
static uint32_t sequence;

static enum sw_outcome ask(uint8_t code) {
  m.code = code;
  m.session = 7;
  m.sequence = ++sequence;
  return sw_board_take(&board, &m, 1, 2);
}

static void text(char *to, uint8_t *bytes, const char *from) {
  *bytes = (uint8_t)strlen(from);
  memcpy(to, from, *bytes);
}

static enum sw_outcome value(const char *key, uint8_t decimals, int64_t number, const char *word) {
  text(m.as.mount_value.key, &m.as.mount_value.key_bytes, key);
  text(m.as.mount_value.word, &m.as.mount_value.word_bytes, word);
  m.as.mount_value.decimals = decimals;
  m.as.mount_value.value = number;
  return ask(SW_MOUNT_VALUE);
}

static int32_t nanofarads_tenths;
static const char *kind = "resistors";
static uint16_t steps_said;

static void mount(int32_t slope) {
  memset(&m, 0, sizeof m);
  ask(SW_HELLO);
  m.as.mount_begin.values = 9;
  m.as.mount_begin.steps = steps_said;
  ask(SW_MOUNT_BEGIN);
  value("canal.kind", 0, 1, kind);
  value("canal.length_mm", 3, 16000, "");
  value("canal.body_ohm", 0, 6500, "");
  value("canal.ohm_per_mm", 0, slope, "");
  value("canal.shunt_ohm", 0, 0, "");
  value("fluid.level_mm", 3, 12000, "");
  value("canal.parallel_nf", 1, nanofarads_tenths, "");
  value("front_end.signal", 0, 0, "impedance");
  value("front_end.frequency_1_hz", 0, 700, "");
  if (steps_said == 0) {
    ask(SW_MOUNT_END);
  }
}

static void mount_tooth(int32_t number, const char *zero) {
  memset(&m, 0, sizeof m);
  ask(SW_HELLO);
  m.as.mount_begin.values = 9;
  m.as.mount_begin.steps = 0;
  ask(SW_MOUNT_BEGIN);
  value("canal.kind", 0, 0, "tooth");
  value("canal.length_mm", 3, 12430, "");
  value("canal.body_ohm", 0, 3500, "");
  value("canal.ohm_per_mm", 0, 3000, "");
  value("canal.shunt_ohm", 0, 0, "");
  value("front_end.signal", 0, 0, "impedance");
  value("front_end.frequency_1_hz", 0, 1500, "");
  value("tooth.number", 0, number, "");
  value("tooth.zero", 0, 0, zero);
  ask(SW_MOUNT_END);
}

static void a_tooth_is_read_through_the_input_and_its_zero_is_the_stage(void) {
  stage.steps = 1000;
  mount_tooth(7, "kept");
  FACT(m.code == SW_REFUSED && input == TOOTH_OFF); /* no zero yet */
  mount_tooth(0, "here");
  FACT(m.code == SW_REFUSED); /* a model */
  mount_tooth(7, "here");
  FACT(m.code == SW_READING && m.as.reading.true_remaining_microns == 12430);
  double x = 2 * M_PI * 1500 * 5000 * 10e-9;
  FACT(fabs(m.as.reading.z_real_milli_ohms[0] * 1e-3 - 3000 - 5000 / (1 + x * x)) < 100);
  FACT(fabs(m.as.reading.z_imag_milli_ohms[0] * 1e-3 + 5000 * x / (1 + x * x)) < 100);
  stage.steps += 2600;
  mount_tooth(7, "kept");
  FACT(m.code == SW_READING && m.as.reading.true_remaining_microns == 12430 - 13000);
  ask(SW_SAFE_STOP);
  FACT(input == TOOTH_OFF && m.as.reading.z_real_milli_ohms[0] == INT32_MAX);
  mount_tooth(8, "kept");
  FACT(m.code == SW_REFUSED); /* the zero was that of another tooth */
  drive_ohms = 60000;
  mount_tooth(7, "kept");
  FACT(m.code == SW_REFUSED && input == TOOTH_OFF); /* the input misreads its source */
  drive_ohms = 47000;
}

static enum sw_outcome step(int32_t microns, uint16_t ohms, uint16_t picofarads) {
  m.as.mount_step.remaining_microns = microns;
  m.as.mount_step.resistance_ohms = ohms;
  m.as.mount_step.capacitance_picofarads = picofarads;
  return ask(SW_MOUNT_STEP);
}

static enum sw_outcome exchange(int64_t now_ms, uint8_t drive) {
  memset(&m.as.exchange, 0, sizeof m.as.exchange);
  m.as.exchange.now_ns = now_ms * 1000000;
  m.as.exchange.drive = drive;
  return ask(SW_EXCHANGE);
}

static bool says(const char *text, uint8_t bytes, const char *wanted) {
  return bytes == strlen(wanted) && memcmp(text, wanted, bytes) == 0;
}

static void a_wave_is_near_its_frequency_and_visits_every_phase_once(void) {
  struct tooth_wave wave;
  FACT(!tooth_wave(279, &wave) && !tooth_wave(20501, &wave));
  static const int32_t usual[] = {300, 500, 700, 1000, 1500, 2000, 5000, 7000, 8000, 10000, 20000};
  for (unsigned i = 0; i < sizeof usual / sizeof *usual; i++) {
    FACT(tooth_wave(usual[i], &wave));
    double hertz = 14745600.0 / 2 / wave.divider / wave.half;
    FACT(fabs(hertz / usual[i] - 1) < 0.011);
    bool seen[512] = {false};
    uint16_t at = 0;
    for (uint8_t k = 0; k < wave.phases; k++) {
      FACT(!seen[at]);
      seen[at] = true;
      at = (uint16_t)((at + wave.stride) % (2 * wave.half));
    }
    FACT(at == 0 && 2 * wave.half % wave.phases == 0);
  }
}

static void nothing_is_obeyed_before_a_session(void) {
  FACT(ask(SW_EXCHANGE) == SW_ANSWERED && m.code == SW_ERROR);
  FACT(m.as.error.code == SW_ERROR_CODE_NO_SESSION);
  FACT(ask(SW_HELLO) == SW_ANSWERED && m.code == SW_IDENTITY);
  FACT(says(m.as.identity.serial_number, m.as.identity.serial_number_bytes, "C-TEST"));
  FACT(ask(SW_EXCHANGE) == SW_ANSWERED && m.as.error.code == SW_ERROR_CODE_NOT_MOUNTED);
}

static void a_board_that_was_not_homed_mounts_nothing(void) {
  mount(3000);
  FACT(m.code == SW_REFUSED && relays == LADDER_OPEN && !board.mounted);
  stage_home(&stage);
}

static void the_circuit_is_made_by_the_mount_and_follows_the_stage(void) {
  mount(3000);
  FACT(m.code == SW_READING && board.mounted);
  canal_follow();
  FACT(relays == LADDER_OPEN); /* at home, above the orifice */
  stage.steps = (25000 - 10000) / 5;
  canal_follow();
  FACT(ladder_deciohms(&canal_calibration.ladder, relays) / 10 - 36500 + 30 <= 60);
  exchange(0, SW_EXCHANGE_DRIVE_FORWARD);
  FACT(m.code == SW_READING && m.as.reading.true_remaining_microns == 10000);
  FACT(m.as.reading.frequency_hz_count == 1 && m.as.reading.frequency_hz[0] == 700);
  FACT(abs(m.as.reading.z_real_milli_ohms[0] / 1000 - 36500) < 400);
}

static void a_silent_host_finds_an_open_circuit(void) {
  clock_ns += 100000000;
  sw_board_poll(&board);
  FACT(relays != LADDER_OPEN && !board.watchdog);
  clock_ns += 1;
  sw_board_poll(&board);
  FACT(relays == LADDER_OPEN && board.watchdog && !excited);
  exchange(101, SW_EXCHANGE_DRIVE_FORWARD);
  canal_follow();
  FACT(m.as.reading.watchdog && relays == LADDER_OPEN);
}

static void a_safe_stop_holds_until_the_next_mount(void) {
  mount(3000);
  exchange(0, SW_EXCHANGE_DRIVE_OFF);
  canal_follow();
  FACT(relays != LADDER_OPEN);
  FACT(ask(SW_SAFE_STOP) == SW_ANSWERED && m.code == SW_READING && relays == LADDER_OPEN);
  exchange(1, SW_EXCHANGE_DRIVE_FORWARD);
  canal_follow();
  FACT(relays == LADDER_OPEN);
  mount(3000);
  canal_follow();
  FACT(relays != LADDER_OPEN);
}

static void a_safe_stop_may_come_twice(void) {
  mount(3000);
  exchange(0, SW_EXCHANGE_DRIVE_OFF);
  FACT(ask(SW_SAFE_STOP) == SW_ANSWERED && m.code == SW_READING);
  FACT(ask(SW_SAFE_STOP) == SW_ANSWERED && m.code == SW_READING && relays == LADDER_OPEN);
  ask(SW_HELLO);
  FACT(ask(SW_SAFE_STOP) == SW_ANSWERED && m.code == SW_OK);
  FACT(ask(SW_SAFE_STOP) == SW_ANSWERED && m.code == SW_OK);
}

static void samples_count_from_one_and_an_open_circuit_is_a_great_number(void) {
  stage.steps = 0; /* at home, above the orifice */
  mount(3000);
  FACT(m.as.reading.position_kind == SW_READING_POSITION_KIND_IMPEDANCE);
  FACT(m.as.reading.sample_sequence >= 1 && m.as.reading.stage == SW_READING_STAGE_LENGTH);
  FACT(m.as.reading.z_real_milli_ohms[0] >= 2000000000 && m.as.reading.z_imag_milli_ohms[0] == 0);
}

static void a_scene_presses_no_emergency_stop(void) {
  ask(SW_HELLO);
  m.as.mount_begin.values = 2;
  m.as.mount_begin.steps = 0;
  ask(SW_MOUNT_BEGIN);
  value("hand.emergency_stop_ms", 0, 0, "");
  FACT(m.code == SW_OK);
  value("hand.emergency_stop_ms", 0, 1000, "");
  FACT(m.code == SW_REFUSED &&
       says(m.as.refused.key, m.as.refused.key_bytes, "hand.emergency_stop_ms"));
}

static void time_must_ascend_and_old_requests_are_not_obeyed(void) {
  mount(3000);
  exchange(5, SW_EXCHANGE_DRIVE_OFF);
  exchange(5, SW_EXCHANGE_DRIVE_OFF);
  FACT(m.code == SW_ERROR && m.as.error.code == SW_ERROR_CODE_BAD_VALUE);
  sequence--;
  FACT(ask(SW_EXCHANGE) == SW_REPEATED);
  sequence -= 2;
  FACT(ask(SW_EXCHANGE) == SW_IGNORED);
  sequence += 1;
  m.code = SW_HEARTBEAT;
  m.session = 8;
  FACT(sw_board_take(&board, &m, 0, 0) == SW_ANSWERED &&
       m.as.error.code == SW_ERROR_CODE_OTHER_SESSION);
}

static void what_cannot_be_is_refused_with_its_key(void) {
  ask(SW_HELLO);
  m.as.mount_begin.values = 3;
  ask(SW_MOUNT_BEGIN);
  value("canal.kind", 0, 0, "field");
  FACT(m.code == SW_REFUSED && says(m.as.refused.key, m.as.refused.key_bytes, "canal.kind"));
  canal_calibration.tooth_check_deciohms = 0; /* no tooth input */
  m.as.mount_begin.values = 3;
  ask(SW_MOUNT_BEGIN);
  value("canal.kind", 0, 0, "tooth");
  FACT(m.code == SW_REFUSED && says(m.as.refused.key, m.as.refused.key_bytes, "canal.kind"));
  canal_calibration.tooth_check_deciohms = 100000;
  m.as.mount_begin.values = 3;
  ask(SW_MOUNT_BEGIN);
  value("canal.parallel_nf", 1, 500, "");
  FACT(m.code == SW_REFUSED && says(m.as.refused.key, m.as.refused.key_bytes, "canal.parallel_nf"));
  mount(5000);
  FACT(m.code == SW_REFUSED);
  FACT(says(m.as.refused.why, m.as.refused.why_bytes,
            "more resistance at the orifice than the ladder has, 65534 ohm"));
}

/* 36.5 kohm across 10 nF at 700 Hz: x = 2 pi f R C = 1.60535, R / (1 + x²) = 10203 ohm (computed). */
static void capacitors_stand_across_the_ladder_at_every_position(void) {
  const struct {
    int32_t tenths;
    uint16_t code;
  } wanted[] = {{0, 0}, {100, 0x100}, {220, 0x200}, {320, 0x300}, {7, 0x10}, {47, 0x80}};
  for (unsigned i = 0; i < sizeof wanted / sizeof *wanted; i++) {
    nanofarads_tenths = wanted[i].tenths;
    mount(3000);
    FACT(m.code == SW_READING);
    stage.steps = (25000 - 10000) / 5;
    canal_follow();
    FACT(code() == wanted[i].code);
    exchange(i, SW_EXCHANGE_DRIVE_OFF);
    if (wanted[i].code == 0x100) {
      FACT(abs(m.as.reading.z_real_milli_ohms[0] / 1000 - 10203) < 103);
      FACT(abs(m.as.reading.z_imag_milli_ohms[0] / 1000 + 16379) < 164);
    }
    stage.steps = 0;
    canal_follow();
    FACT(relays == LADDER_OPEN && code() == 0); /* an open circuit has no capacitor across it either */
  }
  nanofarads_tenths = 0;
}

static void a_network_follows_the_table_that_the_host_has_named(void) {
  kind = "network";
  steps_said = 3;
  mount(3000);
  FACT(ask(SW_MOUNT_END) == SW_ANSWERED && m.code == SW_ERROR); /* the steps are missing */
  mount(3000);
  FACT(step(-1000, 5540, 5580) == SW_ANSWERED && m.code == SW_OK);
  step(0, 7540, 3420);
  FACT(m.code == SW_OK);
  step(10000, 21000, 300);
  FACT(m.code == SW_OK);
  FACT(step(11000, 22000, 300) == SW_ANSWERED && m.code == SW_ERROR); /* one more than was said */
  mount(3000);
  step(-1000, 5540, 5580);
  step(0, 7540, 3420);
  step(10000, 21000, 300);
  ask(SW_MOUNT_END);
  FACT(m.code == SW_READING);
  const struct {
    int32_t microns;
    int32_t ohms;
    int32_t picofarads;
  } wanted[] = {{-2000, 5540, 5580}, {-500, 6540, 4500}, {0, 7540, 3420}, {5000, 14270, 1860}};
  for (unsigned i = 0; i < sizeof wanted / sizeof *wanted; i++) {
    stage.steps = (25000 - wanted[i].microns) / 5;
    canal_follow();
    FACT(labs((long)ladder_deciohms(&canal_calibration.ladder, relays) / 10 - wanted[i].ohms) <= 7);
    FACT(labs((long)bank_picofarads(&canal_calibration.bank, code()) - wanted[i].picofarads) <= 57);
  }
  stage.steps = (25000 - 10005) / 5;
  canal_follow();
  FACT(relays == LADDER_OPEN && code() == 0); /* above the last step */
  mount(3000);
  step(0, 7540, 60000);
  FACT(m.code == SW_REFUSED && says(m.as.refused.key, m.as.refused.key_bytes, "step"));
  mount(3000);
  step(0, 65535, 0);
  FACT(m.code == SW_REFUSED);
  kind = "resistors";
  mount(3000);
  step(0, 7540, 300);
  FACT(m.code == SW_REFUSED);
  steps_said = 0;
  kind = "network";
  mount(3000);
  FACT(m.code == SW_REFUSED);
  kind = "resistors";
}

static bool refused(const char *why) {
  mount(3000);
  bool so = m.code == SW_REFUSED && says(m.as.refused.why, m.as.refused.why_bytes, why);
  if (!so) {
    printf("%.*s\n", m.code == SW_REFUSED ? m.as.refused.why_bytes : 0, m.as.refused.why);
  }
  return so && relays == LADDER_OPEN;
}

static void a_capacitor_that_is_off_short_or_stuck_is_found_before_the_trial(void) {
  nanofarads_tenths = 10;
  for (cut = 0; cut < BANK_CAPACITORS; cut++) {
    mount(3000);
    FACT(m.code == SW_REFUSED);
  }
  cut = 3;
  FACT(refused("capacitor 3: 10 pF measured, 470 pF wanted"));
  cut = -1;
  shorted = 9;
  FACT(refused("leak of capacitor 9: 0 ohm measured, 2722 ohm wanted"));
  shorted = -1;
  stuck = 2;
  FACT(refused("no capacitor of 10: 280 pF measured, 0 pF wanted"));
  stuck = -1;
  mount(3000);
  FACT(m.code == SW_READING);
  nanofarads_tenths = 0;
  cut = 3; /* a scene without capacitors asks nothing of them */
  mount(3000);
  FACT(m.code == SW_READING);
  cut = -1;
}

static void a_relay_that_sticks_is_found_before_the_trial(void) {
  broken = 11;
  mount(3000);
  broken = -1;
  FACT(m.code == SW_REFUSED && relays == LADDER_OPEN);
  FACT(says(m.as.refused.why, m.as.refused.why_bytes,
            "ladder, resistor 11: 99 ohm measured, 17900 ohm wanted"));
}

int main(void) {
  the_crc_is_that_of_the_standard();
  a_word_is_the_nearest_that_the_ladder_has();
  the_converter_sees_what_a_divider_gives();
  the_table_is_a_straight_line_that_ends();
  a_leak_bends_the_line();
  between_two_places_that_the_host_names_there_is_a_straight_line();
  the_bank_makes_every_capacitance_that_a_tooth_asks_for();
  a_capacitance_follows_from_how_fast_a_charge_goes();
  the_longest_canal_fits_the_table();
  the_stage_is_counted_both_ways();
  a_wave_is_near_its_frequency_and_visits_every_phase_once();
  nothing_is_obeyed_before_a_session();
  a_board_that_was_not_homed_mounts_nothing();
  the_circuit_is_made_by_the_mount_and_follows_the_stage();
  a_silent_host_finds_an_open_circuit();
  a_safe_stop_holds_until_the_next_mount();
  a_safe_stop_may_come_twice();
  samples_count_from_one_and_an_open_circuit_is_a_great_number();
  a_scene_presses_no_emergency_stop();
  time_must_ascend_and_old_requests_are_not_obeyed();
  what_cannot_be_is_refused_with_its_key();
  capacitors_stand_across_the_ladder_at_every_position();
  a_network_follows_the_table_that_the_host_has_named();
  a_capacitor_that_is_off_short_or_stuck_is_found_before_the_trial();
  a_relay_that_sticks_is_found_before_the_trial();
  a_tooth_is_read_through_the_input_and_its_zero_is_the_stage();
  return told();
}
