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
    .stage = {2500, 4000, 2000, 400, 20000, 40, 15200}};

/* The hardware as a model: a carriage that the screw carries without play, a motor without inertia. */
static int64_t clock_ns;
static int32_t carriage = 1200; /* steps from the edge of the home switch */
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
      carriage += motion_tick(&drive_stage, &drive_calibration.stage, &open);
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
        int8_t step = motion_tick(&drive_stage, &drive_calibration.stage, &open);
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
