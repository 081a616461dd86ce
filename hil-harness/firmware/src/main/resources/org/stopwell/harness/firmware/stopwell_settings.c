/* The settings, the curve and the weights, as the Java controller made them into a controller at
 * rest: generated. What a step changes is in stopwell_ram, all else is constant.
 *
@TABLE@ */
#include "stopwell.h"

#include "stopwell_model.h"

void *memcpy(void *to, const void *from, size_t bytes);

const uint64_t stopwell_settings_fingerprint = @SETTINGS@;
const uint64_t stopwell_weights_fingerprint = @WEIGHTS@;
const uint64_t stopwell_build_fingerprint = @BUILD@;

const int32_t stopwell_frequency_count = @COUNT@;
const int32_t stopwell_frequency_hz[] = {@HERTZ@};

@DATA@
void *const stopwell_controller = @CONTROLLER@;
void *const stopwell_frame_in = @IN@;
void *const stopwell_frame_out = @OUT@;
@CANAL@
void stopwell_init(void) { memcpy(&stopwell_ram, &stopwell_power_on, sizeof stopwell_ram); }
