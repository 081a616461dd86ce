/* The main loop: a frame with what was measured goes in, the controller steps, a motor command goes out.
 * Here the frames come over the serial line from the harness (--bench dut), which plays canal, motor and
 * hand. In a handpiece they come from your front end: call step() with them each millisecond. */
#include "board.h"
#include "frames.h"
#include "sw_frame.h"

#define LINE_VERSION 1
#define HEADER_BYTES 9 /* message, session, sequence */

enum message {
  WHO = 0x41,
  BEGIN = 0x42,
  STEP = 0x43,
  OFF = 0x44,
  AM = 0xC1,
  READY = 0xC2,
  STEPPED = 0xC3,
  REFUSED = 0xC4,
};
enum refusal { NO_SESSION = 0, OTHER_CONTROLLER = 1, BAD_REQUEST = 2 };

static struct sw_reader reader;
static uint8_t body[SW_BODY_BYTES];
static uint8_t frame[SW_FRAME_BYTES];
static uint16_t frame_bytes; /* of the newest answer */
static uint32_t session;     /* 0: none */
static uint32_t sequence;    /* of the newest request */
static int started;          /* the controller may turn the motor */

static void copy(uint8_t *to, const uint8_t *from, uint16_t bytes) {
  for (uint16_t i = 0; i < bytes; i++) to[i] = from[i];
}

/* One step of the controller and its time on the clock of this board. */
static uint32_t step(int64_t now_ns, const stopwell_input *in, stopwell_output *out) {
  uint32_t before = board_ticks();
  stopwell_step(now_ns, in, out);
  uint32_t ticks = board_ticks() - before;
  board_motor((uint8_t)out->drive, out->speed_milli_rpm, out->torque_limit_micro_newton_metre);
  return ticks;
}

static void stop(void) {
  started = 0;
  board_motor(0, 0, 0);
}

static uint16_t refuse(uint8_t why) {
  stop();
  body[0] = REFUSED;
  body[HEADER_BYTES] = why;
  frames_put(body + HEADER_BYTES + 1, 1, board_cause());
  return HEADER_BYTES + 2;
}

static uint16_t who(uint8_t *to) {
  body[0] = AM;
  frames_put(to, 2, LINE_VERSION);
  frames_put(to + 2, 2, FRAMES_LAYOUT);
  frames_put(to + 4, 8, stopwell_settings_fingerprint);
  frames_put(to + 12, 8, stopwell_build_fingerprint);
  frames_put(to + 20, 4, BOARD_TICKS_PER_SECOND);
  frames_put(to + 24, 4, board_starts());
  frames_put(to + 28, 1, board_cause());
  copy(to + 29, (const uint8_t *)BOARD_NAME, sizeof BOARD_NAME - 1);
  return HEADER_BYTES + 29 + sizeof BOARD_NAME - 1;
}

/* No motor turns before the harness has named the very settings and build that this program holds. */
static uint16_t begin(const uint8_t *fields) {
  if (frames_get(fields, 8) != stopwell_settings_fingerprint ||
      frames_get(fields + 8, 8) != stopwell_build_fingerprint) {
    return refuse(OTHER_CONTROLLER);
  }
  stop();
  stopwell_init();
  started = 1;
  body[0] = READY;
  return HEADER_BYTES;
}

static uint16_t one_step(uint8_t *fields) {
  if (!started) return refuse(NO_SESSION);
  stopwell_input in;
  stopwell_output out;
  frames_input(fields + 8, &in);
  uint32_t ticks = step((int64_t)frames_get(fields, 8), &in, &out);
  body[0] = STEPPED;
  frames_output(&out, fields);
  frames_put(fields + FRAMES_OUTPUT_BYTES, 8, stopwell_hash());
  frames_put(fields + FRAMES_OUTPUT_BYTES + 8, 4, ticks);
  return HEADER_BYTES + FRAMES_OUTPUT_BYTES + 12;
}

/* Turns the request in body into its answer. */
static uint16_t answer(uint16_t length) {
  uint8_t *fields = body + HEADER_BYTES;
  uint16_t bytes = (uint16_t)(length - HEADER_BYTES);
  if (body[0] == WHO && bytes == 2) return who(fields);
  if (body[0] == BEGIN && bytes == 16) return begin(fields);
  if (body[0] == STEP && bytes == 8 + FRAMES_INPUT_BYTES) return one_step(fields);
  if (body[0] == OFF && bytes == 0) {
    stop();
    body[0] = READY;
    return HEADER_BYTES;
  }
  return refuse(BAD_REQUEST);
}

static void take(uint16_t length) {
  if (length < HEADER_BYTES) return;
  copy(body, reader.held, length);
  uint32_t from = (uint32_t)frames_get(body + 1, 4);
  uint32_t number = (uint32_t)frames_get(body + 5, 4);
  if (from == session && number == sequence && frame_bytes != 0) {
    board_send(frame, frame_bytes); /* asked again: not obeyed again */
    return;
  }
  if (body[0] == WHO) {
    stop();
    session = from;
  } else if (from != session || session == 0) {
    uint16_t refused = refuse(NO_SESSION);
    board_send(frame, sw_frame(body, refused, frame));
    frame_bytes = 0;
    return;
  }
  sequence = number;
  frame_bytes = sw_frame(body, answer(length), frame);
  board_send(frame, frame_bytes);
}

int main(void) {
  board_start();
  stopwell_init();
  for (;;) {
    uint8_t byte;
    board_feed_watchdog();
    if (!board_take(&byte)) {
      board_sleep();
      continue;
    }
    uint16_t length = sw_reader_take(&reader, byte);
    if (length > 0) take(length);
  }
}
