package org.stopwell.harness.trial;

import java.util.Arrays;
import org.stopwell.rig.bench.Truth;

/**
 * What the split of a stop error needs, kept while a trial runs: where the file was in the last
 * second, what the controller read when it decided, and where the file was when the motor answered.
 * So a stop is split without a trace.
 */
final class StopTrail {
  /** Places are kept this long, ns: longer than any sample may be old. */
  private static final long BEFORE_NS = 1_000_000_000;

  /** The motor has reacted when its speed is below this share. */
  private static final double ANSWERED = 0.9;

  // A ring of the steps of the last second; its length is a power of two.
  private long[] timeNs = new long[2048];
  private int[] place = new int[timeNs.length];
  private long first;
  private long next;

  private boolean decided;
  private long decidedNs;
  private int atSampleMicrons;
  private int atDecisionMicrons;
  private boolean read;
  private int rawMicrons;
  private int speedMilliRpm;
  private boolean answers;
  private int answeredMicrons;

  /** One step. */
  void add(long nowNs, Truth truth) {
    while (first < next && timeNs[slot(first)] < nowNs - BEFORE_NS) {
      first++;
    }
    if (next - first == timeNs.length) {
      grow();
    }
    timeNs[slot(next)] = nowNs;
    place[slot(next)] = truth.remainingMicrons;
    next++;
    if (answers) {
      answeredMicrons = truth.remainingMicrons;
      answers = Math.abs(truth.speedMilliRpm) >= ANSWERED * speedMilliRpm;
    }
  }

  private int slot(long step) {
    return (int) step & (timeNs.length - 1);
  }

  private void grow() {
    long[] times = new long[2 * timeNs.length];
    int[] places = new int[times.length];
    for (long step = first; step < next; step++) {
      int to = (int) step & (times.length - 1);
      times[to] = timeNs[slot(step)];
      places[to] = place[slot(step)];
    }
    timeNs = times;
    place = places;
  }

  /**
   * The step added last has decided to stop.
   *
   * @param nowNs time of the step, ns
   * @param truth what was really so
   * @param sampleNs time of the newest sample, ns
   * @param unfilteredMicrons what the sensing policy made of that sample, µm; no number when it
   *     made nothing, and then the whole error of the reading counts as sense
   * @param unfilteredNs when the file was there, ns
   */
  void decide(long nowNs, Truth truth, long sampleNs, double unfilteredMicrons, long unfilteredNs) {
    decided = true;
    decidedNs = nowNs;
    read = !Double.isNaN(unfilteredMicrons);
    rawMicrons = read ? (int) Math.round(unfilteredMicrons) : 0;
    atSampleMicrons = at(read ? unfilteredNs : sampleNs);
    atDecisionMicrons = truth.remainingMicrons;
    speedMilliRpm = Math.abs(truth.speedMilliRpm);
    answers = speedMilliRpm > 0;
    answeredMicrons = truth.remainingMicrons;
  }

  /** The place at a time, on a straight line between two steps; the ends count beyond them. */
  private int at(long whenNs) {
    int count = (int) (next - first);
    long[] times = new long[count];
    for (int i = 0; i < count; i++) {
      times[i] = timeNs[slot(first + i)];
    }
    int found = Arrays.binarySearch(times, whenNs);
    if (found >= 0) {
      return place[slot(first + found)];
    }
    int above = -found - 1;
    if (above == 0) {
      return place[slot(first)];
    }
    int below = place[slot(first + above - 1)];
    if (above == count) {
      return below;
    }
    double share = (double) (whenNs - times[above - 1]) / (times[above] - times[above - 1]);
    return (int) Math.round(below + share * (place[slot(first + above)] - below));
  }

  /**
   * Splits the error of a stop.
   *
   * @param result the result of the trial
   * @return the chain, {@link ErrorChain#NONE} unless the trial stopped by the last decision
   */
  ErrorChain chain(TrialResult result) {
    if (!(result.stopped() && decided && decidedNs == result.stopTimeNs())) {
      return ErrorChain.NONE;
    }
    int raw = read ? rawMicrons : result.readingMicrons();
    int standoff = result.remainingMicrons() - result.stopErrorMicrons();
    return new ErrorChain(
        atSampleMicrons - raw,
        raw - result.readingMicrons(),
        result.readingMicrons() - standoff,
        atDecisionMicrons - atSampleMicrons,
        answeredMicrons - atDecisionMicrons,
        result.remainingMicrons() - answeredMicrons);
  }
}
