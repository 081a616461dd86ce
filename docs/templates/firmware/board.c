/* The boards mps2-an386 (Cortex-M4) and mps2-an500 (Cortex-M7), as QEMU emulates them: Arm CMSDK serial
 * port, timer and watchdog. Register names are those of the CMSDK manual, Arm DDI 0479. */
#include "board.h"

#define REGISTER(address) (*(volatile uint32_t *)(address))

#define TIMER_CTRL REGISTER(0x40000000u)
#define TIMER_VALUE REGISTER(0x40000004u)
#define TIMER_RELOAD REGISTER(0x40000008u)

#define UART_DATA REGISTER(0x40004000u)
#define UART_STATE REGISTER(0x40004004u)
#define UART_CTRL REGISTER(0x40004008u)
#define UART_INTCLEAR REGISTER(0x4000400Cu)
#define UART_BAUDDIV REGISTER(0x40004010u)
enum { TX_FULL = 1, RX_FULL = 2, TX_ENABLE = 1, RX_ENABLE = 2, RX_INTERRUPT = 8, RX_CLEAR = 2 };

#define WDOG_LOAD REGISTER(0x40008000u)
#define WDOG_CTRL REGISTER(0x40008008u)
#define WDOG_INTCLR REGISTER(0x4000800Cu)
#define WDOG_LOCK REGISTER(0x40008C00u)
enum { WDOG_INTERRUPT = 1, WDOG_RESET = 2 };
#define WDOG_UNLOCK 0x1ACCE551u

#define LEDS REGISTER(0x40028000u) /* LED 0 stands for the enable pin of a motor driver */

#define SYST_CSR REGISTER(0xE000E010u)
#define SYST_RVR REGISTER(0xE000E014u)
#define SYST_CVR REGISTER(0xE000E018u)
#define NVIC_ENABLE REGISTER(0xE000E100u)
#define AIRCR REGISTER(0xE000ED0Cu)

#define BAUD 921600u
#define HELD 1024u /* power of two; four frames of the line */

/* Kept over a reset. The mark tells a reset from the arrival of the power. */
#define MARK 0x53574C4Cu
static struct {
  uint32_t mark;
  uint32_t starts;
  uint32_t cause;
} kept __attribute__((section(".kept")));

static enum board_cause cause;
static volatile uint32_t now_ms;
static uint32_t obeyed_ms;
static uint8_t ring[HELD];
static volatile uint16_t ring_in, ring_out;

void board_start(void) {
  LEDS = 0;
  bool power_on = kept.mark != MARK;
  cause = power_on ? BOARD_POWER_ON : (enum board_cause)kept.cause;
  kept.starts = power_on ? 1 : kept.starts + 1;
  kept.mark = MARK;
  kept.cause = BOARD_UNKNOWN; /* until somebody states a cause */

  TIMER_RELOAD = 0xFFFFFFFFu;
  TIMER_VALUE = 0xFFFFFFFFu;
  TIMER_CTRL = 1;

  UART_BAUDDIV = BOARD_TICKS_PER_SECOND / BAUD;
  UART_CTRL = TX_ENABLE | RX_ENABLE | RX_INTERRUPT;
  NVIC_ENABLE = 1u << 0;

  SYST_RVR = BOARD_TICKS_PER_SECOND / 1000 - 1;
  SYST_CVR = 0;
  SYST_CSR = 7;

  /* The first time-out is the non-maskable interrupt, the second one resets the chip. */
  WDOG_LOCK = WDOG_UNLOCK;
  WDOG_LOAD = BOARD_TICKS_PER_SECOND / 1000 * BOARD_WATCHDOG_MS;
  WDOG_CTRL = WDOG_INTERRUPT | WDOG_RESET;
}

enum board_cause board_cause(void) {
  return cause;
}

uint32_t board_starts(void) {
  return kept.starts;
}

void board_received(void) {
  UART_INTCLEAR = RX_CLEAR;
  while (UART_STATE & RX_FULL) {
    uint8_t byte = (uint8_t)UART_DATA;
    if ((uint16_t)(ring_in - ring_out) < HELD) {
      ring[ring_in % HELD] = byte;
      ring_in++;
    }
  }
}

bool board_take(uint8_t *byte) {
  if (ring_in == ring_out) return false;
  *byte = ring[ring_out % HELD];
  ring_out++;
  return true;
}

void board_send(const uint8_t *bytes, uint16_t length) {
  for (uint16_t i = 0; i < length; i++) {
    while (UART_STATE & TX_FULL) {
    }
    UART_DATA = bytes[i];
  }
}

uint32_t board_ticks(void) {
  return 0xFFFFFFFFu - TIMER_VALUE;
}

uint32_t board_ms(void) {
  return now_ms;
}

void board_feed_watchdog(void) {
  WDOG_INTCLR = 1;
}

void board_sleep(void) {
  __asm volatile("wfi");
}

void board_motor(uint8_t drive, int32_t speed_milli_rpm, int32_t torque_limit_micro_newton_metres) {
  /* Put your driver here: duty cycle from the speed, current limit from the torque. */
  (void)speed_milli_rpm;
  (void)torque_limit_micro_newton_metres;
  obeyed_ms = now_ms;
  LEDS = drive >= 2;
}

void board_tick(void) {
  now_ms++;
  if (now_ms - obeyed_ms > BOARD_MOTOR_MS) LEDS = 0;
}

void board_reset(enum board_cause why) {
  LEDS = 0;
  kept.cause = why;
  AIRCR = 0x05FA0004u;
  for (;;) {
  }
}

void board_watchdog_bites(void) {
  board_reset(BOARD_WATCHDOG);
}
