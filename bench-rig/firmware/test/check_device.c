/* Facts about the parts of the device board that need no hardware. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "device.h"
#include "facts.h"
#include "sw_board.h"
#include "turn.h"

/* The hardware as a model: relays that obey, a converter without noise. */
struct device_calibration device_calibration = {
    .serial_number = "W-TEST",
    .home_microns = 25000,
    .step_nanometres = 1000,
    .force_micronewtons = 5000,
    .heard_above = 200,
    .reference_deciohms = 100000,
    .hold_picofarads = 1000};
const struct chain device_chain = {
    .first_base = 3000,
    .first = {10, 18, 35, 66, 130, 255, 499, 976, 1910, 2210, 2210, 2210, 2210, 2210, 2210, 2210,
              2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 2210, 46400,
              90900, 150000},
    .part = {{15, 28, 54, 105, 205, 402, 787, 1540, 3010, 5900, 11800, 23200, 45300, 88700},
             {15, 28, 54, 105, 205, 402, 787, 1540, 3010, 5900, 11800, 23200, 45300, 88700},
             {15, 28, 54, 105, 205, 402, 787, 1540, 3010, 5900, 11800, 23200, 45300, 88700},
             {8, 15, 27, 52, 102, 200, 392, 768, 1500, 2940, 5760, 11500, 22600, 44200}},
    .picofarads = {{330000, 390000, 1200000},
                   {100000, 120000, 390000},
                   {15000, 18000, 56000},
                   {6800, 8200, 27000}}};
static int64_t clock_ns;
static int32_t steps;
static struct chain_codes relays, passed; /* as they are, and as they were on the way */
static enum device_circuit circuit;
static int together; /* the chain was measured while the device was on it */
static bool charged;
static int broken = -1;
static double stray = 30, leak_ohms = 1e9;
static double node_volts;

int64_t hw_clock_ns(void) { return clock_ns; }
int32_t hw_steps(void) { return steps; }
bool hw_homed(void) { return true; }
uint32_t hw_each_ns(void) { return 500000; }
static bool line_turns, line_free;
void hw_lines(bool turns, bool free) { line_turns = turns, line_free = free; }
void hw_lock(bool locked) { (void)locked; }
void hw_codes(const struct chain_codes *codes) { relays = *codes; }
void hw_step(const struct chain_codes *through, const struct chain_codes *to) {
  passed = *through;
  relays = *to;
}
void hw_firmware_hash(char *eight_digits) { memcpy(eight_digits, "c0ffee00", 8); }
void hw_circuit(enum device_circuit to) {
  if (to == FLOATING && circuit == APART) {
    node_volts *= 1000 / (1000 + stray);
  }
  circuit = to;
}
void hw_charge(bool on) {
  charged = on;
  node_volts = on ? 5 : node_volts;
}
void hw_wait_ms(uint8_t count) {
  clock_ns += count * 1000000LL;
  if (circuit == FLOATING && !charged) {
    node_volts *= exp(-count * 1e-3 / leak_ohms / (1000 + stray) * 1e12);
  }
}
static double ohms(void) {
  double sum = chain_deciohms(&device_chain, 0, relays.first) / 10.0;
  for (uint8_t k = 0; k < CHAIN_BRANCHES; k++) {
    sum += chain_deciohms(&device_chain, (uint8_t)(k + 1), relays.of[k]) / 10.0;
  }
  if (broken >= 0 && relays.first >> broken & 1) {
    sum -= device_chain.first[broken] / 10.0;
  }
  return sum;
}
uint16_t hw_test_node(void) {
  together += circuit == AT_DEVICE;
  hw_wait_ms(1);
  double volts = circuit == MEASURED ? 5 * ohms() / (ohms() + 10000) : node_volts;
  hw_wait_ms(2);
  return (uint16_t)(volts / 5 * 1023 * 16);
}

static bool chain_codes(const struct chain *chain, const struct chain_table *table, int32_t microns,
                        struct chain_codes *codes) {
  struct chain_work work;
  if (!chain_begin(chain, table, microns, &work)) {
    return false;
  }
  for (uint8_t k = 0; k < CHAIN_BRANCHES; k++) {
    chain_branch(chain, table, &work, k);
  }
  chain_ranges(chain, table, &work);
  chain_first(chain, &work);
  *codes = work.codes;
  return true;
}

static int32_t in_ohms(const struct chain_codes *codes, uint8_t segment) {
  uint32_t code = segment == 0 ? codes->first : codes->of[segment - 1];
  return (int32_t)(chain_deciohms(&device_chain, segment, code) / 10);
}

static void every_resistance_of_the_first_segment_is_near(void) {
  const struct chain *chain = &device_chain;
  static struct chain_table table;
  int worst = 0;
  int most = 0;
  uint32_t before = 0;
  for (int32_t wanted = 302; wanted < 33000; wanted++) {
    table.count = 0;
    const int32_t want[] = {wanted, 1000, 1000, 1000, 1000};
    FACT(chain_place(&table, chain, 4000, want, 5, 0));
    struct chain_codes codes;
    FACT(chain_codes(chain, &table, 4000, &codes));
    worst = abs(in_ohms(&codes, 0) - wanted) > worst ? abs(in_ohms(&codes, 0) - wanted) : worst;
    if (wanted > 302 && wanted < 4900) {
      uint32_t opens = codes.first & ~before; /* what is in line before anything closes */
      int rise = (int)((chain_deciohms(chain, 0, before | opens) - chain_deciohms(chain, 0, before)) / 10);
      most = rise > most ? rise : most;
    }
    before = codes.first;
  }
  FACT(worst <= 2);
  FACT(most <= 222); /* a step of 221 ohm, and no more, moves at a time */
}

/* Near the foramen the ranges are the same everywhere, though less would do at some places. */
static void the_ranges_rest_near_the_foramen(void) {
  const struct chain *chain = &device_chain;
  static struct chain_table table;
  table.count = 0;
  const int32_t low[] = {4000, 1000, 1000, 1000, 1000};
  const int32_t high[] = {7000, 1000, 1000, 1000, 1000};
  const int32_t far[] = {12000, 1000, 1000, 1000, 1000};
  FACT(chain_place(&table, chain, -1000, low, 5, 0x69) && chain_place(&table, chain, 3000, high, 5, 0x69));
  FACT(!chain_place(&table, chain, 9000, far, 5, 0x55)); /* other capacitors */
  FACT(chain_place(&table, chain, 9000, far, 5, 0x69));
  const uint32_t ranges = 7UL << (CHAIN_FINE + CHAIN_STEPS);
  struct chain_codes codes;
  FACT(chain_codes(chain, &table, 3000, &codes) && (codes.first & ranges) != 0);
  uint32_t there = codes.first & ranges;
  for (int32_t microns = 3000; microns >= -800; microns -= 10) {
    FACT(chain_codes(chain, &table, microns, &codes));
    FACT((codes.first & ranges) == there || in_ohms(&codes, 0) < 300 + 4640);
  }
  FACT(chain_codes(chain, &table, 9000, &codes) && (codes.first & ranges) != there);
  FACT(codes.of[0] >> CHAIN_RELAYS == 1 && codes.of[1] >> CHAIN_RELAYS == 2);
  FACT(codes.of[2] >> CHAIN_RELAYS == 2 && codes.of[3] >> CHAIN_RELAYS == 1);
}

static void a_place_that_the_chain_cannot_make_is_refused(void) {
  const struct chain *chain = &device_chain;
  static struct chain_table table;
  table.count = 0;
  const int32_t good[] = {3000, 1000, 800, 1700, 600};
  const int32_t high[] = {3000, 19000, 800, 1700, 600};
  const int32_t low[] = {290, 1000, 400, 1700, 600};
  const int32_t first[] = {34000, 1000, 800, 1700, 600};
  FACT(!chain_place(&table, chain, 0, high, 5, 0) && !chain_place(&table, chain, 0, low, 5, 0));
  FACT(!chain_place(&table, chain, 0, first, 5, 0) && !chain_place(&table, chain, 0, good, 4, 0));
  FACT(!chain_place(&table, chain, 40000, good, 5, 0) && !chain_place(&table, chain, 0, good, 5, 256));
  for (int k = 0; k < CHAIN_PLACES; k++) {
    FACT(chain_place(&table, chain, k * 100, good, 5, 0));
    FACT(!chain_place(&table, chain, k * 100, good, 5, 0)); /* not above the last */
  }
  FACT(!chain_place(&table, chain, 30000, good, 5, 0)); /* no room */
  struct chain_codes codes;
  FACT(!chain_codes(chain, &table, (CHAIN_PLACES - 1) * 100 + 1, &codes));
  FACT(chain_codes(chain, &table, -5000, &codes));
}

static void between_two_places_there_is_a_straight_line(void) {
  const struct chain *chain = &device_chain;
  static struct chain_table table;
  table.count = 0;
  const int32_t a[] = {2000, 800, 600, 1600, 480};
  const int32_t b[] = {4000, 2800, 1400, 2000, 700};
  FACT(chain_place(&table, chain, 0, a, 5, 0) && chain_place(&table, chain, 2000, b, 5, 0));
  for (int32_t microns = 0; microns <= 2000; microns += 10) {
    struct chain_codes codes;
    FACT(chain_codes(chain, &table, microns, &codes));
    int32_t sum = 0, wanted = 0;
    for (uint8_t k = 0; k < 5; k++) {
      int32_t want = a[k] + (b[k] - a[k]) * microns / 2000;
      FACT(k == 0 || abs(in_ohms(&codes, k) - want) <= 2);
      wanted += want;
      sum += in_ohms(&codes, k);
    }
    FACT(abs(sum - wanted) < 8);
  }
}

static void an_opening_step_has_every_resistor_of_both(void) {
  struct chain_codes from = {0x0F, {1, 2, 0, 0}}, to = {0x10, {2, 2, 4, 0}};
  struct chain_codes both = chain_opening(&from, &to);
  FACT(both.first == 0x1F && both.of[0] == 3 && both.of[1] == 2 && both.of[2] == 4);
  FACT(chain_same(&from, &from) && !chain_same(&from, &to));
}

static void samples_come_back_as_they_were(void) {
  static struct watch watch;
  static struct sw_watched got;
  watch_begin(&watch);
  uint16_t raw = 4000; /* and around the end of the scale */
  int32_t angle = 0, microns = 5000, seen_angle = 0, seen_microns = 5000;
  int64_t now = 1000000;
  for (int round = 0; round < 20; round++) {
    for (int i = 0; i < 40; i++) {
      int turn = round < 10 ? 10 : -7;
      raw = (uint16_t)((raw + turn) & 4095);
      angle += round + i == 0 ? 0 : turn;
      microns += i % 4 == 1;
      watch_sample(&watch, now += 500000, 500000, raw, microns, (uint8_t)(round * 10), i == 5, round > 5);
    }
    watch_take(&watch, 0, 500000, &got, hw_lock);
    FACT(got.entries_count == 20 && got.lost == 0);
    FACT(got.first_steps == seen_angle && got.first_microns == seen_microns);
    FACT(got.first_ns == now - 39 * 500000);
    for (int i = 0; i < 20; i++) {
      uint32_t entry = (uint32_t)got.entries[i];
      seen_angle += (int8_t)(entry & 255) + (int8_t)(entry >> 8 & 255);
      seen_microns += (int8_t)(uint8_t)(entry >> 16 << 2) >> 2;
      FACT((entry >> 22 & 1) == (i == 2) && (entry >> 23 & 1) == (round > 5));
      FACT(entry >> 24 == (uint32_t)round * 10);
    }
    FACT(seen_angle == angle && seen_microns == microns);
  }
}

/* A host that stays away costs samples, which are counted, and nothing else. */
static void a_late_host_loses_samples_and_no_angle(void) {
  static struct watch watch;
  static struct sw_watched got;
  watch_begin(&watch);
  uint16_t raw = 0;
  int32_t angle = 0;
  uint32_t taken = 0;
  const uint32_t samples = 500;
  for (uint32_t i = 0; i < samples; i++) {
    raw = (uint16_t)((raw + 20) & 4095);
    angle += i == 0 ? 0 : 20;
    watch_sample(&watch, (int64_t)i * 500000, 500000, raw, 0, 0, false, false);
  }
  watch_take(&watch, 0, 500000, &got, hw_lock);
  FACT(got.entries_count == 40 && got.first_ns == 0);
  taken += 2 * got.entries_count;
  watch_take(&watch, 0, 500000, &got, hw_lock);
  FACT(got.entries_count == WATCH_ROOM - 40 && got.first_ns == 40 * 1000000);
  taken += 2 * got.entries_count;
  FACT(taken + got.lost == samples);
  for (int i = 0; i < 7; i++) {
    raw = (uint16_t)((raw + 20) & 4095);
    angle += 20;
    watch_sample(&watch, (int64_t)(samples + (uint32_t)i) * 500000, 500000, raw, 0, 0, false, false);
  }
  watch_take(&watch, 0, 500000, &got, hw_lock);
  FACT(got.entries_count == 3 && got.lost == samples - taken + 1);
  int32_t end = got.first_steps;
  for (int i = 0; i < 3; i++) {
    end += (int8_t)(got.entries[i] & 255) + (int8_t)(got.entries[i] >> 8 & 255);
  }
  FACT(end == angle);
}

/* By samples of 0.5 ms; 300 rpm are 10.24 steps a sample. */
static uint32_t until(struct turn *turn, double *degrees, double rpm, bool wanted, uint32_t most) {
  uint32_t samples = 0;
  bool is = !wanted;
  while (is != wanted && samples < most) {
    *degrees += rpm * 6 * 0.0005;
    double noise = 0.08 * sqrt(12) * (rand() / (double)RAND_MAX - 0.5);
    is = turn_sample(turn, (uint16_t)((int)((*degrees + noise + 36000) / 360 * 4096) & 4095));
    samples++;
  }
  return samples;
}

static void rotation_is_known_to_stop_or_turn_back_within_two_milliseconds(void) {
  static struct turn turn;
  double degrees = 0;
  srand(5);
  turn_begin(&turn);
  FACT(until(&turn, &degrees, 0, true, 4000) == 4000); /* noise is no rotation */
  for (int round = 0; round < 50; round++) {
    FACT(until(&turn, &degrees, 300, true, 100) <= 5);
    FACT(until(&turn, &degrees, 300, false, 400) == 400);
    FACT(until(&turn, &degrees, 0, false, 100) <= 4);
    until(&turn, &degrees, 300, true, 100);
    FACT(until(&turn, &degrees, -300, false, 100) <= 4);
    FACT(until(&turn, &degrees, -300, true, 100) == 100); /* back is not the way of the work */
    FACT(until(&turn, &degrees, 0, true, 300) == 300);
  }
  FACT(until(&turn, &degrees, -300, true, 100) <= 5); /* after a rest it may be */
  FACT(until(&turn, &degrees, 0, false, 100) <= 4);
  FACT(until(&turn, &degrees, 0, true, 300) == 300);
  FACT(until(&turn, &degrees, 100, true, 100) <= 10);
  FACT(until(&turn, &degrees, 100, false, 400) == 400);
}

/* A mark that slips is neither a gap nor a wrong angle: the samples after the jump are a list of their
 * own. Wherever in an entry it comes; a second one that waits is a gap. */
static void an_angle_that_jumps_loses_no_sample(void) {
  for (int jump_at = 5; jump_at <= 8; jump_at++) {
    static struct watch watch;
    static struct sw_watched got;
    watch_begin(&watch);
    uint16_t raw = 0;
    int32_t angle = 0;
    for (int i = 0; i < 20; i++) {
      int32_t turn = i == jump_at ? -455 : i == 0 ? 0 : 10;
      raw = (uint16_t)(raw + turn) & 4095;
      angle += turn;
      watch_sample(&watch, i * 500000LL, 500000, raw, 0, 0, false, false);
    }
    int32_t end = 0;
    int taken = 0;
    for (int list = 0; list < 2; list++) {
      watch_take(&watch, 0, 500000, &got, hw_lock);
      FACT(list == 0 || got.first_steps < end - 400);
      FACT(got.first_ns == taken * 500000LL);
      end = got.first_steps;
      for (int i = 0; i < got.entries_count; i++) {
        end += (int8_t)(got.entries[i] & 255) + (int8_t)(got.entries[i] >> 8 & 255);
      }
      taken += 2 * got.entries_count;
    }
    FACT(taken == 20 && got.lost == 0 && end == angle);
    raw = (uint16_t)(raw + 400) & 4095;
    watch_sample(&watch, 20 * 500000LL, 500000, raw, 0, 0, false, false);
    raw = (uint16_t)(raw + 400) & 4095;
    watch_sample(&watch, 21 * 500000LL, 500000, raw, 0, 0, false, false);
    FACT(watch.broken && watch.lost > 0);
  }
}

/* One missed tick is made up and marked, several are a gap: the times of the samples hold. */
static void a_missed_tick_is_marked_and_several_are_a_gap(void) {
  static struct watch watch;
  static struct sw_watched got;
  watch_begin(&watch);
  for (int i = 0; i < 7; i++) {
    int tick = i + (i > 2);
    watch_sample(&watch, tick * 500000LL, 500000, (uint16_t)(10 * tick), 0, 0, false, false);
  }
  watch_take(&watch, 0, 500000, &got, hw_lock);
  FACT(got.entries_count == 4 && got.lost == 0);
  int32_t angle = 0;
  for (int i = 0; i < 4; i++) {
    angle += (int8_t)(got.entries[i] & 255) + (int8_t)(got.entries[i] >> 8 & 255);
    FACT(((uint32_t)got.entries[i] >> 22 & 1) == (i == 1 || i == 2));
  }
  FACT(angle == 70);
  watch_sample(&watch, 8 * 500000LL, 500000, 80, 0, 0, false, false);
  watch_sample(&watch, 12 * 500000LL, 500000, 120, 0, 0, false, false);
  FACT(watch.broken && watch.lost > 0);
}

/* The protocol, with the device board behind it. */
static struct sw_board board;
static struct sw_message m;
static uint32_t sequence;

static void ask(uint8_t code) {
  m.code = code;
  m.session = 7;
  m.sequence = ++sequence;
  sw_board_take(&board, &m, 1, 2);
}

static void value(const char *key, uint8_t decimals, int64_t number, const char *word) {
  m.as.mount_value.key_bytes = (uint8_t)strlen(key);
  memcpy(m.as.mount_value.key, key, strlen(key));
  m.as.mount_value.word_bytes = (uint8_t)strlen(word);
  memcpy(m.as.mount_value.word, word, strlen(word));
  m.as.mount_value.decimals = decimals;
  m.as.mount_value.value = number;
  ask(SW_MOUNT_VALUE);
}

static void place(int32_t microns, int32_t first) {
  const int32_t ohms[] = {first, 1000, 800, 1700, 600};
  m.as.mount_place.remaining_microns = microns;
  m.as.mount_place.ohms_count = 5;
  memcpy(m.as.mount_place.ohms, ohms, sizeof ohms);
  m.as.mount_place.capacitors = 0x55;
  ask(SW_MOUNT_PLACE);
}

static void mount(void) {
  memset(&m, 0, sizeof m);
  ask(SW_HELLO);
  m.as.mount_begin.values = 2;
  m.as.mount_begin.steps = 2;
  ask(SW_MOUNT_BEGIN);
  value("canal.kind", 0, 6, "chain");
  value("canal.length_mm", 3, 16000, "");
  place(-3000, 900);
  place(10000, 8000);
  ask(SW_MOUNT_END);
}

static void tick(int count) {
  for (int i = 0; i < count; i++) {
    clock_ns += 500000;
    device_sample(0, 0, 0);
    device_follow();
  }
}

static void the_device_is_on_the_chain_only_while_it_is_mounted(void) {
  steps = 20000; /* 5 mm short of the foramen */
  mount();
  FACT(m.code == SW_READING && m.as.reading.true_remaining_microns == 5000);
  FACT(m.as.reading.position_kind == SW_READING_POSITION_KIND_ABSENT);
  FACT(circuit == APART);
  tick(8);
  FACT(circuit == AT_DEVICE);
  uint32_t before = relays.first;
  steps += 500;
  tick(8);
  FACT(relays.first != before && (relays.first & before) != before);
  FACT(passed.first == (relays.first | before)); /* those that open, then those that close */
  FACT(relays.of[0] >> CHAIN_RELAYS == 1);
  ask(SW_VERIFY);
  FACT(m.code == SW_NETWORK && m.as.network.fault == SW_NETWORK_FAULT_NONE && circuit == APART);
  FACT(abs(m.as.network.stray_picofarads - 30) <= 2);
  FACT(m.as.network.leak_kilo_ohms > 500000);
  FACT(m.as.network.least_ohms[0] == 300 && m.as.network.picofarads[10] == 8200);
  steps -= 18000; /* above the last place */
  mount();
  tick(10);
  FACT(m.code == SW_READING && circuit == APART);
  FACT(together == 0);
}

static void a_chain_that_is_not_in_order_is_refused(void) {
  steps = 20000;
  stray = 90;
  mount();
  FACT(m.code == SW_REFUSED && circuit == APART);
  stray = 30;
  leak_ohms = 50e6;
  mount();
  FACT(m.code == SW_REFUSED);
  ask(SW_VERIFY);
  FACT(m.as.network.fault == SW_NETWORK_FAULT_LEAK);
  FACT(abs((int)m.as.network.leak_kilo_ohms - 50000) < 5000);
  leak_ohms = 120e6;
  mount();
  FACT(m.code == SW_READING);
  broken = 30;
  ask(SW_VERIFY);
  FACT(m.as.network.fault == SW_NETWORK_FAULT_PART && m.as.network.part == 31);
  broken = -1;
  FACT(together == 0);
}

static void the_host_gets_samples_from_the_first_exchange_on(void) {
  mount();
  tick(10);
  ask(SW_WATCH);
  FACT(m.code == SW_WATCHED && m.as.watched.entries_count == 0);
  memset(&m.as, 0, sizeof m.as);
  m.as.exchange.now_ns = 10000000;
  ask(SW_EXCHANGE);
  tick(21);
  ask(SW_WATCH);
  FACT(m.as.watched.entries_count == 10 && m.as.watched.first_ns == 10500000);
  FACT(m.as.watched.first_microns == 16000 - 5000);
}

int main(void) {
  every_resistance_of_the_first_segment_is_near();
  the_ranges_rest_near_the_foramen();
  a_place_that_the_chain_cannot_make_is_refused();
  between_two_places_there_is_a_straight_line();
  an_opening_step_has_every_resistor_of_both();
  samples_come_back_as_they_were();
  a_late_host_loses_samples_and_no_angle();
  an_angle_that_jumps_loses_no_sample();
  rotation_is_known_to_stop_or_turn_back_within_two_milliseconds();
  a_missed_tick_is_marked_and_several_are_a_gap();
  the_device_is_on_the_chain_only_while_it_is_mounted();
  a_chain_that_is_not_in_order_is_refused();
  the_host_gets_samples_from_the_first_exchange_on();
  return told();
}
