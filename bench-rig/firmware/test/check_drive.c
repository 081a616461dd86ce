/* Facts about the parts of the drive board that need no hardware. */
#include <stdlib.h>
#include <string.h>

#include "drive.h"
#include "facts.h"
#include "sw_board.h"

#define COUNTS_PER_SECOND 1843200u

struct drive_calibration drive_calibration = {
    .serial_number = "D-TEST",
    .motor = {64, 1000000, 5000, 100, 20000},
    .stage = {2500, 4000, 400, 2000, 400, 50, 1000, 40, 15200}};

/* The hardware as a model: a carriage that the screw carries without play, a motor without inertia. */
static int64_t clock_ns;
static int32_t carriage = 1200; /* steps from the edge of the home switch */
static struct feed_lines lines;
static bool line_open, pressed, no_switch;
static uint8_t pin_drive, pin_power;
static int32_t encoder_steps;
static uint32_t encoder_counts;
static uint16_t current_sum;

int64_t hw_clock_ns(void) { return clock_ns; }
void hw_motor(uint8_t drive, uint8_t power) { pin_drive = drive, pin_power = power; }
void hw_alive(void) {}
uint32_t hw_counts_per_second(void) { return COUNTS_PER_SECOND; }
uint16_t hw_current(void) { return current_sum; }
bool hw_stop_line_open(void) { return line_open; }
bool hw_reset_pressed(void) { return pressed; }
void hw_lock(bool locked) { (void)locked; }
void hw_firmware_hash(char *eight_digits) { memcpy(eight_digits, "c0ffee00", 8); }
void hw_encoder(int32_t *steps, uint32_t *step_counts, uint32_t *now_counts) {
  *steps = encoder_steps;
  *step_counts = encoder_counts;
  *now_counts = (uint32_t)(clock_ns * (int64_t)COUNTS_PER_SECOND / 1000000000);
}
void hw_switches(struct motion_switches *open) {
  open->home = carriage <= 0 && !no_switch;
  open->far_limit = carriage >= 15200;
  open->stop_line = line_open;
}

/* The protocol, with the drive board behind it. */
static struct sw_board board;
static struct sw_message m;
static uint32_t sequence;

static enum sw_outcome ask(uint8_t code) {
  m.code = code;
  m.session = 7;
  m.sequence = ++sequence;
  return sw_board_take(&board, &m, 1, 2);
}

static uint8_t move(int32_t microns, uint32_t speed) {
  m.as.stage_move.position_microns = microns;
  m.as.stage_move.speed_microns_per_second = speed;
  ask(SW_STAGE_MOVE);
  return m.as.stage.state;
}

/* Goes on by some ms: the ticks of the stage, and the loop of the motor. */
static void run(int ms) {
  static uint32_t parts;
  for (int i = 0; i < ms; i++) {
    for (parts += MOTION_TICKS_PER_SECOND; parts >= 1000; parts -= 1000) {
      struct motion_switches open;
      hw_switches(&open);
      carriage += drive_stage_tick(&open, &lines);
    }
    clock_ns += 1000000;
    drive_tick();
    sw_board_poll(&board);
  }
}

/* As a host does: asks until the stage is not busy any more; ms that it took. */
static int until_rest(void) {
  int ms = 0;
  do {
    run(20);
    ms += 20;
    ask(SW_STAGE_ASK);
  } while (m.as.stage.state <= SW_STAGE_STATE_MOVING && m.as.stage.state && ms < 60000);
  return ms;
}

/* The feed of a device: place by tick, as the shank scale would show it, in nm. */
#define SECOND MOTION_TICKS_PER_SECOND
static const struct motion_calibration fine = {625, 32000, 3200, 8000, 1600, 50, 1000, 160, 60800};
static struct feed_hand hand;
static struct feed fed;
static int32_t place[12 * SECOND];
static int32_t ticks;
static bool fed_back;

static bool feed_from_rest(void) {
  hand.given = true;
  ticks = 0;
  lines.turns = lines.free = true;
  return feed_begin(&fed, &hand, &fine, 10000, 30000);
}

static int32_t nanometres(void) { return ticks == 0 ? 0 : place[ticks - 1]; }

static void fed_for(uint32_t count) {
  for (uint32_t i = 0; i < count; i++) {
    int32_t before = nanometres();
    place[ticks++] = before + 625 * feed_tick(&fed, &fine, &lines, &fed_back);
  }
}

static struct feed_hand plain(uint32_t microns_per_second) {
  struct feed_hand made;
  memset(&made, 0, sizeof made);
  made.microns_per_second = microns_per_second;
  made.passive_microns = 10000;
  return made;
}

/* Over any 0.1 mm, from half a second on. */
static void a_feed_has_its_speed_to_two_percent_over_any_tenth_of_a_millimetre(void) {
  const uint32_t speeds[] = {50, 53, 125, 500, 777, 2000};
  for (unsigned k = 0; k < sizeof speeds / sizeof *speeds; k++) {
    hand = plain(speeds[k]);
    FACT(feed_from_rest());
    fed_for(4 * SECOND);
    int32_t window = (int32_t)(100 * SECOND / speeds[k]);
    int32_t worst = 0;
    for (int32_t i = (int32_t)SECOND / 2; i + window < ticks; i++) {
      int32_t wrong = place[i + window] - place[i] - (int32_t)((int64_t)window * speeds[k] * 1000 / SECOND);
      worst = abs(wrong) > worst ? abs(wrong) : worst;
    }
    FACT(worst <= 2000);
    FACT(abs(place[4 * SECOND - 1] - (int32_t)speeds[k] * 4000) < 2000 + (int32_t)speeds[k] * 3);
  }
}

static void strokes_have_their_depth_and_their_rate(void) {
  const struct { uint32_t microns, half_hertz; } strokes[] = {{500, 1}, {500, 4}, {4000, 1}, {4000, 4}};
  for (unsigned k = 0; k < 4; k++) {
    hand = plain(50);
    hand.strokes = true;
    hand.stroke_microns = strokes[k].microns;
    hand.stroke_microns_per_second = strokes[k].microns * strokes[k].half_hertz;
    FACT(feed_from_rest());
    fed_for(10 * SECOND);
    int32_t low = 0, high = 0, crossed = 0, first = 0, last = 0, speed = 0, sharpest = 0;
    int32_t slot = FEED_SLOT_TICKS * 4; /* 4 ms */
    for (int32_t i = (int32_t)SECOND; i < ticks; i++) {
      int32_t p = place[i] - (int32_t)(50000LL * i / SECOND);
      int32_t before = place[i - 1] - (int32_t)(50000LL * (i - 1) / SECOND);
      low = p < low ? p : low;
      high = p > high ? p : high;
      if (before < 0 && p >= 0) {
        first = crossed++ == 0 ? i : first;
        last = i;
      }
      int32_t now = place[i] - place[i - slot];
      int32_t then = place[i - slot] - place[i - 2 * slot];
      speed = abs(now) > speed ? abs(now) : speed;
      sharpest = abs(now - then) > sharpest ? abs(now - then) : sharpest;
    }
    FACT(abs(high - low - (int32_t)strokes[k].microns * 1000) < 5000);
    double hertz = (crossed - 1) / ((last - first) / (double)SECOND);
    FACT(hertz > 0.5 * strokes[k].half_hertz * 0.995 && hertz < 0.5 * strokes[k].half_hertz * 1.005);
    FACT(speed <= 20000 * slot / (int32_t)SECOND * 1000);
    FACT(sharpest <= 1000000LL * slot / SECOND * slot * 1000 / SECOND + 5000); /* 1 m/s², and two steps of the table */
  }
}

/* Counted by the board from the line: no later than 2 ms, whatever the host does. */
static void a_feed_stops_its_reaction_time_after_the_line_says_so(void) {
  const uint16_t reactions[] = {0, 100, 250};
  for (unsigned k = 0; k < 3; k++) {
    hand = plain(2000);
    hand.passive_microns = 0;
    hand.reaction_ms = reactions[k];
    FACT(feed_from_rest());
    fed_for(2 * SECOND);
    FACT(nanometres() > 3000000);
    if (reactions[k] == 100) { /* back for less than the reaction time: the feed goes on */
      lines.turns = false;
      fed_for(SECOND / 20);
      lines.turns = true;
      fed_for(SECOND / 2);
      FACT(place[ticks - 1] - place[ticks - (int32_t)SECOND / 2] > 990000);
    }
    lines.turns = false;
    int32_t stopped = ticks;
    fed_for(SECOND);
    int32_t last = ticks - 1;
    while (place[last] == place[last - 1]) {
      last--;
    }
    double ms = (last - stopped) * 1000.0 / SECOND;
    FACT(ms > reactions[k] - 1.0 && ms < reactions[k] + 1.0);
    lines.turns = true;
    fed_for(SECOND);
    FACT(nanometres() > place[last] + 1900000 - 2000 * (int32_t)reactions[k]);
  }
}

/* It enters without rotation, and only as far as a file is carried so. */
static void without_rotation_it_goes_to_the_passive_depth(void) {
  hand = plain(1000);
  hand.start_above_microns = 500;
  hand.passive_microns = 1000;
  FACT(feed_from_rest());
  lines.turns = false;
  fed_for(3 * SECOND);
  FACT(abs(nanometres() - 1500000) < 3000);
  hand.passive_microns = 30000;
  FACT(feed_begin(&fed, &hand, &fine, 10000, 12000));
  ticks = 0;
  fed_for(4 * SECOND);
  FACT(nanometres() <= 2000000 && nanometres() > 1998000);
}

/* A spring of 2 N/mm behind 1 mm of way, seen 1 ms late; strokes turn back in it. */
static void the_force_stays_below_its_limit(void) {
  for (int strokes = 0; strokes < 2; strokes++) {
    hand = plain(strokes ? 500 : 2000);
    hand.strokes = strokes;
    hand.stroke_microns = 1000;
    hand.stroke_microns_per_second = 2000;
    FACT(feed_from_rest());
    int32_t most = 0;
    int32_t least = INT32_MAX;
    for (int i = 0; i < 3000; i++) {
      fed_for(SECOND / 1000);
      int32_t force = (nanometres() - 1000000) / 500; /* mN */
      lines.free = force < 1000;
      most = force > most ? force : most;
      least = i > 2000 && nanometres() < least ? nanometres() : least;
    }
    FACT(most >= 1000 && most < 1000 + (strokes ? 60 : 20));
    FACT(!strokes || least < 1000000);
    int32_t held = nanometres();
    lines.free = true; /* the file has cut its way */
    fed_for(SECOND / 2);
    FACT(strokes || nanometres() > held + 400000);
  }
}

static double wandering(int64_t seed, int32_t *at) {
  hand = plain(1);
  hand.tremor_microns = 35;
  hand.tremor_decihertz = 100;
  hand.seed = seed;
  FACT(feed_from_rest());
  fed_for(11 * SECOND);
  double square = 0;
  for (int32_t i = (int32_t)SECOND; i < ticks; i++) { /* against half a period of 10 Hz before */
    double way = (place[i] - place[i - (int32_t)SECOND / 20]) * 1e-3;
    square += way * way;
  }
  *at = place[5 * SECOND];
  return square / (double)(ticks - (int32_t)SECOND);
}

static void tremor_has_its_size_and_comes_again_with_its_seed(void) {
  int32_t a = 0, b = 0, c = 0;
  double square = wandering(7, &a); /* twice the tremor, so four times its square; drift adds little */
  FACT(square > 4 * 35 * 35 * 0.96 && square < 4 * 35 * 35 * 1.06);
  wandering(7, &b);
  wandering(8, &c);
  FACT(a == b && a != c);
  hand.stiff = true;
  FACT(feed_from_rest());
  fed_for(4 * SECOND);
  FACT(abs(nanometres() - 4000) < 1000);
}

static void what_the_stage_cannot_do_is_refused(void) {
  hand = plain(2000);
  hand.strokes = true;
  hand.stroke_microns = 500;
  hand.stroke_microns_per_second = 16000; /* 16 Hz */
  FACT(!feed_from_rest());
  hand = plain(2000);
  hand.tremor_microns = 500;
  hand.tremor_decihertz = 300;
  FACT(!feed_from_rest());
  hand = plain(2000);
  hand.cannot = true;
  FACT(!feed_from_rest());
  hand = plain(25000);
  FACT(!feed_from_rest());
}

static void homed(void) {
  ask(SW_HELLO);
  ask(SW_STAGE_HOME);
  FACT(m.code == SW_STAGE && m.as.stage.state == SW_STAGE_STATE_HOMING);
  until_rest();
  FACT(m.as.stage.state == SW_STAGE_STATE_ARRIVED && m.as.stage.homed);
}

static void nothing_moves_before_a_session_or_before_home(void) {
  FACT(ask(SW_STAGE_HOME) == SW_ANSWERED && m.as.error.code == SW_ERROR_CODE_NO_SESSION);
  run(100);
  FACT(carriage == 1200);
  ask(SW_HELLO);
  FACT(m.as.identity.has_stage && m.as.identity.has_motor && !m.as.identity.has_position);
  FACT(move(5000, 1000) == SW_STAGE_STATE_NOT_HOMED);
  run(100);
  FACT(carriage == 1200);
}

static void home_is_where_the_switch_closes_on_the_slow_way_forward(void) {
  homed();
  FACT(carriage == 1 && m.as.stage.position_microns == 0);
  carriage = -60; /* and from where the switch is open already */
  homed();
  FACT(carriage == 1 && m.as.stage.position_microns == 0);
}

static void it_stands_where_it_was_sent_and_arrives_forward(void) {
  homed();
  const int32_t places[] = {10000, 3000, 3050, 3000, 38000 - 100, 200};
  for (unsigned i = 0; i < sizeof places / sizeof *places; i++) {
    FACT(move(places[i], 10000) == SW_STAGE_STATE_MOVING);
    int32_t least = carriage;
    int32_t before = carriage;
    bool forward = false;
    do {
      ask(SW_STAGE_ASK);
      for (int k = 0; k < 10 && motion_busy(&drive_stage); k++) {
        struct motion_switches open;
        hw_switches(&open);
        int8_t step = drive_stage_tick(&open, &lines);
        carriage += step;
        forward = step ? step > 0 : forward;
        least = carriage < least ? carriage : least;
      }
    } while (motion_busy(&drive_stage));
    int32_t goal = places[i] * 2 / 5 + 1;
    FACT(carriage == goal && forward);
    /* A way back goes past the place by the play. */
    FACT(before <= goal || least == goal - 40);
  }
}

static void speed_ramp_and_time_are_those_of_the_closed_form(void) {
  homed();
  move(1000, 10000);
  until_rest();
  FACT(move(21000, 10000) == SW_STAGE_STATE_MOVING);
  /* 20 mm at 10 mm/s and 50 mm/s²: way over speed and one ramp, 2.2 s (computed). */
  int ms = until_rest();
  FACT(ms >= 2180 && ms <= 2260);
}

static void a_stop_comes_to_rest_within_the_braking_way(void) {
  homed();
  move(30000, 10000);
  run(1000);
  int32_t at = carriage;
  ask(SW_STAGE_STOP);
  until_rest();
  FACT(m.as.stage.state == SW_STAGE_STATE_STOPPED && m.as.stage.homed);
  /* v²/2a = 400 steps, and what a tick adds (computed). */
  FACT(carriage > at && carriage - at <= 410);
}

static void what_is_outside_or_too_much_is_refused(void) {
  homed();
  FACT(move(199, 1000) == SW_STAGE_STATE_OUTSIDE);
  FACT(move(37901, 1000) == SW_STAGE_STATE_OUTSIDE);
  FACT(move(5000, 0) == SW_STAGE_STATE_OUTSIDE);
  FACT(move(5000, 10001) == SW_STAGE_STATE_OUTSIDE);
  FACT(move(5000, 1000) == SW_STAGE_STATE_MOVING);
  FACT(move(6000, 1000) == SW_STAGE_STATE_BUSY);
  ask(SW_STAGE_HOME);
  FACT(m.as.stage.state == SW_STAGE_STATE_BUSY);
  until_rest();
  FACT(m.as.stage.position_microns == 5000);
}

static void a_switch_that_never_opens_ends_the_search(void) {
  ask(SW_HELLO);
  no_switch = true;
  ask(SW_STAGE_HOME);
  until_rest();
  FACT(m.as.stage.state == SW_STAGE_STATE_HOME_NOT_FOUND && !m.as.stage.homed);
  no_switch = false;
  carriage = 100;
}

static void a_limit_stops_it_and_home_is_forgotten(void) {
  homed();
  carriage += 3000; /* the count is wrong by steps that were lost */
  move(37000, 10000);
  until_rest();
  FACT(m.as.stage.state == SW_STAGE_STATE_FAR_LIMIT && !m.as.stage.homed);
  FACT(carriage == 15200);
  homed();
  move(20000, 10000);
  until_rest();
  carriage -= 2000;
  move(1000, 10000);
  until_rest();
  FACT(m.as.stage.state == SW_STAGE_STATE_HOME_LIMIT && !m.as.stage.homed && carriage == 0);
}

static void a_host_that_says_nothing_finds_it_at_rest(void) {
  homed();
  move(37000, 1000);
  run(1000);
  FACT(motion_busy(&drive_stage));
  run(20);
  int32_t at = carriage;
  run(500);
  FACT(carriage == at);
  ask(SW_STAGE_ASK);
  FACT(m.as.stage.state == SW_STAGE_STATE_LEFT_ALONE && m.as.stage.homed);
}

static enum sw_outcome exchange(int32_t rpm, uint8_t drive) {
  static int64_t now_ns;
  memset(&m.as.exchange, 0, sizeof m.as.exchange);
  m.as.exchange.now_ns = ++now_ns;
  m.as.exchange.drive = drive;
  m.as.exchange.speed_milli_rpm = rpm * 1000;
  m.as.exchange.torque_limit_micro_newton_metres = 6000;
  return ask(SW_EXCHANGE);
}

static void mount(void) {
  ask(SW_HELLO);
  m.as.mount_begin.values = 0;
  m.as.mount_begin.steps = 0;
  ask(SW_MOUNT_BEGIN);
  ask(SW_MOUNT_END);
  FACT(m.code == SW_READING && m.as.reading.position_kind == SW_READING_POSITION_KIND_ABSENT);
}

static void the_line_takes_power_and_way_until_somebody_resets_it(void) {
  homed();
  mount();
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  move(30000, 1000);
  run(20);
  FACT(pin_drive == SW_EXCHANGE_DRIVE_FORWARD && pin_power > 0 && motion_busy(&drive_stage));
  line_open = true;
  run(1);
  FACT(pin_drive == SW_EXCHANGE_DRIVE_OFF && pin_power == 0);
  FACT(drive_stage.state == SW_STAGE_STATE_STOP_LINE);
  line_open = false; /* released: nothing moves, nor does a press that comes too soon count */
  pressed = true;
  run(50);
  pressed = false;
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  run(10);
  FACT(m.as.reading.stop_line && pin_power == 0);
  FACT(move(30000, 1000) == SW_STAGE_STATE_STOP_LINE);
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  run(60);
  pressed = true;
  run(2);
  pressed = false;
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD); /* the old demand is still active: it must rest first */
  FACT(!m.as.reading.stop_line && m.as.reading.reset);
  run(2);
  FACT(pin_power == 0);
  exchange(0, SW_EXCHANGE_DRIVE_OFF);
  FACT(!m.as.reading.reset);
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  run(2);
  FACT(pin_drive == SW_EXCHANGE_DRIVE_FORWARD && pin_power > 0);
}

static void a_silent_host_finds_the_motor_off(void) {
  mount();
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  run(99);
  FACT(pin_power > 0);
  run(3);
  FACT(pin_power == 0 && pin_drive == SW_EXCHANGE_DRIVE_OFF && board.watchdog);
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  run(2);
  FACT(pin_power == 0 && m.as.reading.watchdog);
}

static void too_much_torque_takes_the_power_until_it_is_less(void) {
  mount();
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  run(2);
  FACT(pin_power > 0);
  current_sum = (uint16_t)(16368 * 401 / 5000 + 1); /* 0.4 A: 0.3 A beyond idle, 6000 µN·m */
  run(2);
  FACT(pin_power == 0 && pin_drive == SW_EXCHANGE_DRIVE_FORWARD);
  exchange(300, SW_EXCHANGE_DRIVE_FORWARD);
  FACT(labs(m.as.reading.torque_micro_newton_metres - 6000) < 60);
  FACT(labs(m.as.reading.current_milli_amps - 401) < 2);
  current_sum = 0;
  run(2);
  FACT(pin_power > 0);
}

static void speed_is_steps_over_time(void) {
  const struct motor_calibration *is = &drive_calibration.motor;
  struct motor_speed speed = {0, 0, 0};
  /* 300 rpm and 64 steps: a step each 5760 counts (computed). */
  uint32_t now = 1000;
  for (int32_t step = 1; step < 40; step++) {
    now += 5760;
    motor_look(&speed, is, step, now, now + 100, COUNTS_PER_SECOND);
  }
  FACT(labs(speed.milli_rpm - 300000) < 30);
  motor_look(&speed, is, 39, now, now + 57600, COUNTS_PER_SECOND);
  FACT(labs(speed.milli_rpm - 30000) < 30); /* ten times the time: at most a tenth of the speed */
  motor_look(&speed, is, 39, now, now + COUNTS_PER_SECOND / 5, COUNTS_PER_SECOND);
  FACT(speed.milli_rpm == 0);
  now += 40 * COUNTS_PER_SECOND;
  for (int32_t step = 38; step > 0; step--) {
    now += 5760;
    motor_look(&speed, is, step, now, now + 100, COUNTS_PER_SECOND);
  }
  FACT(labs(speed.milli_rpm + 300000) < 30);
}

int main(void) {
  a_feed_has_its_speed_to_two_percent_over_any_tenth_of_a_millimetre();
  strokes_have_their_depth_and_their_rate();
  a_feed_stops_its_reaction_time_after_the_line_says_so();
  without_rotation_it_goes_to_the_passive_depth();
  the_force_stays_below_its_limit();
  tremor_has_its_size_and_comes_again_with_its_seed();
  what_the_stage_cannot_do_is_refused();
  nothing_moves_before_a_session_or_before_home();
  home_is_where_the_switch_closes_on_the_slow_way_forward();
  it_stands_where_it_was_sent_and_arrives_forward();
  speed_ramp_and_time_are_those_of_the_closed_form();
  a_stop_comes_to_rest_within_the_braking_way();
  what_is_outside_or_too_much_is_refused();
  a_switch_that_never_opens_ends_the_search();
  a_limit_stops_it_and_home_is_forgotten();
  a_host_that_says_nothing_finds_it_at_rest();
  the_line_takes_power_and_way_until_somebody_resets_it();
  a_silent_host_finds_the_motor_off();
  too_much_torque_takes_the_power_until_it_is_less();
  speed_is_steps_over_time();
  return told();
}
