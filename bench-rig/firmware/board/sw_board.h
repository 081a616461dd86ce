/*
 * Requests of a board: sessions, mount, exchange and watchdog, by docs/wire-protocol.md. It uses no
 * hardware; each board links its own sw_plant_ functions.
 * Board time follows the board's own clock.
 */
#ifndef SW_BOARD_H
#define SW_BOARD_H

#include <stdbool.h>
#include <stdint.h>

#include "sw_messages.h"

#define SW_WATCHDOG_NS 100000000LL /* 100 ms, docs/wire-protocol.md */
#define SW_SILENCE_NS 1000000000LL /* the host gives up after it: a small board mounts slowly */

struct sw_board {
  uint32_t session; /* 0: none since the reset */
  uint32_t sequence;
  uint32_t refused;
  uint16_t values_wanted;
  uint16_t values_come;
  uint16_t steps_wanted;
  uint16_t steps_come;
  bool mounting;
  bool mounted;
  bool stopped;
  bool watchdog;
  bool turning;
  bool running; /* the first exchange has set board time */
  int64_t zero_ns;
  int64_t called_ns;
  int64_t exchanged_ns;
};

enum sw_outcome {
  SW_ANSWERED, /* the message is now the answer */
  SW_REPEATED, /* the newest request again: send the newest answer again */
  SW_IGNORED,
};

/* Obeys or refuses one request; the message becomes the answer. good and bad count frames. */
enum sw_outcome sw_board_take(struct sw_board *board, struct sw_message *m, uint32_t good,
                              uint32_t bad);

/* Call it continuously: it cuts the power when commands have stopped. */
void sw_board_poll(struct sw_board *board);

/* Board time, ns since the mount. */
int64_t sw_board_ns(const struct sw_board *board);

/* Functions of each board. */

int64_t sw_plant_clock_ns(void);                               /* monotonic, from any zero */
void sw_plant_identity(struct sw_identity *identity);          /* zeroed before */
void hw_firmware_hash(char *eight_digits); /* of the running program and its calibration */
void sw_plant_off(void);                                       /* cuts the power at once */
void sw_plant_mount_begin(const struct sw_mount_begin *begin); /* forgets the last trial */
const char *sw_plant_value(const struct sw_mount_value *value); /* NULL, or the reason: in flash */
const char *sw_plant_step(const struct sw_mount_step *step);    /* the same */
const char *sw_plant_place(const struct sw_mount_place *place); /* the same; weak: no chain */
uint8_t sw_plant_mount(char *why, uint8_t room); /* prepares; 0, or the bytes of the reason */
void sw_plant_obey(const struct sw_exchange *command);
void sw_plant_read(struct sw_reading *reading, const struct sw_board *board); /* zeroed before */
bool sw_plant_device(struct sw_message *m, const struct sw_board *board); /* VERIFY, WATCH; weak: false */
bool sw_plant_stage(struct sw_message *m); /* a STAGE_ request becomes a STAGE; false without one */

/* Identity of a board: kind and firmware are in flash; the serial number ends with a zero or with its
 * room. */
void sw_name(struct sw_identity *identity, const char *board, const char *firmware,
             const char *serial_number, uint8_t room);

#endif
