package org.stopwell.rig.adversary;

import java.util.Locale;

/**
 * One disturbance or fault, for a time.
 *
 * @param kind what happens
 * @param afterStop whether its time counts from the first stop of the motor, not from the beginning
 * @param fromMs when it begins, ms
 * @param forMs how long it lasts, ms
 * @param size how much, in the unit of its kind
 */
record Trouble(Kind kind, boolean afterStop, int fromMs, int forMs, double size) {
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%s %d ms after the %s, for %d ms: %.3f %s",
        kind,
        fromMs,
        afterStop ? "first stop" : "beginning",
        forMs,
        size,
        kind.unit);
  }
}
