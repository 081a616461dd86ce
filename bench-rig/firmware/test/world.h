/* The surroundings of a controller in the emulator: each board has its own world. */
#ifndef WORLD_H
#define WORLD_H

#include <stdbool.h>

#include <sim_avr.h>

#define HERTZ 14745600
#define SUPPLY_MILLIVOLTS 5000

/* The controller, once world_start was called. */
extern avr_t *avr;

void world_start(void);            /* connects its pins, and sets their levels */
void world_reset(void);            /* the controller is about to be reset */
void world_reset_done(void);       /* and it was: levels from outside again */
void world_run(void);              /* goes on to the controller's time; between any two instructions */
bool world_obey(const char *line); /* one line of input; false when it means nothing */

/* Between the two boards that feed a device: world_drive.c has the first two, world_device.c the others. */
long world_carriage(bool *home);
void world_lines(bool turns, bool free);
bool world_turns(void);
bool world_free(void);
void world_follow(long microns, bool home);

/* One emulator; its own main() uses these, or pair.c two of them. */
void emulator_begin(const char *binary);
void emulator_obey(const char *line);
void emulator_feed(void);             /* bytes of the host */
bool emulator_silent(void);           /* nobody has anything to say to the board, nor it to them */
bool emulator_asked(void);            /* it is to say "after" at some time; due: now */
bool emulator_due(void);
long emulator_speed(void);
long emulator_microseconds(void);     /* since the last "zero" */
void emulator_run(avr_cycle_count_t until);

/* Drives an input from outside, against a pull-up that the firmware may switch on later. */
void world_drive(char port, unsigned pin, bool high);

#endif
