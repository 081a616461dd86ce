/* Runs golden vectors through the exported controller on an emulated chip. Output and state hash must equal
 * those of the vector after every step. It counts the instructions of each step.
 *
 * The command line is: vectors FILE TICKS. FILE holds vectors, one after the other, of the settings in this
 * image. TICKS is 10000 times the ticks of the clock in one instruction. */
#include "board.h"
#include "frames.h"
#include "semihost.h"

enum { STEP_BYTES = 8 + FRAMES_INPUT_BYTES + FRAMES_OUTPUT_BYTES + 8, LOOPS = 100000 };
static const uint64_t FNV_START = 0xcbf29ce484222325u, FNV_PRIME = 0x100000001b3u;

static int32_t file;
static uint8_t held[4096];
static uint32_t at, size;
static uint64_t hash;
static uint32_t ticks_of_10000;

static char line[200];
static uint32_t used;

static void text(const char *t) {
  while (*t && used < sizeof line - 2) line[used++] = *t++;
}

static void number(uint64_t n) {
  char digits[21];
  uint32_t i = sizeof digits - 1;
  digits[i] = 0;
  do {
    digits[--i] = (char)('0' + n % 10);
    n /= 10;
  } while (n);
  text(digits + i);
}

static void say(void) {
  line[used++] = '\n';
  line[used] = 0;
  semihost_say(line);
  used = 0;
}

static void die(const char *what) {
  text(what);
  say();
  semihost_exit(1);
  for (;;) {
  }
}

static int more(void) {
  if (at == size) {
    size = semihost_read(file, held, sizeof held);
    at = 0;
  }
  return at < size;
}

static void read(uint8_t *to, uint32_t bytes) {
  for (uint32_t i = 0; i < bytes; i++) {
    if (!more()) die("the vectors are cut short");
    to[i] = held[at++];
    hash = (hash ^ to[i]) * FNV_PRIME;
  }
}

static uint64_t take(uint8_t bytes) {
  uint8_t raw[8];
  read(raw, bytes);
  return frames_get(raw, bytes);
}

static uint64_t instructions(uint32_t ticks) {
  return (uint64_t)ticks * 10000 / ticks_of_10000;
}

/* The clock counts instructions: this loop has two of them, as often as it goes round. */
static void check_clock(void) {
  uint32_t before = board_ticks();
  uint32_t left = LOOPS;
  __asm volatile("1: subs %0, #1\n bne 1b" : "+r"(left) : : "cc");
  uint64_t counted = instructions(board_ticks() - before);
  text("loop of ");
  number(2 * LOOPS);
  text(" instructions counted as ");
  number(counted);
  say();
}

static uint64_t all_steps, all_instructions, worst, worst_step;

static void one_vector(uint32_t index) {
  uint8_t raw[256];
  stopwell_input in;
  stopwell_output out;
  uint8_t packed[FRAMES_OUTPUT_BYTES];
  hash = FNV_START;
  read(raw, 8);
  for (uint32_t i = 0; i < 8; i++) {
    if (raw[i] != (uint8_t) "STOPWELL"[i]) die("not a golden vector");
  }
  if (take(4) != FRAMES_LAYOUT) die("another version of the layout");
  if (take(8) != stopwell_settings_fingerprint) die("other settings than those of this image");
  for (uint32_t left = (uint32_t)take(4); left > 0; left--) {
    read(raw, (uint32_t)take(1));
    (void)take(8);
  }
  for (uint32_t left = (uint32_t)take(4); left > 0; left--) read(raw, 24);
  uint32_t steps = (uint32_t)take(4);
  stopwell_init();
  for (uint32_t step = 0; step < steps; step++) {
    uint8_t bytes[STEP_BYTES];
    read(bytes, STEP_BYTES);
    frames_input(bytes + 8, &in);
    int64_t now_ns = (int64_t)frames_get(bytes, 8);
    uint32_t before = board_ticks();
    stopwell_step(now_ns, &in, &out);
    uint64_t spent = instructions(board_ticks() - before);
    all_instructions += spent;
    if (spent > worst) {
      worst = spent;
      worst_step = all_steps;
    }
    all_steps++;
    frames_output(&out, packed);
    const uint8_t *wanted = bytes + 8 + FRAMES_INPUT_BYTES;
    int same = stopwell_hash() == frames_get(wanted + FRAMES_OUTPUT_BYTES, 8);
    for (uint32_t i = 0; i < FRAMES_OUTPUT_BYTES; i++) same &= packed[i] == wanted[i];
    if (!same) {
      text("vector ");
      number(index);
      text(", step ");
      number(step);
      die(stopwell_hash() == frames_get(wanted + FRAMES_OUTPUT_BYTES, 8) ? ": output differs"
                                                                         : ": state hash differs");
    }
    board_feed_watchdog();
  }
  uint64_t sum = hash;
  if (take(8) != sum) die("damaged");
}

int main(void) {
  char command[256];
  const uint32_t block[2] = {(uint32_t)(uintptr_t)command, sizeof command};
  semihost(SYS_GET_CMDLINE, block);
  const char *c = command;
  while (*c && *c != ' ') c++;
  const char *name = *c ? ++c : c;
  while (*c && *c != ' ') c++;
  for (const char *digit = *c ? c + 1 : c; *digit; digit++) {
    ticks_of_10000 = 10 * ticks_of_10000 + (uint32_t)(*digit - '0');
  }
  if (!*c || ticks_of_10000 == 0) die("usage: vectors FILE TICKS");
  command[c - command] = 0; /* ends the name */
  file = semihost_open(name);
  if (file < 0) die("the file cannot be opened");
  board_start();
  if (board_starts() > 1) die("the chip was reset: a step takes too long for the watchdog, or faults");
  check_clock();
  uint32_t vectors = 0;
  while (more()) one_vector(vectors++);
  if (all_steps == 0) die("no steps");
  number(vectors);
  text(" vectors, ");
  number(all_steps);
  text(" steps equal; instructions: mean ");
  number(all_instructions / all_steps);
  text(", worst ");
  number(worst);
  text(" at step ");
  number(worst_step);
  say();
  semihost_exit(0);
  return 0;
}
