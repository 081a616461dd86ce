/* Reads frames on its input, opens every message, and writes the same messages as frames again. */
#include <stdio.h>
#include <string.h>

#include "sw_frame.h"
#include "sw_messages.h"

int main(void) {
  static struct sw_reader reader;
  static struct sw_message message;
  uint8_t body[SW_BODY_BYTES];
  uint8_t frame[SW_FRAME_BYTES];
  int byte;
  while ((byte = getchar()) != EOF) {
    uint16_t length = sw_reader_take(&reader, (uint8_t)byte);
    if (length == 0) {
      continue;
    }
    memset(&message, 0xA5, sizeof message);
    if (!sw_read_message(reader.held, length, &message)) {
      fprintf(stderr, "refused a message of %u bytes\n", length);
      continue;
    }
    uint16_t written = sw_write_message(body, sizeof body - SW_CRC_BYTES, &message);
    written = sw_frame(body, written, frame);
    fwrite(frame, 1, written, stdout);
    fflush(stdout);
  }
  fprintf(stderr, "%lu good, %lu bad\n", (unsigned long)reader.good, (unsigned long)reader.bad);
  return 0;
}
