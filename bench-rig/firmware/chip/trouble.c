/* A controller that fails on purpose at one step, for tests of the harness: the linker puts it around the
 * exported one (--wrap=stopwell_step) and says how it fails (--defsym=trouble=1):
 *   1 hangs with interrupts off  2 resets the chip    3 is late
 *   4 commands more speed        5 forgets its state  6 stops answering for good
 *   7 runs into an instruction that does not exist */
#include "board.h"
#include "stopwell.h"

enum { AT_STEP = 40, LATE_TICKS = BOARD_TICKS_PER_SECOND / 50 };
enum { HANGS = 1, RESETS, IS_LATE, LIES, FORGETS, GOES_SILENT, FAULTS };

extern const char trouble[]; /* its address is the number */

void __real_stopwell_step(int64_t now_ns, const stopwell_input *in, stopwell_output *out);
void __wrap_stopwell_step(int64_t now_ns, const stopwell_input *in, stopwell_output *out);

static void wait(uint32_t ticks) {
  for (uint32_t from = board_ticks(); board_ticks() - from < ticks;) {
  }
}

void __wrap_stopwell_step(int64_t now_ns, const stopwell_input *in, stopwell_output *out) {
  static uint32_t steps;
  __real_stopwell_step(now_ns, in, out);
  if (++steps != AT_STEP) return;
  switch ((uintptr_t)trouble) {
    case HANGS:
      __asm volatile("cpsid i");
      for (;;) {
      }
    case RESETS:
      board_reset(BOARD_UNKNOWN);
    case IS_LATE:
      wait(LATE_TICKS);
      break;
    case LIES:
      out->speed_milli_rpm++;
      break;
    case FORGETS:
      stopwell_init();
      break;
    case GOES_SILENT:
      for (;;) board_feed_watchdog();
    default:
      __asm volatile("udf #0");
  }
}
