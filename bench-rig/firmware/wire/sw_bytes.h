/* Reading and writing fields of a message, low byte first, without ever leaving the buffer. */
#ifndef SW_BYTES_H
#define SW_BYTES_H

#include <stdbool.h>
#include <stdint.h>

/* Position of reading or writing. Once ok is false it stays false and no further byte is touched. */
struct sw_cursor {
  uint8_t *at;
  uint16_t left;
  bool ok;
};

static inline bool sw_take(struct sw_cursor *c, uint16_t bytes) {
  c->ok = c->ok && bytes <= c->left;
  if (c->ok) {
    c->at += bytes;
    c->left -= bytes;
  }
  return c->ok;
}

/* Half by half: a small controller shifts 32 bits far faster than 64. */
static inline uint64_t sw_get(struct sw_cursor *c, uint8_t bytes) {
  uint32_t low = 0;
  uint32_t high = 0;
  if (sw_take(c, bytes)) {
    const uint8_t *from = c->at - bytes;
    for (uint8_t i = bytes; i > 4; i--) {
      high = high << 8 | from[i - 1];
    }
    for (uint8_t i = bytes < 4 ? bytes : 4; i > 0; i--) {
      low = low << 8 | from[i - 1];
    }
  }
  return (uint64_t)high << 32 | low;
}

static inline void sw_put(struct sw_cursor *c, uint8_t bytes, uint64_t value) {
  if (sw_take(c, bytes)) {
    uint8_t *to = c->at - bytes;
    uint32_t half = (uint32_t)value;
    for (uint8_t i = 0; i < bytes; i++) {
      if (i == 4) {
        half = (uint32_t)(value >> 32);
      }
      to[i] = (uint8_t)half;
      half >>= 8;
    }
  }
}

/* One byte that may not be greater than max: a code, a flag, the length of a text or a list. */
static inline uint8_t sw_get_upto(struct sw_cursor *c, uint8_t max) {
  uint8_t value = (uint8_t)sw_get(c, 1);
  c->ok = c->ok && value <= max;
  return c->ok ? value : 0;
}

#endif
