package org.stopwell.core.policy;

/**
 * A stopping policy: where the file will rest when the stop is decided now. The controller stops as
 * soon as that is at or beyond the standoff. It allocates nothing and never throws.
 */
@FunctionalInterface
public interface Stopping {
  /**
   * Remaining distance at rest.
   *
   * @param remainingMicrons remaining distance now, signal age included, µm
   * @param closingMicronsPerSecond mean speed towards the foramen until then, negative when
   *     withdrawn, µm/s
   * @param coastNs time from the decision to rest, as set or learned, ns
   * @return µm; more than {@code remainingMicrons} is taken as that
   */
  double atRest(double remainingMicrons, double closingMicronsPerSecond, long coastNs);
}
