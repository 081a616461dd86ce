package org.stopwell.harness.trial;

/**
 * How a trial went that must rest at a depth limit, by the depth axis. Whole numbers only.
 *
 * @param depthMicrons depth below the reference point at rest, µm; 0 unless the file rested there
 *     by the decision to hold at the limit
 * @param overrunMicrons greatest depth of the whole trial less the limit, µm; below 0 the limit was
 *     never reached
 * @param torqueMicroNewtonMetres greatest torque at the file, mean over 50 ms, µN·m
 * @param torqueReactions how often the torque limit was answered on the way, by turning backwards
 *     or alternating
 */
public record DepthReached(
    int depthMicrons, int overrunMicrons, int torqueMicroNewtonMetres, int torqueReactions) {
  /** A trial without a depth limit. */
  public static final DepthReached NONE = new DepthReached(0, 0, 0, 0);

  /** What is judged, without what differs between settings by design. */
  DepthReached blinded() {
    return new DepthReached(depthMicrons, overrunMicrons, 0, 0);
  }
}
