/*
 * The plant of the drive board: motor, stage and stop line.
 *
 * Who calls whom:
 *
 *   main.c      -> sw_avr.c    sw_avr_start, sw_avr_serve; the clock
 *   sw_avr.c    -> sw_board.c  sw_board_take for each request, sw_board_poll in between
 *   sw_avr.c    -> main.c      sw_plant_tick
 *   sw_board.c  -> drive.c     sw_plant_ functions: mount, obey, read, off
 *   sw_board.c  -> sw_avr.c    hw_firmware_hash
 *   drive.c     -> main.c      hw_ functions: pins, converter, encoder
 */
#include "drive.h"

#include <string.h>

#include "sw_board.h"
#include "sw_text.h"

#define PERIOD_NS 10000000UL /* an exchange takes some ms, most of it sums and the line */
_Static_assert(PERIOD_NS >= SW_LEAST_PERIOD_NS && PERIOD_NS <= SW_MOST_PERIOD_NS,
               "the host refuses a period outside of its bounds");
#define RELEASE_NS 100000000LL /* closed for this long before a reset clears it: contacts bounce (assumed) */

#define LONGEST_US 20000u /* longer than any request delays the loop (assumed) */

struct motion drive_stage;

static struct feed_hand hand;
static struct feed feed;

static struct motor motor = {.must_rest = true};
static struct motor_speed speed;
static int64_t heard_ns;
static int64_t open_ns;
static bool stopped; /* until the line was closed for a while and somebody resets it */
static bool reset_held;
static bool reset_told;
static uint32_t looped_counts;

bool drive_stopped(void) { return stopped; }

int64_t sw_plant_clock_ns(void) { return hw_clock_ns(); }

void sw_plant_identity(struct sw_identity *identity) {
  sw_name(identity, PSTR("drive board"), PSTR("stopwell drive"), drive_calibration.serial_number,
          sizeof drive_calibration.serial_number);
  identity->has_truth = 1;
  identity->has_motor = 1;
  identity->has_stage = 1;
  identity->period_ns = PERIOD_NS;
}

void sw_plant_off(void) {
  motor_off(&motor);
  hw_motor(SW_EXCHANGE_DRIVE_OFF, 0);
  hw_lock(true);
  motion_halt(&drive_stage, SW_STAGE_STATE_LEFT_ALONE);
  hw_lock(false);
}

void sw_plant_mount_begin(const struct sw_mount_begin *begin) {
  memset(&hand, 0, sizeof hand);
  hand.seed = begin->seed;
}

/* The keys of canal, fluid and file are for others. What the stage cannot do it refuses when it is to feed:
 * in other trials a person moves the file. */
const char *sw_plant_value(const struct sw_mount_value *value) {
  feed_value(&hand, value);
  return NULL;
}

const char *sw_plant_step(const struct sw_mount_step *step) {
  (void)step;
  return PSTR("this board has no network");
}

uint8_t sw_plant_mount(char *why, uint8_t room) {
  (void)why, (void)room;
  motor_off(&motor);
  motor.must_rest = false;
  return 0;
}

void sw_plant_obey(const struct sw_exchange *command) {
  heard_ns = hw_clock_ns();
  hw_alive();
  if (!stopped) {
    motor_obey(&motor, command);
  }
}

static void stop_line(int64_t now_ns) {
  bool pressed = hw_reset_pressed();
  if (hw_stop_line_open()) {
    open_ns = now_ns;
    if (!stopped) {
      stopped = true;
      motor_off(&motor);
      hw_motor(SW_EXCHANGE_DRIVE_OFF, 0);
    }
  } else if (pressed && !reset_held && now_ns - open_ns >= RELEASE_NS) {
    stopped = false; /* the motor still waits for a command that rests, then one that turns */
    reset_told = true;
  }
  reset_held = pressed;
}

void drive_tick(void) {
  int64_t now_ns = hw_clock_ns();
  int32_t steps = 0;
  uint32_t step_counts = 0;
  uint32_t now_counts = 0;
  stop_line(now_ns);
  hw_encoder(&steps, &step_counts, &now_counts);
  motor_look(&speed, &drive_calibration.motor, steps, step_counts, now_counts,
             hw_counts_per_second());
  int32_t torque =
      motor_torque(&drive_calibration.motor, motor_milliamps(&drive_calibration.motor, hw_current()));
  uint32_t elapsed_us = (now_counts - looped_counts) * 1000u / (hw_counts_per_second() / 1000u);
  looped_counts = now_counts;
  hw_motor(motor.drive, motor_power(&motor, &drive_calibration.motor, speed.milli_rpm, torque,
                                    elapsed_us < LONGEST_US ? elapsed_us : LONGEST_US));
  if (motion_busy(&drive_stage) && now_ns - heard_ns > SW_SILENCE_NS) {
    hw_lock(true);
    motion_halt(&drive_stage, SW_STAGE_STATE_LEFT_ALONE);
    hw_lock(false);
  }
}

int8_t drive_stage_tick(const struct motion_switches *open, const struct feed_lines *lines) {
  struct motion *stage = &drive_stage;
  if (stage->state != SW_STAGE_STATE_FEEDING) {
    return motion_tick(stage, &drive_calibration.stage, open);
  }
  if (open->stop_line) {
    motion_halt(stage, SW_STAGE_STATE_STOP_LINE);
    return 0;
  }
  motion_limits(stage, open, stage->backward);
  if (!motion_busy(stage)) {
    return 0;
  }
  int8_t steps = feed_tick(&feed, &drive_calibration.stage, lines, &stage->backward);
  motion_count(stage, &drive_calibration.stage, steps);
  if (feed.ending && feed_rests(&feed)) {
    motion_halt(stage, SW_STAGE_STATE_STOPPED);
  }
  return steps;
}

/* Most of the sums before the tick is kept out, and while nothing moves. */
static enum sw_stage_state begin_feed(int32_t most_microns) {
  const struct motion_calibration *is = &drive_calibration.stage;
  if (motion_busy(&drive_stage)) {
    return SW_STAGE_STATE_BUSY;
  }
  if (!drive_stage.homed) {
    return SW_STAGE_STATE_NOT_HOMED;
  }
  if (most_microns > motion_most_microns(is) ||
      !feed_begin(&feed, &hand, is, motion_microns(is, drive_stage.steps), most_microns)) {
    return SW_STAGE_STATE_OUTSIDE;
  }
  hw_lock(true);
  motion_feeds(&drive_stage);
  hw_lock(false);
  return SW_STAGE_STATE_FEEDING;
}

bool sw_plant_stage(struct sw_message *m) {
  const struct motion_calibration *is = &drive_calibration.stage;
  struct sw_stage_move move = m->as.stage_move;
  enum sw_stage_state fed = m->code == SW_STAGE_FEED && !stopped
                                ? begin_feed(m->as.stage_feed.most_microns)
                                : SW_STAGE_STATE_STOP_LINE;
  struct motion_switches open = {false, false, false};
  heard_ns = hw_clock_ns();
  hw_switches(&open);
  hw_lock(true);
  enum sw_stage_state told = drive_stage.state;
  if (m->code == SW_STAGE_FEED) {
    told = fed;
  } else if (stopped && (m->code == SW_STAGE_HOME || m->code == SW_STAGE_MOVE)) {
    told = SW_STAGE_STATE_STOP_LINE;
  } else if (m->code == SW_STAGE_HOME) {
    told = motion_home(&drive_stage, is);
  } else if (m->code == SW_STAGE_MOVE) {
    told = motion_move(&drive_stage, is, move.position_microns, move.speed_microns_per_second);
  } else if (m->code == SW_STAGE_STOP && drive_stage.state == SW_STAGE_STATE_FEEDING) {
    feed_end(&feed);
  } else if (m->code == SW_STAGE_STOP) {
    told = motion_stop(&drive_stage, is);
  }
  int32_t steps = drive_stage.steps;
  bool homed = drive_stage.homed;
  hw_lock(false);
  struct sw_stage *stage = &m->as.stage;
  memset(stage, 0, sizeof *stage);
  stage->state = (uint8_t)told;
  stage->homed = homed;
  stage->at_home = open.home;
  stage->at_far_limit = open.far_limit;
  stage->position_microns = motion_microns(is, steps);
  stage->least_microns = motion_least_microns(is);
  stage->most_microns = motion_most_microns(is);
  stage->fastest_microns_per_second = motion_fastest_microns_per_second(is);
  return true;
}

void sw_plant_read(struct sw_reading *reading, const struct sw_board *board) {
  (void)board;
  int32_t milliamps = motor_milliamps(&drive_calibration.motor, hw_current());
  reading->position_kind = SW_READING_POSITION_KIND_ABSENT;
  reading->speed_milli_rpm = speed.milli_rpm;
  reading->current_milli_amps = milliamps;
  reading->torque_micro_newton_metres = motor_torque(&drive_calibration.motor, milliamps);
  reading->demand = 1;
  reading->stop_line = stopped;
  reading->reset = reset_told;
  reset_told = false;
  reading->stage = SW_READING_STAGE_LENGTH;
  reading->true_speed_milli_rpm = speed.milli_rpm;
  reading->true_torque_micro_newton_metres = reading->torque_micro_newton_metres;
  reading->true_stop_line = stopped;
}
