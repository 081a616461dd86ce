/* Vectors and start of a Cortex-M4 or Cortex-M7. There is no C library. */
#include <stdint.h>

#include "board.h"

extern uint32_t data_start[], data_end[], data_source[], bss_start[], bss_end[], stack_top[];
int main(void);

#define CPACR (*(volatile uint32_t *)0xE000ED88u)

void reset(void) {
  CPACR |= 0xFu << 20; /* the floating-point unit, before the first instruction that uses it */
  __asm volatile("dsb\n isb");
  for (uint32_t *to = data_start, *from = data_source; to < data_end;) *to++ = *from++;
  for (uint32_t *to = bss_start; to < bss_end;) *to++ = 0;
  main();
  board_reset(BOARD_FAULT); /* main does not return */
}

/* A fault of the program: motor off, then a reset that states the cause. */
static void fault(void) {
  board_reset(BOARD_FAULT);
}

static void unused(void) {
  board_reset(BOARD_FAULT);
}

__attribute__((section(".vectors"), used)) static void (*const VECTORS[16 + 32])(void) = {
    (void (*)(void))stack_top,
    reset,
    board_watchdog_bites, /* NMI */
    fault, fault, fault, fault,
    0, 0, 0, 0,
    unused, unused, 0, unused,
    board_tick,     /* SysTick */
    board_received, /* line, a byte has come */
    unused, unused, unused, unused, unused, unused, unused, unused, unused, unused, unused,
    unused, unused, unused, unused, unused, unused, unused, unused, unused, unused, unused,
    unused, unused, unused, unused, unused, unused, unused, unused, unused,
};
