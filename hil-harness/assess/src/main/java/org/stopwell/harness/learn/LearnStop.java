package org.stopwell.harness.learn;

/**
 * One decision for a picture.
 *
 * @param tooth which tooth
 * @param fluid what filled it
 * @param file the trace
 * @param stopped whether a stop was decided
 * @param truthMm the measured distance at the decision
 * @param estimateMm the estimate there
 */
public record LearnStop(
    String tooth, String fluid, String file, boolean stopped, double truthMm, double estimateMm) {
  static LearnStop of(DecidingReading d) {
    return new LearnStop(
        d.approach().tooth,
        d.approach().fluid,
        d.approach().file,
        d.stopped(),
        d.truthMm(),
        d.estimateMm());
  }

  /**
   * What the stop is off by; positive is short of the standoff.
   *
   * @return mm
   */
  public double offMm() {
    return truthMm - DecidingReading.STANDOFF_MM;
  }
}
