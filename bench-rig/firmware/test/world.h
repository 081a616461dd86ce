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

/* Drives an input from outside, against a pull-up that the firmware may switch on later. */
void world_drive(char port, unsigned pin, bool high);

#endif
