package org.stopwell.rig.device.twin;

import java.util.List;

/**
 * What is inside a simulated device with a curve of its own. All values are assumed.
 *
 * @param hertz frequencies at which it senses, ascending
 * @param sampleMs period of its samples, ms
 * @param delayMs age of a sample when it arrives, ms
 * @param filterMs time constant of its filter, ms
 * @param decisionMs time from the decision to the act, ms
 * @param targetMicrons distance on its own curve at which it decides, µm
 * @param speedMilliRpm speed of the file, milli-rpm
 * @param easeMicrons distance before the target at which it slows down, µm; 0: never
 * @param easedShare share of the speed that is left then
 * @param brakes whether the motor brakes at rest; else it coasts
 * @param reverseMs for how long it turns back at the target, ms; 0: it stops
 */
record Traits(
    List<Integer> hertz,
    int sampleMs,
    int delayMs,
    double filterMs,
    double decisionMs,
    double targetMicrons,
    int speedMilliRpm,
    int easeMicrons,
    double easedShare,
    boolean brakes,
    int reverseMs) {
  /** Copies the list. */
  Traits {
    hertz = List.copyOf(hertz);
  }
}
