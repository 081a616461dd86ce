package org.stopwell.core.state;

import org.stopwell.core.frame.Trust;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.trace.StateHash;

/**
 * What stands between a stop and the next start: the file must be withdrawn by a distance and stay
 * so for a time, by the reading or by the feed axis. Where neither was known at the stop, it must
 * leave the canal. After a fault that a person has acknowledged, motion must be asked for anew: by
 * the pedal, or by entering the canal again.
 */
final class Rearm {
  private final Withdrawal byReading = new Withdrawal();
  private final Withdrawal byAxis = new Withdrawal();
  private boolean withdrawalOwed;
  private boolean askOwed = true;

  /** The motor has stopped. */
  void owe(boolean placed, int remainingMicrons, boolean axis, int insertionMicrons) {
    byReading.begin(placed, remainingMicrons);
    byAxis.begin(axis, -insertionMicrons);
    withdrawalOwed = true;
  }

  /** A fault was acknowledged: motion must be asked for anew. */
  void oweAsk() {
    askOwed = true;
  }

  /** One step. A file farther out than the curve goes is withdrawn: no more can be measured. */
  void update(
      long nowNs,
      long dtNs,
      PositionSense sense,
      boolean axis,
      int insertionMicrons,
      boolean released,
      boolean reset,
      StageSetup setup) {
    boolean sure = sense.trust() == Trust.SURE && (sense.placed() || sense.far());
    boolean out =
        byReading.update(
            dtNs,
            sure,
            sure ? (int) sense.remainingMicrons(nowNs) : 0,
            sense.far(),
            setup.rearmMicrons,
            setup.rearmNs);
    out |= byAxis.update(dtNs, axis, -insertionMicrons, false, setup.rearmMicrons, setup.rearmNs);
    if (sense.outside()) {
      out |= reset || !(byReading.known() || byAxis.known());
      askOwed = false;
    }
    withdrawalOwed &= !out;
    askOwed &= !released;
  }

  boolean clear() {
    return !withdrawalOwed && !askOwed;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, withdrawalOwed ? 1 : 0, askOwed);
    return byAxis.mixInto(byReading.mixInto(h));
  }

  long mixMode(long hash) {
    long h = StateHash.mix(hash, (withdrawalOwed ? 1 : 0) | (askOwed ? 2 : 0));
    return byAxis.mixMode(byReading.mixMode(h));
  }
}
