/*
 * The protocol of a board: session, mount, exchange, watchdog.
 *
 * Who calls whom; the plant is canal.c or drive.c:
 *
 *   main.c      -> sw_avr.c    sw_avr_start, sw_avr_serve; the clock
 *   sw_avr.c    -> sw_board.c  sw_board_take for each request, sw_board_poll in between
 *   sw_avr.c    -> main.c      sw_plant_tick
 *   sw_board.c  -> plant       sw_plant_ functions: mount, obey, read, off
 *   sw_board.c  -> sw_avr.c    hw_firmware_hash
 *   plant       -> main.c      hw_ functions: pins, converter, encoder
 */
#include "sw_board.h"

#include <string.h>

#include "sw_text.h"

_Static_assert(SW_WATCHDOG_NS >= SW_LEAST_WATCHDOG_NS && SW_WATCHDOG_NS <= SW_MOST_WATCHDOG_NS &&
                   SW_SILENCE_NS >= SW_WATCHDOG_NS && SW_SILENCE_NS <= SW_MOST_SILENCE_NS,
               "the host refuses times outside of the bounds of docs/wire-protocol.md");

#define FROM_BOARD 0x80

static void take_power(struct sw_board *board) {
  sw_plant_off();
  board->turning = false;
}

static enum sw_outcome refuse(struct sw_board *board, struct sw_message *m, uint8_t code,
                              const char *why) {
  board->refused++;
  m->code = SW_ERROR;
  m->as.error.code = code;
  m->as.error.why_bytes = sw_text(m->as.error.why, sizeof m->as.error.why, why);
  return SW_ANSWERED;
}

/* A request of the open session that cannot be obeyed: something is wrong, so the power goes. */
static enum sw_outcome error(struct sw_board *board, struct sw_message *m, uint8_t code,
                             const char *why) {
  take_power(board);
  return refuse(board, m, code, why);
}

static enum sw_outcome ok(struct sw_message *m) {
  m->code = SW_OK;
  return SW_ANSWERED;
}

int64_t sw_board_ns(const struct sw_board *board) {
  return board->running ? sw_plant_clock_ns() - board->zero_ns : 0;
}

void sw_board_poll(struct sw_board *board) {
  if (board->turning && sw_board_ns(board) - board->exchanged_ns > SW_WATCHDOG_NS) {
    take_power(board);
    board->watchdog = true;
  }
}

static enum sw_outcome read(struct sw_board *board, struct sw_message *m) {
  struct sw_reading *reading = &m->as.reading;
  m->code = SW_READING;
  memset(reading, 0, sizeof *reading);
  reading->time_ns = sw_board_ns(board);
  reading->watchdog = board->watchdog;
  sw_plant_read(reading, board);
  return SW_ANSWERED;
}

void sw_name(struct sw_identity *identity, const char *board, const char *firmware,
             const char *serial_number, uint8_t room) {
  uint8_t length = 0;
  while (length < room && serial_number[length]) {
    identity->serial_number[length] = serial_number[length];
    length++;
  }
  identity->serial_number_bytes = length;
  identity->board_bytes = sw_text(identity->board, sizeof identity->board, board);
  identity->firmware_bytes = sw_text(identity->firmware, sizeof identity->firmware, firmware);
  identity->firmware_version_bytes =
      sw_text(identity->firmware_version, sizeof identity->firmware_version, PSTR(FIRMWARE_VERSION));
  identity->firmware_hash_bytes = 8;
  hw_firmware_hash(identity->firmware_hash);
}

static enum sw_outcome hello(struct sw_board *board, struct sw_message *m) {
  struct sw_identity *identity = &m->as.identity;
  take_power(board);
  board->mounted = false;
  board->mounting = false;
  board->session = m->session;
  board->sequence = m->sequence;
  m->code = SW_IDENTITY;
  memset(identity, 0, sizeof *identity);
  identity->protocol = SW_PROTOCOL;
  identity->watchdog_ns = SW_WATCHDOG_NS;
  identity->silence_ns = SW_SILENCE_NS;
  sw_plant_identity(identity);
  return SW_ANSWERED;
}

static enum sw_outcome mount_begin(struct sw_board *board, struct sw_message *m) {
  take_power(board);
  board->mounted = false;
  board->mounting = true;
  board->values_come = 0;
  board->values_wanted = m->as.mount_begin.values;
  board->steps_come = 0;
  board->steps_wanted = m->as.mount_begin.steps;
  sw_plant_mount_begin(&m->as.mount_begin);
  return ok(m);
}

/* The board cannot make this trial; nothing is mounted. */
static enum sw_outcome refused(struct sw_board *board, struct sw_message *m, uint8_t key_bytes,
                               uint8_t why_bytes) {
  board->mounting = false;
  board->refused++;
  m->code = SW_REFUSED;
  m->as.refused.key_bytes = key_bytes;
  m->as.refused.why_bytes = why_bytes;
  return SW_ANSWERED;
}

static enum sw_outcome mount_value(struct sw_board *board, struct sw_message *m) {
  const struct sw_mount_value *value = &m->as.mount_value;
  if (!board->mounting || board->values_come == board->values_wanted) {
    return error(board, m, SW_ERROR_CODE_BAD_ORDER, PSTR("more values than MOUNT_BEGIN said"));
  }
  board->values_come++;
  bool pressed = value->value != 0 &&
                 sw_is(value->key, value->key_bytes, PSTR("hand.emergency_stop_ms"));
  const char *why = pressed ? PSTR("only 0: a person presses the emergency stop of this board")
                            : sw_plant_value(value);
  if (!why) {
    return ok(m);
  }
  uint8_t key_bytes = value->key_bytes;
  memmove(m->as.refused.key, value->key, key_bytes);
  return refused(board, m, key_bytes, sw_text(m->as.refused.why, sizeof m->as.refused.why, why));
}

/* A board without a chain and sensors has neither of these. */
__attribute__((weak)) const char *sw_plant_place(const struct sw_mount_place *place) {
  (void)place;
  return PSTR("this board has no chain");
}

__attribute__((weak)) bool sw_plant_device(struct sw_message *m, const struct sw_board *board) {
  (void)m, (void)board;
  return false;
}

static enum sw_outcome mount_step(struct sw_board *board, struct sw_message *m) {
  if (!board->mounting || board->values_come != board->values_wanted ||
      board->steps_come == board->steps_wanted) {
    return error(board, m, SW_ERROR_CODE_BAD_ORDER, PSTR("steps come after the values, as many as said"));
  }
  board->steps_come++;
  const char *why = m->code == SW_MOUNT_STEP ? sw_plant_step(&m->as.mount_step)
                                             : sw_plant_place(&m->as.mount_place);
  return why ? refused(board, m, sw_text(m->as.refused.key, sizeof m->as.refused.key, PSTR("step")),
                       sw_text(m->as.refused.why, sizeof m->as.refused.why, why))
             : ok(m);
}

static enum sw_outcome mount_end(struct sw_board *board, struct sw_message *m) {
  if (!board->mounting || board->values_come != board->values_wanted ||
      board->steps_come != board->steps_wanted) {
    return error(board, m, SW_ERROR_CODE_BAD_ORDER,
                 PSTR("fewer values or steps than MOUNT_BEGIN said"));
  }
  board->mounting = false;
  uint8_t why_bytes = sw_plant_mount(m->as.refused.why, sizeof m->as.refused.why);
  if (why_bytes) {
    return refused(board, m, 0, why_bytes);
  }
  board->mounted = true;
  board->stopped = false;
  board->watchdog = false;
  board->running = false;
  board->called_ns = -1;
  board->exchanged_ns = 0;
  return read(board, m);
}

static enum sw_outcome exchange(struct sw_board *board, struct sw_message *m) {
  const struct sw_exchange *command = &m->as.exchange;
  if (!board->mounted) {
    return error(board, m, SW_ERROR_CODE_NOT_MOUNTED, PSTR("no trial is mounted"));
  }
  if (command->now_ns <= board->called_ns) {
    return error(board, m, SW_ERROR_CODE_BAD_VALUE, PSTR("now_ns does not ascend"));
  }
  board->called_ns = command->now_ns;
  if (!board->running) {
    board->running = true;
    board->zero_ns = sw_plant_clock_ns() - command->now_ns;
  }
  sw_board_poll(board);
  board->exchanged_ns = sw_board_ns(board);
  /* What has taken the power once keeps it until the next mount. */
  if (!board->stopped && !board->watchdog) {
    board->turning = command->drive >= SW_EXCHANGE_DRIVE_FORWARD;
    sw_plant_obey(command);
  }
  return read(board, m);
}

static enum sw_outcome safe_stop(struct sw_board *board, struct sw_message *m) {
  take_power(board);
  board->stopped = true;
  return board->mounted ? read(board, m) : ok(m);
}

static enum sw_outcome stage(struct sw_board *board, struct sw_message *m) {
  if (!sw_plant_stage(m)) {
    return error(board, m, SW_ERROR_CODE_BAD_ORDER, PSTR("this board has no stage"));
  }
  m->code = SW_STAGE;
  return SW_ANSWERED;
}

static enum sw_outcome status(struct sw_board *board, struct sw_message *m, uint32_t good,
                              uint32_t bad) {
  struct sw_status *status = &m->as.status;
  m->code = SW_STATUS;
  status->time_ns = sw_board_ns(board);
  status->mounted = board->mounted;
  status->motor_on = board->turning;
  status->watchdog = board->watchdog;
  status->frames_good = good;
  status->frames_bad = bad;
  status->frames_refused = board->refused;
  return SW_ANSWERED;
}

enum sw_outcome sw_board_take(struct sw_board *board, struct sw_message *m, uint32_t good,
                              uint32_t bad) {
  if (m->code & FROM_BOARD) {
    board->refused++;
    return SW_IGNORED;
  }
  bool ours = board->session != 0 && m->session == board->session;
  if (ours && m->sequence == board->sequence) {
    return SW_REPEATED;
  }
  if (m->code == SW_HELLO) {
    return hello(board, m);
  }
  if (!ours) {
    return refuse(board, m,
                  board->session ? SW_ERROR_CODE_OTHER_SESSION : SW_ERROR_CODE_NO_SESSION,
                  board->session ? PSTR("another session is open") : PSTR("reset since"));
  }
  if ((int32_t)(m->sequence - board->sequence) < 0) {
    board->refused++;
    return SW_IGNORED;
  }
  board->sequence = m->sequence;
  switch (m->code) {
    case SW_HEARTBEAT:
      return status(board, m, good, bad);
    case SW_MOUNT_BEGIN:
      return mount_begin(board, m);
    case SW_MOUNT_VALUE:
      return mount_value(board, m);
    case SW_MOUNT_STEP:
    case SW_MOUNT_PLACE:
      return mount_step(board, m);
    case SW_MOUNT_END:
      return mount_end(board, m);
    case SW_EXCHANGE:
      return exchange(board, m);
    case SW_SAFE_STOP:
      return safe_stop(board, m);
    case SW_STAGE_HOME:
    case SW_STAGE_MOVE:
    case SW_STAGE_STOP:
    case SW_STAGE_ASK:
    case SW_STAGE_FEED:
      return stage(board, m);
    case SW_VERIFY:
    case SW_WATCH:
      return sw_plant_device(m, board)
                 ? SW_ANSWERED
                 : error(board, m, SW_ERROR_CODE_BAD_ORDER, PSTR("this board watches no device"));
    default:
      return error(board, m, SW_ERROR_CODE_BAD_ORDER, PSTR("this board does not know it"));
  }
}
