package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.trace.StateHash;

/** The raw values of the newest sample, one channel each: bit for bit what can change. */
final class Channels {
  private final long[] raw = new long[ControllerInput.MAX_FREQUENCIES];
  private int count;
  private boolean repeat;

  /**
   * Keeps the raw values and compares them with those of the sample before. Each channel is judged:
   * a frozen one beside a live one gives a plausible but wrong distance.
   */
  void keep(ControllerInput in) {
    int now = in.positionKind == PositionKind.IMPEDANCE ? in.frequencyCount : 0;
    boolean same = false;
    for (int i = 0; i < now; i++) {
      long value = (long) in.zRealMilliOhms[i] << 32 | (in.zImagMilliOhms[i] & 0xffffffffL);
      same |= i < count && value == raw[i];
      raw[i] = value;
    }
    count = now;
    repeat = same;
  }

  /** Whether a channel of the newest sample holds the raw values of the sample before. */
  boolean repeat() {
    return repeat;
  }

  /** Forgets the sample. */
  void forget() {
    count = 0;
    repeat = false;
  }

  /** Folds in the raw values. */
  long mixInto(long hash) {
    long h = hash;
    for (int i = 0; i < count; i++) {
      h = StateHash.mix(h, raw[i]);
    }
    return h;
  }
}
