/*
 * Samples of a device under test, two to an entry, until the host asks for them. Within a run nothing
 * is missing, so an entry holds differences only. When there is no room the run ends; a new one begins
 * once the host has taken all of it, and the samples in between are counted as lost. An angle that
 * jumps by more than an entry holds loses nothing: what is handed over at once ends before the jump.
 */
#ifndef WATCH_H
#define WATCH_H

#include <stdbool.h>
#include <stdint.h>

#include "sw_messages.h"

#define WATCH_ROOM 48u  /* entries of 1 ms */
#define WATCH_TURN 4096 /* steps of the angle chip in one turn */
#define WATCH_LATE_NS 250000 /* half of the time from sample to sample */
#define WATCH_FORCE_MILLINEWTONS 20 /* step of the force in an entry */

struct watch {
  uint32_t entry[WATCH_ROOM];
  uint8_t out;
  uint8_t count;
  bool broken; /* no room: nothing more until it is empty */
  bool half;   /* the first sample of an entry has come */
  bool half_marked;
  bool begun;  /* an angle was seen since the mount */
  int8_t turned;
  uint16_t angle_raw;
  int32_t angle;      /* after the newest sample */
  int32_t microns;    /* after the newest entry */
  int64_t first_ns;   /* of the first entry that is kept, its angle and place before it */
  int32_t first_angle;
  int32_t first_microns;
  uint32_t lost; /* samples since the mount */
  int16_t jump;  /* steps that the angle jumped before entry jump_at; an entry cannot hold them */
  uint8_t jump_at;
};

void watch_begin(struct watch *watch);

/* One sample each_ns after the one before; place, force and witness count at the second of each entry. When
 * a tick was missed, its sample is made up and both are marked; when more were, the run ends. */
void watch_sample(struct watch *watch, int64_t now_ns, uint32_t each_ns, uint16_t angle_raw, int32_t microns,
                  uint8_t force, bool marked, bool witnessed);

/* Hands over the oldest entries; zero_ns is the time of the mount. The lock keeps watch_sample out. */
void watch_take(struct watch *watch, int64_t zero_ns, uint32_t each_ns, struct sw_watched *to,
                void (*lock)(bool locked));

#endif
