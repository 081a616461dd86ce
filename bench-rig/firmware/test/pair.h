/* Names of the copy of emulator.c and its world that is OF in the program of a pair. */
#ifndef PAIR_H
#define PAIR_H

#define PAIRED
#define PAIR_JOIN(of, name) of##_##name
#define PAIR_NAME(of, name) PAIR_JOIN(of, name)
#define avr PAIR_NAME(OF, avr)
#define world_start PAIR_NAME(OF, world_start)
#define world_reset PAIR_NAME(OF, world_reset)
#define world_reset_done PAIR_NAME(OF, world_reset_done)
#define world_run PAIR_NAME(OF, world_run)
#define world_obey PAIR_NAME(OF, world_obey)
#define world_drive PAIR_NAME(OF, world_drive)
#define emulator_begin PAIR_NAME(OF, emulator_begin)
#define emulator_obey PAIR_NAME(OF, emulator_obey)
#define emulator_feed PAIR_NAME(OF, emulator_feed)
#define emulator_silent PAIR_NAME(OF, emulator_silent)
#define emulator_asked PAIR_NAME(OF, emulator_asked)
#define emulator_due PAIR_NAME(OF, emulator_due)
#define emulator_speed PAIR_NAME(OF, emulator_speed)
#define emulator_microseconds PAIR_NAME(OF, emulator_microseconds)
#define emulator_run PAIR_NAME(OF, emulator_run)

#endif
