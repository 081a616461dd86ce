/* Made from the table of messages in org.stopwell.rig.wire.Message. Do not edit. */
#ifndef SW_MESSAGES_H
#define SW_MESSAGES_H

#include <string.h>

#include "sw_bytes.h"

#define SW_PROTOCOL 6
#define SW_HEADER_BYTES 9

/* The host refuses a board whose identity states a time outside of these. */
#define SW_LEAST_PERIOD_NS 100000LL
#define SW_MOST_PERIOD_NS 50000000LL
#define SW_LEAST_WATCHDOG_NS 1000000LL
#define SW_MOST_WATCHDOG_NS 100000000LL
#define SW_LEAST_SILENCE_NS 10000000LL
#define SW_MOST_SILENCE_NS 2000000000LL

enum sw_code {
  SW_HELLO = 0x01,
  SW_HEARTBEAT = 0x02,
  SW_MOUNT_BEGIN = 0x03,
  SW_MOUNT_VALUE = 0x04,
  SW_MOUNT_STEP = 0x0C,
  SW_MOUNT_PLACE = 0x0D,
  SW_MOUNT_END = 0x05,
  SW_EXCHANGE = 0x06,
  SW_SAFE_STOP = 0x07,
  SW_STAGE_HOME = 0x08,
  SW_STAGE_MOVE = 0x09,
  SW_STAGE_STOP = 0x0A,
  SW_STAGE_ASK = 0x0B,
  SW_STAGE_FEED = 0x10,
  SW_VERIFY = 0x0E,
  SW_WATCH = 0x0F,
  SW_IDENTITY = 0x81,
  SW_OK = 0x82,
  SW_REFUSED = 0x83,
  SW_READING = 0x84,
  SW_STATUS = 0x85,
  SW_ERROR = 0x86,
  SW_STAGE = 0x87,
  SW_NETWORK = 0x88,
  SW_WATCHED = 0x89,
};

enum sw_exchange_drive {
  SW_EXCHANGE_DRIVE_OFF = 0,
  SW_EXCHANGE_DRIVE_BRAKE = 1,
  SW_EXCHANGE_DRIVE_FORWARD = 2,
  SW_EXCHANGE_DRIVE_BACKWARD = 3,
};

enum sw_exchange_state {
  SW_EXCHANGE_STATE_PARKED = 0,
  SW_EXCHANGE_STATE_TURNING = 1,
  SW_EXCHANGE_STATE_EASING = 2,
  SW_EXCHANGE_STATE_HOLDING = 3,
  SW_EXCHANGE_STATE_BACKING = 4,
  SW_EXCHANGE_STATE_ROCKING = 5,
  SW_EXCHANGE_STATE_LOCKED = 6,
};

enum sw_exchange_trust {
  SW_EXCHANGE_TRUST_NONE = 0,
  SW_EXCHANGE_TRUST_DOUBTFUL = 1,
  SW_EXCHANGE_TRUST_SURE = 2,
};

enum sw_exchange_cause {
  SW_EXCHANGE_CAUSE_NO_CAUSE = 0,
  SW_EXCHANGE_CAUSE_LEAKING = 1,
  SW_EXCHANGE_CAUSE_UNWETTED = 2,
  SW_EXCHANGE_CAUSE_OPEN = 3,
  SW_EXCHANGE_CAUSE_JUMPY = 4,
  SW_EXCHANGE_CAUSE_STALE = 5,
  SW_EXCHANGE_CAUSE_RAILED = 6,
  SW_EXCHANGE_CAUSE_FROZEN = 7,
  SW_EXCHANGE_CAUSE_VAGUE = 8,
  SW_EXCHANGE_CAUSE_WIDE = 9,
};

enum sw_exchange_reason {
  SW_EXCHANGE_REASON_STARTED_UP = 0,
  SW_EXCHANGE_REASON_CANAL_ENTERED = 1,
  SW_EXCHANGE_REASON_CANAL_LEFT = 2,
  SW_EXCHANGE_REASON_APPROACHING = 3,
  SW_EXCHANGE_REASON_CLEAR_AGAIN = 4,
  SW_EXCHANGE_REASON_STANDOFF_REACHED = 5,
  SW_EXCHANGE_REASON_PAST_FORAMEN = 6,
  SW_EXCHANGE_REASON_REARMED = 7,
  SW_EXCHANGE_REASON_TORQUE_LIMIT = 8,
  SW_EXCHANGE_REASON_TORQUE_RELEASED = 9,
  SW_EXCHANGE_REASON_RETRIES_SPENT = 10,
  SW_EXCHANGE_REASON_BACKED_OUT = 11,
  SW_EXCHANGE_REASON_TRUST_LOST = 12,
  SW_EXCHANGE_REASON_TRUST_REGAINED = 13,
  SW_EXCHANGE_REASON_SIGNAL_STALE = 14,
  SW_EXCHANGE_REASON_STOP_LINE = 15,
  SW_EXCHANGE_REASON_LINK_LOST = 16,
  SW_EXCHANGE_REASON_DEMAND_RELEASED = 17,
  SW_EXCHANGE_REASON_BAD_INPUT = 18,
  SW_EXCHANGE_REASON_TIME_FAULT = 19,
  SW_EXCHANGE_REASON_MOTOR_FAULT = 20,
  SW_EXCHANGE_REASON_RESET = 21,
  SW_EXCHANGE_REASON_WRONG_DIRECTION = 22,
  SW_EXCHANGE_REASON_STALLED = 23,
  SW_EXCHANGE_REASON_RUNAWAY = 24,
  SW_EXCHANGE_REASON_OVERHEATED = 25,
  SW_EXCHANGE_REASON_SUPPLY_LOW = 26,
  SW_EXCHANGE_REASON_MONITOR_STOP = 27,
  SW_EXCHANGE_REASON_DEPTH_LIMIT = 28,
  SW_EXCHANGE_REASON_STAGE_REFUSED = 29,
  SW_EXCHANGE_REASON_LOAD_HIGH = 30,
  SW_EXCHANGE_REASON_LOAD_LOW = 31,
  SW_EXCHANGE_REASON_FILE_SPENT = 32,
  SW_EXCHANGE_REASON_OVERSPEED = 33,
  SW_EXCHANGE_REASON_AXIS_DROPPED = 34,
};

enum sw_reading_position_kind {
  SW_READING_POSITION_KIND_ABSENT = 0,
  SW_READING_POSITION_KIND_IMPEDANCE = 1,
  SW_READING_POSITION_KIND_DISTANCE = 2,
  SW_READING_POSITION_KIND_NO_CONTACT = 3,
};

enum sw_reading_stage {
  SW_READING_STAGE_OPEN = 0,
  SW_READING_STAGE_LENGTH = 1,
  SW_READING_STAGE_SHAPE = 2,
  SW_READING_STAGE_RECHECK = 3,
};

enum sw_reading_true_file {
  SW_READING_TRUE_FILE_WHOLE = 0,
  SW_READING_TRUE_FILE_TWISTED_OFF = 1,
  SW_READING_TRUE_FILE_BENT_OFF = 2,
};

enum sw_error_code {
  SW_ERROR_CODE_NO_SESSION = 0,
  SW_ERROR_CODE_OTHER_SESSION = 1,
  SW_ERROR_CODE_NOT_MOUNTED = 2,
  SW_ERROR_CODE_BAD_VALUE = 3,
  SW_ERROR_CODE_BAD_ORDER = 4,
  SW_ERROR_CODE_BROKEN = 5,
};

enum sw_stage_state {
  SW_STAGE_STATE_RESTING = 0,
  SW_STAGE_STATE_HOMING = 1,
  SW_STAGE_STATE_MOVING = 2,
  SW_STAGE_STATE_ARRIVED = 3,
  SW_STAGE_STATE_STOPPED = 4,
  SW_STAGE_STATE_NOT_HOMED = 5,
  SW_STAGE_STATE_BUSY = 6,
  SW_STAGE_STATE_OUTSIDE = 7,
  SW_STAGE_STATE_HOME_LIMIT = 8,
  SW_STAGE_STATE_FAR_LIMIT = 9,
  SW_STAGE_STATE_HOME_NOT_FOUND = 10,
  SW_STAGE_STATE_HOME_STUCK = 11,
  SW_STAGE_STATE_STOP_LINE = 12,
  SW_STAGE_STATE_LEFT_ALONE = 13,
  SW_STAGE_STATE_FEEDING = 14,
};

enum sw_network_fault {
  SW_NETWORK_FAULT_NONE = 0,
  SW_NETWORK_FAULT_STRAY = 1,
  SW_NETWORK_FAULT_LEAK = 2,
  SW_NETWORK_FAULT_PART = 3,
};

/* Opens a session. The motor goes off, nothing is mounted, and any other session ends. Answered by IDENTITY, whatever the version. */
struct sw_hello {
  uint16_t protocol;
};

/* Asks for the status of the board. It does not keep the motor on. Answered by STATUS. */
struct sw_heartbeat {
  int64_t now_ns;
};

/* Begins the description of one trial. The motor goes off. Answered by OK. */
struct sw_mount_begin {
  int64_t seed;
  uint16_t values;
  uint16_t steps;
};

/* One value of the trial: value × 10^-decimals, in the unit at the end of the key. Answered by OK or REFUSED. */
struct sw_mount_value {
  uint8_t key_bytes;
  char key[64];
  uint8_t decimals;
  int64_t value;
  uint8_t word_bytes;
  char word[40];
};

/* One step of the table by position, in ascending order from past the foramen. Between two steps the board interpolates linearly. It uses the nearest values that its parts give. Answered by OK or REFUSED. */
struct sw_mount_step {
  int32_t remaining_microns;
  uint16_t resistance_ohms;
  uint16_t capacitance_picofarads;
};

/* One place of a chain, in place of MOUNT_STEP and counted like it, in ascending order from past the foramen. Between two places the board interpolates linearly. Answered by OK or REFUSED. */
struct sw_mount_place {
  int32_t remaining_microns;
  uint8_t ohms_count;
  int32_t ohms[5];
  uint16_t capacitors;
};

/* Command to the motor since the last exchange, and the end of that interval. Answered by READING. */
struct sw_exchange {
  int64_t now_ns;
  uint8_t drive;
  int32_t speed_milli_rpm;
  int32_t torque_limit_micro_newton_metres;
  uint8_t state;
  uint8_t reading_present;
  int32_t remaining_microns;
  int32_t bound_microns;
  uint8_t trust;
  uint8_t cause;
  uint8_t reason;
};

/* Sends the stage to a place. It always arrives moving forward. Answered by STAGE at once, not at the end. */
struct sw_stage_move {
  int32_t position_microns;
  uint32_t speed_microns_per_second;
};

/* Feeds the file of a device under test from the present place, as the hand of the mounted scene does. The board itself goes on and stops by the two lines of the device board. Answered by STAGE at once. */
struct sw_stage_feed {
  int32_t most_microns;
};

/* Identity and abilities of the board. */
struct sw_identity {
  uint16_t protocol;
  uint8_t board_bytes;
  char board[24];
  uint8_t serial_number_bytes;
  char serial_number[32];
  uint8_t firmware_bytes;
  char firmware[32];
  uint8_t firmware_version_bytes;
  char firmware_version[16];
  uint8_t firmware_hash_bytes;
  char firmware_hash[40];
  uint8_t simulated;
  uint8_t lockstep;
  uint8_t has_truth;
  uint8_t has_position;
  uint8_t has_motor;
  uint8_t has_stage;
  uint8_t reads_tooth;
  uint16_t most_steps;
  uint32_t period_ns;
  int64_t watchdog_ns;
  int64_t silence_ns;
};

/* The board cannot make this trial. Nothing is mounted. */
struct sw_refused {
  uint8_t key_bytes;
  char key[64];
  uint8_t why_bytes;
  char why[120];
};

/* Input of the controller at board time time_ns. The true_ fields are for the harness only. */
struct sw_reading {
  int64_t time_ns;
  uint8_t watchdog;
  uint8_t position_kind;
  int64_t sample_sequence;
  int64_t sample_time_ns;
  uint8_t frequency_hz_count;
  int32_t frequency_hz[4];
  uint8_t z_real_milli_ohms_count;
  int32_t z_real_milli_ohms[4];
  uint8_t z_imag_milli_ohms_count;
  int32_t z_imag_milli_ohms[4];
  uint8_t railed;
  int32_t distance_microns;
  uint8_t insertion_present;
  int32_t insertion_microns;
  int32_t speed_milli_rpm;
  int32_t torque_micro_newton_metres;
  int32_t current_milli_amps;
  int32_t supply_milli_volts;
  uint8_t demand;
  uint8_t stop_line;
  uint8_t reset;
  uint8_t stage;
  int64_t link_age_ns;
  int32_t true_remaining_microns;
  int32_t true_speed_milli_rpm;
  int32_t true_torque_micro_newton_metres;
  int32_t true_fluid_level_microns;
  uint8_t true_chamber_wet;
  uint8_t true_stop_line;
  uint8_t true_file;
};

/* Status of the board. */
struct sw_status {
  int64_t time_ns;
  uint8_t mounted;
  uint8_t motor_on;
  uint8_t watchdog;
  uint32_t frames_good;
  uint32_t frames_bad;
  uint32_t frames_refused;
};

/* The board does not obey this request. The motor goes off if the request was of the open session; a request of any other session changes nothing. */
struct sw_error {
  uint8_t code;
  uint8_t why_bytes;
  char why[120];
};

/* State of the stage. */
struct sw_stage {
  uint8_t state;
  uint8_t homed;
  uint8_t at_home;
  uint8_t at_far_limit;
  int32_t position_microns;
  int32_t least_microns;
  int32_t most_microns;
  uint32_t fastest_microns_per_second;
};

/* The chain, measured with the device off it, and its parts. */
struct sw_network {
  uint8_t fault;
  uint32_t leak_kilo_ohms;
  uint16_t stray_picofarads;
  uint16_t part;
  uint32_t measured_ohms;
  uint32_t wanted_ohms;
  uint16_t most_places;
  uint8_t picofarads_count;
  int32_t picofarads[12];
  uint8_t least_ohms_count;
  int32_t least_ohms[5];
  uint8_t most_ohms_count;
  int32_t most_ohms[5];
};

/* Samples of the device under test, stamped by the board, without a gap. There are more when the list is full. Each entry is two samples: bits 0 to 7 and 8 to 15, turn of the file before each, signed, in steps of 1/4096 turn; bits 16 to 21, way of the shank, signed, in µm; bit 22, the network was switching; bit 23, the second witness heard the motor; bits 24 to 31, force in steps of 20 mN. */
struct sw_watched {
  int64_t first_ns;
  uint32_t each_ns;
  int32_t first_steps;
  int32_t first_microns;
  uint32_t lost;
  uint8_t entries_count;
  int32_t entries[40];
};

struct sw_message {
  uint8_t code;
  uint32_t session;
  uint32_t sequence;
  union {
    struct sw_hello hello;
    struct sw_heartbeat heartbeat;
    struct sw_mount_begin mount_begin;
    struct sw_mount_value mount_value;
    struct sw_mount_step mount_step;
    struct sw_mount_place mount_place;
    struct sw_exchange exchange;
    struct sw_stage_move stage_move;
    struct sw_stage_feed stage_feed;
    struct sw_identity identity;
    struct sw_refused refused;
    struct sw_reading reading;
    struct sw_status status;
    struct sw_error error;
    struct sw_stage stage;
    struct sw_network network;
    struct sw_watched watched;
  } as;
};

/* Opens a message; false when it is not exactly one message of this version, or on a board an answer. */
static inline bool sw_read_message(uint8_t *body, uint16_t length, struct sw_message *m) {
  struct sw_cursor c = {body, length, true};
  m->code = (uint8_t)sw_get(&c, 1);
  m->session = (uint32_t)sw_get(&c, 4);
  m->sequence = (uint32_t)sw_get(&c, 4);
  switch (m->code) {
    case SW_HELLO:
      m->as.hello.protocol = (uint16_t)sw_get(&c, 2);
      break;
    case SW_HEARTBEAT:
      m->as.heartbeat.now_ns = (int64_t)sw_get(&c, 8);
      break;
    case SW_MOUNT_BEGIN:
      m->as.mount_begin.seed = (int64_t)sw_get(&c, 8);
      m->as.mount_begin.values = (uint16_t)sw_get(&c, 2);
      m->as.mount_begin.steps = (uint16_t)sw_get(&c, 2);
      break;
    case SW_MOUNT_VALUE:
      m->as.mount_value.key_bytes = sw_get_upto(&c, 64);
      if (sw_take(&c, m->as.mount_value.key_bytes)) {
        memcpy(m->as.mount_value.key, c.at - m->as.mount_value.key_bytes, m->as.mount_value.key_bytes);
      }
      m->as.mount_value.decimals = sw_get_upto(&c, 9);
      m->as.mount_value.value = (int64_t)sw_get(&c, 8);
      m->as.mount_value.word_bytes = sw_get_upto(&c, 40);
      if (sw_take(&c, m->as.mount_value.word_bytes)) {
        memcpy(m->as.mount_value.word, c.at - m->as.mount_value.word_bytes, m->as.mount_value.word_bytes);
      }
      break;
    case SW_MOUNT_STEP:
      m->as.mount_step.remaining_microns = (int32_t)sw_get(&c, 4);
      m->as.mount_step.resistance_ohms = (uint16_t)sw_get(&c, 2);
      m->as.mount_step.capacitance_picofarads = (uint16_t)sw_get(&c, 2);
      break;
    case SW_MOUNT_PLACE:
      m->as.mount_place.remaining_microns = (int32_t)sw_get(&c, 4);
      m->as.mount_place.ohms_count = sw_get_upto(&c, 5);
      for (uint8_t i = 0; i < m->as.mount_place.ohms_count; i++) {
        m->as.mount_place.ohms[i] = (int32_t)sw_get(&c, 4);
      }
      m->as.mount_place.capacitors = (uint16_t)sw_get(&c, 2);
      break;
    case SW_MOUNT_END:
      break;
    case SW_EXCHANGE:
      m->as.exchange.now_ns = (int64_t)sw_get(&c, 8);
      m->as.exchange.drive = sw_get_upto(&c, 3);
      m->as.exchange.speed_milli_rpm = (int32_t)sw_get(&c, 4);
      m->as.exchange.torque_limit_micro_newton_metres = (int32_t)sw_get(&c, 4);
      m->as.exchange.state = sw_get_upto(&c, 6);
      m->as.exchange.reading_present = sw_get_upto(&c, 1);
      m->as.exchange.remaining_microns = (int32_t)sw_get(&c, 4);
      m->as.exchange.bound_microns = (int32_t)sw_get(&c, 4);
      m->as.exchange.trust = sw_get_upto(&c, 2);
      m->as.exchange.cause = sw_get_upto(&c, 9);
      m->as.exchange.reason = sw_get_upto(&c, 34);
      break;
    case SW_SAFE_STOP:
      break;
    case SW_STAGE_HOME:
      break;
    case SW_STAGE_MOVE:
      m->as.stage_move.position_microns = (int32_t)sw_get(&c, 4);
      m->as.stage_move.speed_microns_per_second = (uint32_t)sw_get(&c, 4);
      break;
    case SW_STAGE_STOP:
      break;
    case SW_STAGE_ASK:
      break;
    case SW_STAGE_FEED:
      m->as.stage_feed.most_microns = (int32_t)sw_get(&c, 4);
      break;
    case SW_VERIFY:
      break;
    case SW_WATCH:
      break;
#ifndef __AVR__ /* only a host does this */
    case SW_IDENTITY:
      m->as.identity.protocol = (uint16_t)sw_get(&c, 2);
      m->as.identity.board_bytes = sw_get_upto(&c, 24);
      if (sw_take(&c, m->as.identity.board_bytes)) {
        memcpy(m->as.identity.board, c.at - m->as.identity.board_bytes, m->as.identity.board_bytes);
      }
      m->as.identity.serial_number_bytes = sw_get_upto(&c, 32);
      if (sw_take(&c, m->as.identity.serial_number_bytes)) {
        memcpy(m->as.identity.serial_number, c.at - m->as.identity.serial_number_bytes, m->as.identity.serial_number_bytes);
      }
      m->as.identity.firmware_bytes = sw_get_upto(&c, 32);
      if (sw_take(&c, m->as.identity.firmware_bytes)) {
        memcpy(m->as.identity.firmware, c.at - m->as.identity.firmware_bytes, m->as.identity.firmware_bytes);
      }
      m->as.identity.firmware_version_bytes = sw_get_upto(&c, 16);
      if (sw_take(&c, m->as.identity.firmware_version_bytes)) {
        memcpy(m->as.identity.firmware_version, c.at - m->as.identity.firmware_version_bytes, m->as.identity.firmware_version_bytes);
      }
      m->as.identity.firmware_hash_bytes = sw_get_upto(&c, 40);
      if (sw_take(&c, m->as.identity.firmware_hash_bytes)) {
        memcpy(m->as.identity.firmware_hash, c.at - m->as.identity.firmware_hash_bytes, m->as.identity.firmware_hash_bytes);
      }
      m->as.identity.simulated = sw_get_upto(&c, 1);
      m->as.identity.lockstep = sw_get_upto(&c, 1);
      m->as.identity.has_truth = sw_get_upto(&c, 1);
      m->as.identity.has_position = sw_get_upto(&c, 1);
      m->as.identity.has_motor = sw_get_upto(&c, 1);
      m->as.identity.has_stage = sw_get_upto(&c, 1);
      m->as.identity.reads_tooth = sw_get_upto(&c, 1);
      m->as.identity.most_steps = (uint16_t)sw_get(&c, 2);
      m->as.identity.period_ns = (uint32_t)sw_get(&c, 4);
      m->as.identity.watchdog_ns = (int64_t)sw_get(&c, 8);
      m->as.identity.silence_ns = (int64_t)sw_get(&c, 8);
      break;
    case SW_OK:
      break;
    case SW_REFUSED:
      m->as.refused.key_bytes = sw_get_upto(&c, 64);
      if (sw_take(&c, m->as.refused.key_bytes)) {
        memcpy(m->as.refused.key, c.at - m->as.refused.key_bytes, m->as.refused.key_bytes);
      }
      m->as.refused.why_bytes = sw_get_upto(&c, 120);
      if (sw_take(&c, m->as.refused.why_bytes)) {
        memcpy(m->as.refused.why, c.at - m->as.refused.why_bytes, m->as.refused.why_bytes);
      }
      break;
    case SW_READING:
      m->as.reading.time_ns = (int64_t)sw_get(&c, 8);
      m->as.reading.watchdog = sw_get_upto(&c, 1);
      m->as.reading.position_kind = sw_get_upto(&c, 3);
      m->as.reading.sample_sequence = (int64_t)sw_get(&c, 8);
      m->as.reading.sample_time_ns = (int64_t)sw_get(&c, 8);
      m->as.reading.frequency_hz_count = sw_get_upto(&c, 4);
      for (uint8_t i = 0; i < m->as.reading.frequency_hz_count; i++) {
        m->as.reading.frequency_hz[i] = (int32_t)sw_get(&c, 4);
      }
      m->as.reading.z_real_milli_ohms_count = sw_get_upto(&c, 4);
      for (uint8_t i = 0; i < m->as.reading.z_real_milli_ohms_count; i++) {
        m->as.reading.z_real_milli_ohms[i] = (int32_t)sw_get(&c, 4);
      }
      m->as.reading.z_imag_milli_ohms_count = sw_get_upto(&c, 4);
      for (uint8_t i = 0; i < m->as.reading.z_imag_milli_ohms_count; i++) {
        m->as.reading.z_imag_milli_ohms[i] = (int32_t)sw_get(&c, 4);
      }
      m->as.reading.railed = sw_get_upto(&c, 1);
      m->as.reading.distance_microns = (int32_t)sw_get(&c, 4);
      m->as.reading.insertion_present = sw_get_upto(&c, 1);
      m->as.reading.insertion_microns = (int32_t)sw_get(&c, 4);
      m->as.reading.speed_milli_rpm = (int32_t)sw_get(&c, 4);
      m->as.reading.torque_micro_newton_metres = (int32_t)sw_get(&c, 4);
      m->as.reading.current_milli_amps = (int32_t)sw_get(&c, 4);
      m->as.reading.supply_milli_volts = (int32_t)sw_get(&c, 4);
      m->as.reading.demand = sw_get_upto(&c, 1);
      m->as.reading.stop_line = sw_get_upto(&c, 1);
      m->as.reading.reset = sw_get_upto(&c, 1);
      m->as.reading.stage = sw_get_upto(&c, 3);
      m->as.reading.link_age_ns = (int64_t)sw_get(&c, 8);
      m->as.reading.true_remaining_microns = (int32_t)sw_get(&c, 4);
      m->as.reading.true_speed_milli_rpm = (int32_t)sw_get(&c, 4);
      m->as.reading.true_torque_micro_newton_metres = (int32_t)sw_get(&c, 4);
      m->as.reading.true_fluid_level_microns = (int32_t)sw_get(&c, 4);
      m->as.reading.true_chamber_wet = sw_get_upto(&c, 1);
      m->as.reading.true_stop_line = sw_get_upto(&c, 1);
      m->as.reading.true_file = sw_get_upto(&c, 2);
      break;
    case SW_STATUS:
      m->as.status.time_ns = (int64_t)sw_get(&c, 8);
      m->as.status.mounted = sw_get_upto(&c, 1);
      m->as.status.motor_on = sw_get_upto(&c, 1);
      m->as.status.watchdog = sw_get_upto(&c, 1);
      m->as.status.frames_good = (uint32_t)sw_get(&c, 4);
      m->as.status.frames_bad = (uint32_t)sw_get(&c, 4);
      m->as.status.frames_refused = (uint32_t)sw_get(&c, 4);
      break;
    case SW_ERROR:
      m->as.error.code = sw_get_upto(&c, 5);
      m->as.error.why_bytes = sw_get_upto(&c, 120);
      if (sw_take(&c, m->as.error.why_bytes)) {
        memcpy(m->as.error.why, c.at - m->as.error.why_bytes, m->as.error.why_bytes);
      }
      break;
    case SW_STAGE:
      m->as.stage.state = sw_get_upto(&c, 14);
      m->as.stage.homed = sw_get_upto(&c, 1);
      m->as.stage.at_home = sw_get_upto(&c, 1);
      m->as.stage.at_far_limit = sw_get_upto(&c, 1);
      m->as.stage.position_microns = (int32_t)sw_get(&c, 4);
      m->as.stage.least_microns = (int32_t)sw_get(&c, 4);
      m->as.stage.most_microns = (int32_t)sw_get(&c, 4);
      m->as.stage.fastest_microns_per_second = (uint32_t)sw_get(&c, 4);
      break;
    case SW_NETWORK:
      m->as.network.fault = sw_get_upto(&c, 3);
      m->as.network.leak_kilo_ohms = (uint32_t)sw_get(&c, 4);
      m->as.network.stray_picofarads = (uint16_t)sw_get(&c, 2);
      m->as.network.part = (uint16_t)sw_get(&c, 2);
      m->as.network.measured_ohms = (uint32_t)sw_get(&c, 4);
      m->as.network.wanted_ohms = (uint32_t)sw_get(&c, 4);
      m->as.network.most_places = (uint16_t)sw_get(&c, 2);
      m->as.network.picofarads_count = sw_get_upto(&c, 12);
      for (uint8_t i = 0; i < m->as.network.picofarads_count; i++) {
        m->as.network.picofarads[i] = (int32_t)sw_get(&c, 4);
      }
      m->as.network.least_ohms_count = sw_get_upto(&c, 5);
      for (uint8_t i = 0; i < m->as.network.least_ohms_count; i++) {
        m->as.network.least_ohms[i] = (int32_t)sw_get(&c, 4);
      }
      m->as.network.most_ohms_count = sw_get_upto(&c, 5);
      for (uint8_t i = 0; i < m->as.network.most_ohms_count; i++) {
        m->as.network.most_ohms[i] = (int32_t)sw_get(&c, 4);
      }
      break;
    case SW_WATCHED:
      m->as.watched.first_ns = (int64_t)sw_get(&c, 8);
      m->as.watched.each_ns = (uint32_t)sw_get(&c, 4);
      m->as.watched.first_steps = (int32_t)sw_get(&c, 4);
      m->as.watched.first_microns = (int32_t)sw_get(&c, 4);
      m->as.watched.lost = (uint32_t)sw_get(&c, 4);
      m->as.watched.entries_count = sw_get_upto(&c, 40);
      for (uint8_t i = 0; i < m->as.watched.entries_count; i++) {
        m->as.watched.entries[i] = (int32_t)sw_get(&c, 4);
      }
      break;
#endif
    default:
      return false;
  }
  return c.ok && c.left == 0;
}

/* Lays a message out; returns its bytes, 0 when room is too small or a length too great. */
static inline uint16_t sw_write_message(uint8_t *body, uint16_t room,
                                        const struct sw_message *m) {
  struct sw_cursor c = {body, room, true};
  sw_put(&c, 1, m->code);
  sw_put(&c, 4, m->session);
  sw_put(&c, 4, m->sequence);
  switch (m->code) {
    case SW_IDENTITY:
      sw_put(&c, 2, (uint64_t)m->as.identity.protocol);
      c.ok = c.ok && m->as.identity.board_bytes <= 24;
      sw_put(&c, 1, m->as.identity.board_bytes);
      if (sw_take(&c, m->as.identity.board_bytes)) {
        memcpy(c.at - m->as.identity.board_bytes, m->as.identity.board, m->as.identity.board_bytes);
      }
      c.ok = c.ok && m->as.identity.serial_number_bytes <= 32;
      sw_put(&c, 1, m->as.identity.serial_number_bytes);
      if (sw_take(&c, m->as.identity.serial_number_bytes)) {
        memcpy(c.at - m->as.identity.serial_number_bytes, m->as.identity.serial_number, m->as.identity.serial_number_bytes);
      }
      c.ok = c.ok && m->as.identity.firmware_bytes <= 32;
      sw_put(&c, 1, m->as.identity.firmware_bytes);
      if (sw_take(&c, m->as.identity.firmware_bytes)) {
        memcpy(c.at - m->as.identity.firmware_bytes, m->as.identity.firmware, m->as.identity.firmware_bytes);
      }
      c.ok = c.ok && m->as.identity.firmware_version_bytes <= 16;
      sw_put(&c, 1, m->as.identity.firmware_version_bytes);
      if (sw_take(&c, m->as.identity.firmware_version_bytes)) {
        memcpy(c.at - m->as.identity.firmware_version_bytes, m->as.identity.firmware_version, m->as.identity.firmware_version_bytes);
      }
      c.ok = c.ok && m->as.identity.firmware_hash_bytes <= 40;
      sw_put(&c, 1, m->as.identity.firmware_hash_bytes);
      if (sw_take(&c, m->as.identity.firmware_hash_bytes)) {
        memcpy(c.at - m->as.identity.firmware_hash_bytes, m->as.identity.firmware_hash, m->as.identity.firmware_hash_bytes);
      }
      sw_put(&c, 1, m->as.identity.simulated);
      sw_put(&c, 1, m->as.identity.lockstep);
      sw_put(&c, 1, m->as.identity.has_truth);
      sw_put(&c, 1, m->as.identity.has_position);
      sw_put(&c, 1, m->as.identity.has_motor);
      sw_put(&c, 1, m->as.identity.has_stage);
      sw_put(&c, 1, m->as.identity.reads_tooth);
      sw_put(&c, 2, (uint64_t)m->as.identity.most_steps);
      sw_put(&c, 4, (uint64_t)m->as.identity.period_ns);
      sw_put(&c, 8, (uint64_t)m->as.identity.watchdog_ns);
      sw_put(&c, 8, (uint64_t)m->as.identity.silence_ns);
      break;
    case SW_OK:
      break;
    case SW_REFUSED:
      c.ok = c.ok && m->as.refused.key_bytes <= 64;
      sw_put(&c, 1, m->as.refused.key_bytes);
      if (sw_take(&c, m->as.refused.key_bytes)) {
        memcpy(c.at - m->as.refused.key_bytes, m->as.refused.key, m->as.refused.key_bytes);
      }
      c.ok = c.ok && m->as.refused.why_bytes <= 120;
      sw_put(&c, 1, m->as.refused.why_bytes);
      if (sw_take(&c, m->as.refused.why_bytes)) {
        memcpy(c.at - m->as.refused.why_bytes, m->as.refused.why, m->as.refused.why_bytes);
      }
      break;
    case SW_READING:
      sw_put(&c, 8, (uint64_t)m->as.reading.time_ns);
      sw_put(&c, 1, m->as.reading.watchdog);
      sw_put(&c, 1, m->as.reading.position_kind);
      sw_put(&c, 8, (uint64_t)m->as.reading.sample_sequence);
      sw_put(&c, 8, (uint64_t)m->as.reading.sample_time_ns);
      c.ok = c.ok && m->as.reading.frequency_hz_count <= 4;
      sw_put(&c, 1, m->as.reading.frequency_hz_count);
      for (uint8_t i = 0; c.ok && i < m->as.reading.frequency_hz_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.reading.frequency_hz[i]);
      }
      c.ok = c.ok && m->as.reading.z_real_milli_ohms_count <= 4;
      sw_put(&c, 1, m->as.reading.z_real_milli_ohms_count);
      for (uint8_t i = 0; c.ok && i < m->as.reading.z_real_milli_ohms_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.reading.z_real_milli_ohms[i]);
      }
      c.ok = c.ok && m->as.reading.z_imag_milli_ohms_count <= 4;
      sw_put(&c, 1, m->as.reading.z_imag_milli_ohms_count);
      for (uint8_t i = 0; c.ok && i < m->as.reading.z_imag_milli_ohms_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.reading.z_imag_milli_ohms[i]);
      }
      sw_put(&c, 1, m->as.reading.railed);
      sw_put(&c, 4, (uint64_t)m->as.reading.distance_microns);
      sw_put(&c, 1, m->as.reading.insertion_present);
      sw_put(&c, 4, (uint64_t)m->as.reading.insertion_microns);
      sw_put(&c, 4, (uint64_t)m->as.reading.speed_milli_rpm);
      sw_put(&c, 4, (uint64_t)m->as.reading.torque_micro_newton_metres);
      sw_put(&c, 4, (uint64_t)m->as.reading.current_milli_amps);
      sw_put(&c, 4, (uint64_t)m->as.reading.supply_milli_volts);
      sw_put(&c, 1, m->as.reading.demand);
      sw_put(&c, 1, m->as.reading.stop_line);
      sw_put(&c, 1, m->as.reading.reset);
      sw_put(&c, 1, m->as.reading.stage);
      sw_put(&c, 8, (uint64_t)m->as.reading.link_age_ns);
      sw_put(&c, 4, (uint64_t)m->as.reading.true_remaining_microns);
      sw_put(&c, 4, (uint64_t)m->as.reading.true_speed_milli_rpm);
      sw_put(&c, 4, (uint64_t)m->as.reading.true_torque_micro_newton_metres);
      sw_put(&c, 4, (uint64_t)m->as.reading.true_fluid_level_microns);
      sw_put(&c, 1, m->as.reading.true_chamber_wet);
      sw_put(&c, 1, m->as.reading.true_stop_line);
      sw_put(&c, 1, m->as.reading.true_file);
      break;
    case SW_STATUS:
      sw_put(&c, 8, (uint64_t)m->as.status.time_ns);
      sw_put(&c, 1, m->as.status.mounted);
      sw_put(&c, 1, m->as.status.motor_on);
      sw_put(&c, 1, m->as.status.watchdog);
      sw_put(&c, 4, (uint64_t)m->as.status.frames_good);
      sw_put(&c, 4, (uint64_t)m->as.status.frames_bad);
      sw_put(&c, 4, (uint64_t)m->as.status.frames_refused);
      break;
    case SW_ERROR:
      sw_put(&c, 1, m->as.error.code);
      c.ok = c.ok && m->as.error.why_bytes <= 120;
      sw_put(&c, 1, m->as.error.why_bytes);
      if (sw_take(&c, m->as.error.why_bytes)) {
        memcpy(c.at - m->as.error.why_bytes, m->as.error.why, m->as.error.why_bytes);
      }
      break;
    case SW_STAGE:
      sw_put(&c, 1, m->as.stage.state);
      sw_put(&c, 1, m->as.stage.homed);
      sw_put(&c, 1, m->as.stage.at_home);
      sw_put(&c, 1, m->as.stage.at_far_limit);
      sw_put(&c, 4, (uint64_t)m->as.stage.position_microns);
      sw_put(&c, 4, (uint64_t)m->as.stage.least_microns);
      sw_put(&c, 4, (uint64_t)m->as.stage.most_microns);
      sw_put(&c, 4, (uint64_t)m->as.stage.fastest_microns_per_second);
      break;
    case SW_NETWORK:
      sw_put(&c, 1, m->as.network.fault);
      sw_put(&c, 4, (uint64_t)m->as.network.leak_kilo_ohms);
      sw_put(&c, 2, (uint64_t)m->as.network.stray_picofarads);
      sw_put(&c, 2, (uint64_t)m->as.network.part);
      sw_put(&c, 4, (uint64_t)m->as.network.measured_ohms);
      sw_put(&c, 4, (uint64_t)m->as.network.wanted_ohms);
      sw_put(&c, 2, (uint64_t)m->as.network.most_places);
      c.ok = c.ok && m->as.network.picofarads_count <= 12;
      sw_put(&c, 1, m->as.network.picofarads_count);
      for (uint8_t i = 0; c.ok && i < m->as.network.picofarads_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.network.picofarads[i]);
      }
      c.ok = c.ok && m->as.network.least_ohms_count <= 5;
      sw_put(&c, 1, m->as.network.least_ohms_count);
      for (uint8_t i = 0; c.ok && i < m->as.network.least_ohms_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.network.least_ohms[i]);
      }
      c.ok = c.ok && m->as.network.most_ohms_count <= 5;
      sw_put(&c, 1, m->as.network.most_ohms_count);
      for (uint8_t i = 0; c.ok && i < m->as.network.most_ohms_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.network.most_ohms[i]);
      }
      break;
    case SW_WATCHED:
      sw_put(&c, 8, (uint64_t)m->as.watched.first_ns);
      sw_put(&c, 4, (uint64_t)m->as.watched.each_ns);
      sw_put(&c, 4, (uint64_t)m->as.watched.first_steps);
      sw_put(&c, 4, (uint64_t)m->as.watched.first_microns);
      sw_put(&c, 4, (uint64_t)m->as.watched.lost);
      c.ok = c.ok && m->as.watched.entries_count <= 40;
      sw_put(&c, 1, m->as.watched.entries_count);
      for (uint8_t i = 0; c.ok && i < m->as.watched.entries_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.watched.entries[i]);
      }
      break;
#ifndef __AVR__ /* only a host does this */
    case SW_HELLO:
      sw_put(&c, 2, (uint64_t)m->as.hello.protocol);
      break;
    case SW_HEARTBEAT:
      sw_put(&c, 8, (uint64_t)m->as.heartbeat.now_ns);
      break;
    case SW_MOUNT_BEGIN:
      sw_put(&c, 8, (uint64_t)m->as.mount_begin.seed);
      sw_put(&c, 2, (uint64_t)m->as.mount_begin.values);
      sw_put(&c, 2, (uint64_t)m->as.mount_begin.steps);
      break;
    case SW_MOUNT_VALUE:
      c.ok = c.ok && m->as.mount_value.key_bytes <= 64;
      sw_put(&c, 1, m->as.mount_value.key_bytes);
      if (sw_take(&c, m->as.mount_value.key_bytes)) {
        memcpy(c.at - m->as.mount_value.key_bytes, m->as.mount_value.key, m->as.mount_value.key_bytes);
      }
      sw_put(&c, 1, m->as.mount_value.decimals);
      sw_put(&c, 8, (uint64_t)m->as.mount_value.value);
      c.ok = c.ok && m->as.mount_value.word_bytes <= 40;
      sw_put(&c, 1, m->as.mount_value.word_bytes);
      if (sw_take(&c, m->as.mount_value.word_bytes)) {
        memcpy(c.at - m->as.mount_value.word_bytes, m->as.mount_value.word, m->as.mount_value.word_bytes);
      }
      break;
    case SW_MOUNT_STEP:
      sw_put(&c, 4, (uint64_t)m->as.mount_step.remaining_microns);
      sw_put(&c, 2, (uint64_t)m->as.mount_step.resistance_ohms);
      sw_put(&c, 2, (uint64_t)m->as.mount_step.capacitance_picofarads);
      break;
    case SW_MOUNT_PLACE:
      sw_put(&c, 4, (uint64_t)m->as.mount_place.remaining_microns);
      c.ok = c.ok && m->as.mount_place.ohms_count <= 5;
      sw_put(&c, 1, m->as.mount_place.ohms_count);
      for (uint8_t i = 0; c.ok && i < m->as.mount_place.ohms_count; i++) {
        sw_put(&c, 4, (uint64_t)m->as.mount_place.ohms[i]);
      }
      sw_put(&c, 2, (uint64_t)m->as.mount_place.capacitors);
      break;
    case SW_MOUNT_END:
      break;
    case SW_EXCHANGE:
      sw_put(&c, 8, (uint64_t)m->as.exchange.now_ns);
      sw_put(&c, 1, m->as.exchange.drive);
      sw_put(&c, 4, (uint64_t)m->as.exchange.speed_milli_rpm);
      sw_put(&c, 4, (uint64_t)m->as.exchange.torque_limit_micro_newton_metres);
      sw_put(&c, 1, m->as.exchange.state);
      sw_put(&c, 1, m->as.exchange.reading_present);
      sw_put(&c, 4, (uint64_t)m->as.exchange.remaining_microns);
      sw_put(&c, 4, (uint64_t)m->as.exchange.bound_microns);
      sw_put(&c, 1, m->as.exchange.trust);
      sw_put(&c, 1, m->as.exchange.cause);
      sw_put(&c, 1, m->as.exchange.reason);
      break;
    case SW_SAFE_STOP:
      break;
    case SW_STAGE_HOME:
      break;
    case SW_STAGE_MOVE:
      sw_put(&c, 4, (uint64_t)m->as.stage_move.position_microns);
      sw_put(&c, 4, (uint64_t)m->as.stage_move.speed_microns_per_second);
      break;
    case SW_STAGE_STOP:
      break;
    case SW_STAGE_ASK:
      break;
    case SW_STAGE_FEED:
      sw_put(&c, 4, (uint64_t)m->as.stage_feed.most_microns);
      break;
    case SW_VERIFY:
      break;
    case SW_WATCH:
      break;
#endif
    default:
      return 0;
  }
  return c.ok ? (uint16_t)(room - c.left) : 0;
}

#endif
