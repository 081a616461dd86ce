/* A controller that fails on purpose at one step, for tests of the harness: it is linked around the exported
 * one by the linker (--wrap=stopwell_step). TROUBLE: 1 hangs, 2 resets the chip, 3 is late, 4 commands more
 * speed, 5 forgets its state, 6 stops answering for good. */
#include "board.h"
#include "stopwell.h"

enum { AT_STEP = 40, LATE_TICKS = BOARD_TICKS_PER_SECOND / 500 };

void __real_stopwell_step(int64_t now_ns, const stopwell_input *in, stopwell_output *out);

void __wrap_stopwell_step(int64_t now_ns, const stopwell_input *in, stopwell_output *out) {
  static uint32_t steps;
  __real_stopwell_step(now_ns, in, out);
  if (++steps != AT_STEP) return;
  if (TROUBLE == 1) {
    for (;;) {
    }
  }
  if (TROUBLE == 2) board_reset(BOARD_UNKNOWN);
  if (TROUBLE == 3) {
    for (uint32_t from = board_ticks(); board_ticks() - from < LATE_TICKS;) {
    }
  }
  if (TROUBLE == 4) out->speed_milli_rpm++;
  if (TROUBLE == 5) stopwell_init();
  if (TROUBLE == 6) {
    for (;;) board_feed_watchdog();
  }
}
