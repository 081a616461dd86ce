/* Files and text of the computer that emulates the chip: Arm semihosting. For tests only. */
#ifndef SEMIHOST_H
#define SEMIHOST_H

#include <stdint.h>

enum { SYS_OPEN = 0x01, SYS_WRITE0 = 0x04, SYS_READ = 0x06, SYS_GET_CMDLINE = 0x15, SYS_EXIT = 0x20 };

static inline int32_t semihost(int32_t operation, const void *block) {
  register int32_t r0 __asm("r0") = operation;
  register const void *r1 __asm("r1") = block;
  __asm volatile("bkpt 0xAB" : "+r"(r0) : "r"(r1) : "memory");
  return r0;
}

static inline void semihost_say(const char *text) {
  semihost(SYS_WRITE0, text);
}

static inline void semihost_exit(uint32_t code) {
  const uint32_t block[2] = {0x20026, code};
  semihost(SYS_EXIT, block);
}

/* -1 when there is no such file. */
static inline int32_t semihost_open(const char *name) {
  uint32_t length = 0;
  while (name[length]) length++;
  const uint32_t block[3] = {(uint32_t)(uintptr_t)name, 1 /* rb */, length};
  return semihost(SYS_OPEN, block);
}

/* Bytes read; fewer than wanted at the end of the file only. */
static inline uint32_t semihost_read(int32_t file, void *to, uint32_t bytes) {
  const uint32_t block[3] = {(uint32_t)file, (uint32_t)(uintptr_t)to, bytes};
  return bytes - (uint32_t)semihost(SYS_READ, block);
}

#endif
