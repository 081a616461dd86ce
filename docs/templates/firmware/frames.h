/* Frames of the controller as bytes, low byte first: the layout of golden vectors and of the line to the
 * harness, docs/firmware.md. */
#ifndef FRAMES_H
#define FRAMES_H

#include <stdint.h>

#include "stopwell.h"

#define FRAMES_LAYOUT 2 /* version of the layout */
#define FRAMES_INPUT_BYTES 100
#define FRAMES_OUTPUT_BYTES 22

uint64_t frames_get(const uint8_t *from, uint8_t bytes);
void frames_put(uint8_t *to, uint8_t bytes, uint64_t value);

void frames_input(const uint8_t *from, stopwell_input *in);
void frames_output(const stopwell_output *out, uint8_t *to);

#endif
