/* Frames of the wire protocol: CRC-32C, COBS, closing zero. See docs/wire-protocol.md. */
#ifndef SW_FRAME_H
#define SW_FRAME_H

#include <stdbool.h>
#include <stdint.h>

#define SW_FRAME_BYTES 256 /* the most bytes of a frame on the line, its zero included */
#define SW_BODY_BYTES 254  /* the most bytes of message and CRC, before stuffing */
#define SW_CRC_BYTES 4

/* Finds frames in a stream of bytes. Holds one frame, whatever comes. */
struct sw_reader {
  uint8_t held[SW_FRAME_BYTES - 1];
  uint16_t length;
  bool too_long;
  uint32_t good;
  uint32_t bad;
};

/*
 * Takes one byte. Returns the length of the message when the byte closed a good frame; the message
 * then stands at the beginning of held until the next call. Returns 0 otherwise.
 */
uint16_t sw_reader_take(struct sw_reader *reader, uint8_t byte);

/*
 * Makes a frame of a message of length bytes at the beginning of body, which needs room for
 * SW_CRC_BYTES more. Returns the bytes written to frame, 0 when the message is too long.
 */
uint16_t sw_frame(uint8_t *body, uint16_t length, uint8_t *frame);

uint32_t sw_crc32c(const uint8_t *bytes, uint16_t length);

#endif
