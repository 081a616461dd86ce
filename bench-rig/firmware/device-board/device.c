/*
 * The plant of the device board: chain, isolating relays and sensors of a device under test.
 *
 * Who calls whom:
 *
 *   main.c      -> sw_avr.c    sw_avr_start, sw_avr_serve; the clock
 *   main.c      -> device.c    device_sample and device_follow, twice a ms
 *   sw_avr.c    -> sw_board.c  sw_board_take for each request, sw_board_poll in between
 *   sw_board.c  -> device.c    sw_plant_ functions: mount, verify, watch, off
 *   sw_board.c  -> sw_avr.c    hw_firmware_hash
 *   device.c    -> main.c      hw_ functions: relays, converter, scale, lines to the drive board
 *
 * The board never measures the chain while the device is on it: hw_circuit allows one or the other.
 */
#include "device.h"

#include <stdlib.h>
#include <string.h>

#include "sw_board.h"
#include "sw_text.h"
#include "turn.h"

#define PERIOD_NS 10000000UL
_Static_assert(PERIOD_NS >= SW_LEAST_PERIOD_NS && PERIOD_NS <= SW_MOST_PERIOD_NS,
               "the host refuses a period outside of its bounds");

#define MARKED_TICKS 3 /* after the first relay opens: all have settled within 1 ms of it (assumed) */
#define NO_WORK 255
#define LEAST_MICRONS 2 /* a scale at rest may flutter by one step */
#define LEAK_MS 20
#define BREAK_MS 3 /* between two circuits */
#define LEAST_LEAK_KILOHMS (uint32_t)100000
#define MOST_LEAK_KILOHMS (uint32_t)1000000 /* more than this the converter does not see */
#define MOST_STRAY_PICOFARADS 60
#define LEAST_PRESS_CENTINEWTONS 50
#define MOST_PRESS_CENTINEWTONS 400
#define FULL_SUM (16 * 1023u)

static struct chain_table table;
static struct watch watch;
static struct turn turn;
static struct chain_codes shown;
static struct chain_work work;
static volatile bool following;
static volatile bool watching;
static bool at_device;
static uint8_t marks;
static int32_t shown_at;
static int32_t seen_steps, seen_microns; /* of the tick alone: a division in each would be too much */
static uint32_t force_scale;             /* of a step of the converter, 1/1024 of a step of the samples */
static int32_t length_microns;
static bool given_kind, given_length;
static uint16_t press_steps; /* of the converter: no feed at this force and above */

static int32_t remaining_microns(void) {
  return device_calibration.home_microns -
         hw_steps() * (int32_t)device_calibration.step_nanometres / 1000; /* in nm, so good to 2 m */
}

static void set_codes(const struct chain_codes *codes) {
  shown = *codes;
  hw_codes(codes);
}

static void set_circuit(enum device_circuit circuit) {
  at_device = circuit == AT_DEVICE;
  hw_circuit(circuit);
}

/* Between trials only: the relays break, then make, and have settled. */
static void connect(enum device_circuit circuit) {
  set_circuit(APART);
  hw_wait_ms(BREAK_MS);
  set_circuit(circuit);
  hw_wait_ms(BREAK_MS);
}

/* A part of the work in each tick, so that a sample is never late: the place, the branches, the ranges
 * and the rest of the first segment, and then the relays. Above the last place the circuit is open: the
 * device is off. */
void device_follow(void) {
  const struct chain *chain = &device_chain;
  static uint8_t part = NO_WORK;
  if (!following) {
    part = NO_WORK;
  } else if (part < CHAIN_BRANCHES) {
    chain_branch(chain, &table, &work, part++);
  } else if (part == CHAIN_BRANCHES) {
    chain_ranges(chain, &table, &work);
    part++;
  } else if (part == CHAIN_BRANCHES + 1) {
    chain_first(chain, &work);
    part++;
  } else if (part == CHAIN_BRANCHES + 2) {
    part = NO_WORK;
    if (!at_device) {
      set_codes(&work.codes);
      set_circuit(AT_DEVICE);
      marks = MARKED_TICKS;
    } else if (!chain_same(&shown, &work.codes)) {
      struct chain_codes both = chain_opening(&shown, &work.codes);
      shown = work.codes;
      hw_step(&both, &shown);
      marks = MARKED_TICKS;
    }
  } else if (labs(seen_microns - shown_at) >= LEAST_MICRONS) {
    shown_at = seen_microns;
    if (chain_begin(chain, &table, seen_microns, &work)) {
      part = 0;
    } else if (at_device) {
      set_circuit(APART);
      marks = MARKED_TICKS;
    }
  }
}

void device_sample(uint16_t angle, uint16_t force_steps, uint16_t sound_steps) {
  bool turns = turn_sample(&turn, angle);
  hw_lines(following && turns, following && force_steps < press_steps);
  int32_t steps = hw_steps();
  if (steps != seen_steps || !watching) {
    seen_steps = steps;
    seen_microns = remaining_microns();
  }
  if (watching) {
    uint16_t beyond = force_steps > device_calibration.force_zero
                          ? (uint16_t)(force_steps - device_calibration.force_zero)
                          : 0;
    uint32_t force = (uint32_t)beyond * force_scale >> 10;
    watch_sample(&watch, hw_clock_ns(), hw_each_ns(), angle, length_microns - seen_microns,
                 force > 255 ? 255 : (uint8_t)force, marks > 0,
                 sound_steps > device_calibration.heard_above);
  }
  if (marks > 0) {
    marks--;
  }
}

int64_t sw_plant_clock_ns(void) { return hw_clock_ns(); }

void sw_plant_identity(struct sw_identity *identity) {
  sw_name(identity, PSTR("device board"), PSTR("stopwell device"), device_calibration.serial_number,
          sizeof device_calibration.serial_number);
  identity->has_truth = 1;
  identity->has_position = 1;
  identity->period_ns = PERIOD_NS;
}

void sw_plant_off(void) {
  following = false;
  watching = false;
  hw_lock(true);
  hw_lines(false, false);
  set_circuit(APART);
  hw_lock(false);
}

void sw_plant_mount_begin(const struct sw_mount_begin *begin) {
  (void)begin;
  given_kind = given_length = false;
  press_steps = 0;
  table.count = 0;
}

const char *sw_plant_value(const struct sw_mount_value *value) {
  if (sw_is(value->key, value->key_bytes, PSTR("canal.kind"))) {
    given_kind = sw_is(value->word, value->word_bytes, PSTR("chain"));
    return given_kind ? NULL : PSTR("this board plays a chain: only chain");
  }
  if (sw_is(value->key, value->key_bytes, PSTR("canal.length_mm"))) {
    length_microns = (int32_t)value->value;
    given_length = value->decimals == 3;
    return given_length ? NULL : PSTR("not a number with the decimals that this board knows");
  }
  if (sw_is(value->key, value->key_bytes, PSTR("hand.press_n"))) {
    if (value->value < LEAST_PRESS_CENTINEWTONS || value->value > MOST_PRESS_CENTINEWTONS) {
      return PSTR("this board limits the force to 0.5 to 4 N");
    }
    press_steps = (uint16_t)(device_calibration.force_zero + (uint32_t)value->value * 10000 /
                                                                 device_calibration.force_micronewtons);
    return NULL;
  }
  if (sw_is(value->key, value->key_bytes, PSTR("tooth.number"))) {
    return value->value == 0 ? NULL : PSTR("this board has no tooth input");
  }
  return NULL;
}

const char *sw_plant_step(const struct sw_mount_step *step) {
  (void)step;
  return PSTR("this board has no bank: it takes MOUNT_PLACE");
}

const char *sw_plant_place(const struct sw_mount_place *place) {
  return chain_place(&table, &device_chain, place->remaining_microns, place->ohms,
                     place->ohms_count, place->capacitors)
             ? NULL
             : PSTR("not above the place before, other capacitors, no room, or out of reach of a segment");
}

static uint32_t measured_deciohms(const struct chain_codes *codes) {
  set_codes(codes);
  hw_wait_ms(3);
  uint16_t sum = hw_test_node();
  return device_calibration.reference_deciohms / 16 * sum / (FULL_SUM - sum) * 16;
}

static uint32_t all_deciohms(const struct chain_codes *codes) {
  uint32_t sum = chain_deciohms(&device_chain, 0, codes->first);
  for (uint8_t k = 0; k < CHAIN_BRANCHES; k++) {
    sum += chain_deciohms(&device_chain, (uint8_t)(k + 1), codes->of[k]);
  }
  return sum;
}

/* Within 3 % and 20 ohm, twice what a step of the converter is (computed). */
static bool plausible(uint32_t wanted_deciohms, uint32_t measured) {
  uint32_t allowed = wanted_deciohms / 33 + 200;
  return measured <= wanted_deciohms + allowed && wanted_deciohms <= measured + allowed;
}

/* What a look at the chain found; its parts are not in it, because the stack is short. */
struct found {
  uint8_t fault;
  uint16_t part, stray_picofarads;
  uint32_t leak_kilo_ohms, measured_ohms, wanted_ohms;
};

/* None in line, then every part alone: one that is off, and a relay that sticks, show. */
static void measure_parts(struct found *found) {
  for (uint8_t part = 0; part <= CHAIN_FIRST + CHAIN_BRANCHES * CHAIN_RELAYS; part++) {
    struct chain_codes codes = {0, {0}};
    if (part > 0 && part <= CHAIN_FIRST) {
      codes.first = 1UL << (part - 1);
    } else if (part > CHAIN_FIRST) {
      uint8_t k = (uint8_t)(part - 1 - CHAIN_FIRST);
      codes.of[k / CHAIN_RELAYS] = (uint16_t)(1u << k % CHAIN_RELAYS);
    }
    found->measured_ohms = measured_deciohms(&codes) / 10;
    found->wanted_ohms = all_deciohms(&codes) / 10;
    if (!plausible(found->wanted_ohms * 10, found->measured_ohms * 10)) {
      found->fault = SW_NETWORK_FAULT_PART;
      found->part = part;
      return;
    }
  }
}

/* The chain, discharged, shares the charge of the test node: what the node loses is the stray
 * capacitance, and what it goes on losing is the leak. */
static void measure_insulation(struct found *found) {
  struct chain_codes none = {0, {0}};
  set_codes(&none);
  hw_charge(true);
  connect(GROUNDED);
  hw_wait_ms(5);
  hw_charge(false);
  uint16_t before = hw_test_node();
  int64_t joined_ns = hw_clock_ns();
  connect(FLOATING);
  int64_t shared_ns = hw_clock_ns();
  uint16_t shared = hw_test_node();
  shared_ns = (shared_ns + hw_clock_ns()) / 2;
  hw_wait_ms(LEAK_MS);
  int64_t after_ns = hw_clock_ns();
  uint16_t after = hw_test_node();
  after_ns = (after_ns + hw_clock_ns()) / 2;
  hw_charge(true);
  /* V falls as exp(-t / RC), and ln is the difference over the mean. The contact of the test relay has
   * closed 3 ms before the end of connect, at most. */
  float hold = (float)device_calibration.hold_picofarads;
  float falls = shared > after ? (float)(shared - after) : 0;
  float per_ms = falls / ((float)shared + (float)after) * 2 / ((float)(after_ns - shared_ns) * 1e-6f);
  float x = per_ms * ((float)(shared_ns - joined_ns) * 1e-6f - BREAK_MS);
  float joined = (float)shared * (1 + x + x * x / 2);
  float stray = joined > 0 ? ((float)before - joined) * hold / joined : (float)UINT16_MAX;
  stray = stray < 0 ? 0 : stray > (float)UINT16_MAX ? (float)UINT16_MAX : stray;
  float kilohms = 1e6f / (per_ms > 1e-6f ? per_ms : 1e-6f) / (hold + stray);
  found->stray_picofarads = (uint16_t)(stray + 0.5f);
  found->leak_kilo_ohms =
      kilohms < (float)MOST_LEAK_KILOHMS ? (uint32_t)kilohms : MOST_LEAK_KILOHMS;
  if (found->stray_picofarads > MOST_STRAY_PICOFARADS) {
    found->fault = SW_NETWORK_FAULT_STRAY;
  } else if (found->leak_kilo_ohms < LEAST_LEAK_KILOHMS) {
    found->fault = SW_NETWORK_FAULT_LEAK;
  }
}

/* The device is off the chain from here on, until the next mount. */
static struct found verify(void) {
  struct found found = {0};
  sw_plant_off();
  measure_insulation(&found);
  if (found.fault == SW_NETWORK_FAULT_NONE) {
    connect(MEASURED);
    measure_parts(&found);
  }
  connect(APART);
  hw_charge(false);
  return found;
}

static void describe(struct sw_network *to) {
  const struct chain *chain = &device_chain;
  struct found found = verify();
  to->fault = found.fault;
  to->part = found.part;
  to->stray_picofarads = found.stray_picofarads;
  to->leak_kilo_ohms = found.leak_kilo_ohms;
  to->measured_ohms = found.measured_ohms;
  to->wanted_ohms = found.wanted_ohms;
  to->most_places = CHAIN_PLACES;
  to->picofarads_count = CHAIN_BRANCHES * CHAIN_CAPACITORS;
  to->least_ohms_count = CHAIN_BRANCHES + 1;
  to->most_ohms_count = CHAIN_BRANCHES + 1;
  for (uint8_t k = 0; k <= CHAIN_BRANCHES; k++) {
    to->least_ohms[k] = (int32_t)((chain_deciohms(chain, k, 0) + 9) / 10);
    to->most_ohms[k] = (int32_t)(chain_deciohms(chain, k, UINT32_MAX) / 10);
  }
  for (uint8_t k = 0; k < CHAIN_BRANCHES * CHAIN_CAPACITORS; k++) {
    to->picofarads[k] = (int32_t)chain_picofarads(chain, k / CHAIN_CAPACITORS, k % CHAIN_CAPACITORS);
  }
}

uint8_t sw_plant_mount(char *why, uint8_t room) {
  if (!given_kind || !given_length || table.count < 2) {
    return sw_text(why, room, PSTR("a chain needs canal.kind, canal.length_mm and two places or more"));
  }
  if (!hw_homed()) {
    return sw_text(why, room, PSTR("the shank scale has not been at its home switch since the reset"));
  }
  struct found found = verify();
  if (found.fault != SW_NETWORK_FAULT_NONE) {
    uint8_t bytes = sw_text(why, room, PSTR("the chain is not in order; leak, kilohm: "));
    bytes = sw_number(why, room, bytes, found.leak_kilo_ohms);
    bytes += sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(", stray, pF: "));
    bytes = sw_number(why, room, bytes, found.stray_picofarads);
    bytes += sw_text(why + bytes, (uint8_t)(room - bytes), PSTR(", part: "));
    return sw_number(why, room, bytes, found.part);
  }
  shown_at = INT32_MAX / 2; /* nowhere */
  marks = 0;
  force_scale = ((uint32_t)device_calibration.force_micronewtons << 10) /
                (WATCH_FORCE_MILLINEWTONS * 1000UL);
  watch_begin(&watch);
  turn_begin(&turn);
  following = true;
  return 0;
}

/* The first exchange sets the board's time; from then on the device is watched. */
void sw_plant_obey(const struct sw_exchange *command) {
  (void)command;
  watching = true;
}

bool sw_plant_stage(struct sw_message *m) {
  (void)m;
  return false;
}

bool sw_plant_device(struct sw_message *m, const struct sw_board *board) {
  if (m->code == SW_VERIFY) {
    m->code = SW_NETWORK;
    describe(&m->as.network);
    return true;
  }
  m->code = SW_WATCHED;
  memset(&m->as.watched, 0, sizeof m->as.watched);
  watch_take(&watch, board->zero_ns, hw_each_ns(), &m->as.watched, hw_lock);
  return true;
}

void sw_plant_read(struct sw_reading *reading, const struct sw_board *board) {
  (void)board;
  reading->position_kind = SW_READING_POSITION_KIND_ABSENT;
  reading->demand = 1;
  reading->stage = SW_READING_STAGE_LENGTH;
  reading->true_remaining_microns = remaining_microns();
}
