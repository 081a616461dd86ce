package org.stopwell.harness.trial;

import java.util.Arrays;

/**
 * Where one stop error comes from: signed shares that add up to it exactly. Above 0 a share stops
 * the file early, below 0 late. With R the true remaining distance, the shares telescope from the
 * standoff to the place of rest.
 *
 * @param senseMicrons truth minus the unfiltered reading, both at the time to which that reading
 *     belongs: that of the sample that decided, less the delay of a policy that smooths, µm
 * @param filterMicrons unfiltered minus filtered reading, µm
 * @param decideMicrons filtered reading minus standoff when it was decided to stop: the lead that
 *     the controller takes, µm
 * @param linkMicrons R at the decision minus R at that time: how far the file moved while the
 *     sample was on its way, µm
 * @param actuateMicrons R when the motor has lost a tenth of its speed minus R at the decision, µm
 * @param coastMicrons R at rest minus R at that moment: coasting, and the hand that follows, µm
 */
public record ErrorChain(
    int senseMicrons,
    int filterMicrons,
    int decideMicrons,
    int linkMicrons,
    int actuateMicrons,
    int coastMicrons) {
  /** The chain of a trial that did not stop, or whose stop was not recorded. */
  public static final ErrorChain NONE = new ErrorChain(0, 0, 0, 0, 0, 0);

  /** Steps this long before the decision are looked at: longer than any sample may be old. */
  private static final long BEFORE_NS = 1_000_000_000;

  /** The motor has reacted when its speed is below this share. */
  private static final double ANSWERED = 0.9;

  /**
   * Splits the error of a recorded stop.
   *
   * @param result the result of the trial
   * @param trace its trace
   * @param unfilteredMicrons what the sensing policy made of the sample that decided, µm; no number
   *     when it made nothing, and then the whole error of the reading counts as sense
   * @param unfilteredNs when the file was there, ns
   * @return the chain, {@link #NONE} unless the trial stopped and its decision is in the trace
   */
  public static ErrorChain of(
      TrialResult result, byte[] trace, double unfilteredMicrons, long unfilteredNs) {
    if (!result.stopped()) {
      return NONE;
    }
    TraceReader reader = new TraceReader(trace);
    reader.seek(result.stopTimeNs() - BEFORE_NS);
    long[] timeNs = new long[0];
    int[] remaining = new int[0];
    int count = 0;
    while (reader.next() && reader.nowNs <= result.stopTimeNs()) {
      if (count == timeNs.length) {
        timeNs = Arrays.copyOf(timeNs, 2 * count + 1024);
        remaining = Arrays.copyOf(remaining, timeNs.length);
      }
      timeNs[count] = reader.nowNs;
      remaining[count++] = reader.truth.remainingMicrons;
      if (reader.nowNs == result.stopTimeNs()) {
        boolean read = !Double.isNaN(unfilteredMicrons);
        int atSample =
            at(
                Arrays.copyOf(timeNs, count),
                Arrays.copyOf(remaining, count),
                read ? unfilteredNs : reader.in.sampleTimeNs);
        int raw = read ? (int) Math.round(unfilteredMicrons) : result.readingMicrons();
        int atDecision = reader.truth.remainingMicrons;
        int answered = whenAnswered(reader, Math.abs(reader.truth.speedMilliRpm));
        int standoff = result.remainingMicrons() - result.stopErrorMicrons();
        return new ErrorChain(
            atSample - raw,
            raw - result.readingMicrons(),
            result.readingMicrons() - standoff,
            atDecision - atSample,
            answered - atDecision,
            result.remainingMicrons() - answered);
      }
    }
    return NONE;
  }

  /**
   * The whole error.
   *
   * @return sum of the shares: the stop error, µm
   */
  public int totalMicrons() {
    return senseMicrons
        + filterMicrons
        + decideMicrons
        + linkMicrons
        + actuateMicrons
        + coastMicrons;
  }

  /** The value at a time, on a straight line between two steps. */
  private static int at(long[] timeNs, int[] value, long whenNs) {
    int found = Arrays.binarySearch(timeNs, whenNs);
    if (found >= 0) {
      return value[found];
    }
    int next = -found - 1;
    if (next == 0) {
      return value[0];
    }
    if (next == timeNs.length) {
      return value[next - 1];
    }
    double share = (double) (whenNs - timeNs[next - 1]) / (timeNs[next] - timeNs[next - 1]);
    return (int) Math.round(value[next - 1] + share * (value[next] - value[next - 1]));
  }

  /** True remaining distance at the first step that finds the motor slower; the last if none. */
  private static int whenAnswered(TraceReader reader, int speedMilliRpm) {
    int remaining = reader.truth.remainingMicrons;
    while (Math.abs(reader.truth.speedMilliRpm) >= ANSWERED * speedMilliRpm
        && speedMilliRpm > 0
        && reader.next()) {
      remaining = reader.truth.remainingMicrons;
    }
    return remaining;
  }
}
