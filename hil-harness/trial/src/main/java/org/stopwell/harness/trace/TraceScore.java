package org.stopwell.harness.trace;

import java.util.OptionalInt;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Trust;

/**
 * What the controller did in one trace, against the truth of it.
 *
 * @param approach the trace
 * @param outcome how it ended
 * @param driven whether the motor was driven at all
 * @param endNs time of the decision that ended it, from the first row, ns; of the last row without
 *     one
 * @param truthMicrons true distance then, µm
 * @param readingMicrons reading then, µm; none without a distance
 * @param restMicrons true distance where the file would have come to rest, µm
 * @param standoffMicrons set distance short of the foramen, µm
 * @param toleranceMicrons tolerance of the stage, µm
 * @param past whether the file was past the foramen before it would have come to rest
 * @param trust trust then
 * @param cause why it was not sure
 * @param reason why the controller ended it
 * @param boundMicrons stated bound of the reading then, µm; 0: none stated
 * @param sampleNs median time between two samples, ns
 * @param travelMicrons median travel between two samples near the foramen, µm
 */
public record TraceScore(
    TracedApproach approach,
    Outcome outcome,
    boolean driven,
    long endNs,
    int truthMicrons,
    OptionalInt readingMicrons,
    int restMicrons,
    int standoffMicrons,
    int toleranceMicrons,
    boolean past,
    Trust trust,
    Cause cause,
    Reason reason,
    int boundMicrons,
    long sampleNs,
    int travelMicrons) {

  /** How an approach ended. */
  public enum Outcome {
    /** The controller decided that the file is at the standoff. */
    STOPPED,
    /** The controller stopped for another reason, or never started. */
    REFUSED,
    /** The trace ended before the controller decided anything. */
    NO_STOP
  }

  /**
   * Whether the controller stopped at what it took for the standoff.
   *
   * @return false after a refusal
   */
  public boolean stopped() {
    return outcome == Outcome.STOPPED;
  }

  /**
   * True distance at rest beyond the standoff.
   *
   * @return µm, negative: too deep; of no meaning without a stop
   */
  public int errorMicrons() {
    return restMicrons - standoffMicrons;
  }

  /**
   * Whether the stop is as near to the standoff as a multiple of the tolerance.
   *
   * @param times the multiple
   * @return false without a stop
   */
  public boolean within(int times) {
    return stopped() && Math.abs((long) errorMicrons()) <= (long) times * toleranceMicrons;
  }

  /**
   * Whether the controller was sure as it stopped.
   *
   * @return false without a stop
   */
  public boolean sure() {
    return stopped() && trust == Trust.SURE;
  }

  /**
   * Whether a bound was stated as the controller stopped.
   *
   * @return false without a stop
   */
  public boolean bounded() {
    return stopped() && boundMicrons > 0 && readingMicrons.isPresent();
  }

  /**
   * Error of the reading at the decision.
   *
   * @return µm, negative: the file was farther than read; 0 without a reading
   */
  public int readingErrorMicrons() {
    return readingMicrons.isPresent() ? readingMicrons.getAsInt() - truthMicrons : 0;
  }

  /**
   * Whether the stated bound covers the error of the reading.
   *
   * @return false where none was stated
   */
  public boolean covered() {
    return bounded() && Math.abs((long) readingErrorMicrons()) <= boundMicrons;
  }
}
