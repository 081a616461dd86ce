/* Inside of the controller: generated, shared by stopwell.c and stopwell_settings.c alone. */
#ifndef STOPWELL_MODEL_H
#define STOPWELL_MODEL_H

#include <stddef.h>
#include <stdint.h>

/* An array is a pointer to its first element; its length stands eight bytes before. */
#define LENGTH(array) (((const int32_t *)(array))[-2])

@STRUCTURES@
@CONSTANTS@
/* The controller and its two frames. */
extern void *const stopwell_controller;
extern void *const stopwell_frame_in;
extern void *const stopwell_frame_out;

/* Of a controller that learns: a learned canal, and what has learned it. */
extern void *const stopwell_frame_canal;
extern void *const stopwell_estimate;

#endif
