package org.stopwell.core.state;

import org.stopwell.core.trace.StateHash;

/**
 * What stands between a stop and the next start: the file must be withdrawn by a distance and stay
 * so for a time. Where no distance was known at the stop, it must leave the canal. After a fault
 * that a person has acknowledged, motion must be asked for anew: by the pedal, or by entering the
 * canal again.
 */
final class Rearm {
  private boolean withdrawalOwed;
  private boolean deepestKnown;
  private int deepestMicrons;
  private long withdrawnNs;
  private boolean askOwed = true;

  /** The motor has stopped where nothing is known. */
  void owe() {
    withdrawalOwed = true;
    deepestKnown = false;
    withdrawnNs = 0;
  }

  /** The motor has stopped at a distance. */
  void owe(int remainingMicrons) {
    boolean deeper = withdrawalOwed && deepestKnown && deepestMicrons < remainingMicrons;
    withdrawalOwed = true;
    deepestMicrons = deeper ? deepestMicrons : remainingMicrons;
    deepestKnown = true;
    withdrawnNs = 0;
  }

  /** A fault was acknowledged: motion must be asked for anew. */
  void oweAsk() {
    askOwed = true;
  }

  /**
   * Notes a distance that can be believed. A file farther than the curve goes counts as withdrawn:
   * more than that cannot be measured.
   */
  void place(long dtNs, int remainingMicrons, boolean far, int rearmMicrons, long rearmNs) {
    if (!withdrawalOwed || !deepestKnown) {
      return;
    }
    deepestMicrons = Math.min(deepestMicrons, remainingMicrons);
    if (far || remainingMicrons - deepestMicrons >= rearmMicrons) {
      withdrawnNs = Math.min(rearmNs, withdrawnNs + dtNs);
      withdrawalOwed = withdrawnNs < rearmNs;
    } else {
      withdrawnNs = 0;
    }
  }

  /** Notes a step in which no distance can be believed. */
  void lose() {
    withdrawnNs = 0;
  }

  /** The file is out of the canal. */
  void leave() {
    withdrawalOwed &= deepestKnown;
    askOwed = false;
  }

  /** The operator does not ask for motion. */
  void release() {
    askOwed = false;
  }

  /** A person acknowledges while the file is out of the canal. */
  void forgive() {
    withdrawalOwed = false;
  }

  boolean withdrawalOwed() {
    return withdrawalOwed;
  }

  boolean askOwed() {
    return askOwed;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, withdrawalOwed);
    h = StateHash.mix(h, deepestKnown);
    h = StateHash.mix(h, deepestMicrons);
    h = StateHash.mix(h, withdrawnNs);
    return StateHash.mix(h, askOwed);
  }
}
