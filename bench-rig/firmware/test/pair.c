/*
 * Device board and drive board, their real binaries, in one program and one time: where the carriage of the
 * drive board goes, the shank scale of the device board goes, and the two lines of the device board are at
 * the inputs of the drive board. For tests only, as emulator.c.
 *
 *   pair DEVICE.elf DRIVE.elf    says "port NAME" of the device board and "drive-port NAME", then what both
 *                                worlds say
 *
 * It takes what emulator.c and world_device.c take; for world_drive.c with "drive " before it. Time stands
 * still while neither board has anything to hear or to say, as emulator.c states.
 */
#define _GNU_SOURCE
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "world.h"

#define SLICE (HERTZ / 20000) /* 50 µs: a line or a place comes that much later, at most */

#define OF(of)                                            \
  extern avr_t *of##_avr;                                 \
  void of##_emulator_begin(const char *binary);           \
  void of##_emulator_obey(const char *line);              \
  void of##_emulator_feed(void);                          \
  bool of##_emulator_silent(void);                        \
  bool of##_emulator_asked(void);                         \
  bool of##_emulator_due(void);                           \
  void of##_emulator_run(avr_cycle_count_t until);
OF(device)
OF(drive)

static void obey(const char *line) {
  static const char *const BOTH[] = {"zero", "wait "};
  if (strncmp(line, "drive ", 6) == 0) {
    drive_emulator_obey(line + 6);
    return;
  }
  device_emulator_obey(line);
  for (unsigned i = 0; i < sizeof BOTH / sizeof *BOTH; i++) {
    if (strncmp(line, BOTH[i], strlen(BOTH[i])) == 0) {
      drive_emulator_obey(line);
    }
  }
}

/* False when the input has ended. */
static bool listen(int wait_ms) {
  static char line[64];
  static size_t length;
  struct pollfd input = {STDIN_FILENO, POLLIN, 0};
  char byte = 0;
  if (poll(&input, 1, wait_ms) <= 0) {
    return true;
  }
  while (read(STDIN_FILENO, &byte, 1) == 1) {
    if (byte == '\n') {
      line[length] = 0;
      length = 0;
      obey(line);
      return true;
    }
    if (length < sizeof line - 1) {
      line[length++] = byte;
    }
  }
  return false;
}

int main(int count, char **arguments) {
  if (count != 3) {
    fprintf(stderr, "usage: %s DEVICE.elf DRIVE.elf\n", arguments[0]);
    return 2;
  }
  device_emulator_begin(arguments[1]);
  drive_emulator_begin(arguments[2]);
  device_emulator_obey("pace 20");
  avr_cycle_count_t now = 0;
  for (;;) {
    bool asked = device_emulator_asked() || drive_emulator_asked();
    bool waiting = !asked && device_emulator_silent() && drive_emulator_silent();
    for (int i = 0; i < 20 && !waiting; i++) {
      bool home = false;
      long place = world_carriage(&home);
      world_follow(place, home);
      world_lines(world_turns(), world_free());
      now += SLICE;
      device_emulator_run(now);
      drive_emulator_run(now);
    }
    device_emulator_feed();
    drive_emulator_feed();
    bool due = device_emulator_due();
    if (drive_emulator_due() || due) {
      printf("after\n");
      fflush(stdout);
    }
    if (!listen(waiting ? 1 : 0)) {
      return 0;
    }
  }
}
