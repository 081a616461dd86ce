package org.stopwell.core.state;

import org.stopwell.core.trace.StateHash;

/** How far and how long a file has been drawn out, on one scale: the reading, or the feed axis. */
final class Withdrawal {
  private boolean known;
  private int deepestMicrons;
  private long withdrawnNs;

  /** The motor has stopped; the height is the distance from the deepest end of the scale. */
  void begin(boolean present, int heightMicrons) {
    known = present;
    deepestMicrons = heightMicrons;
    withdrawnNs = 0;
  }

  /** One step; true when the file was far enough out for long enough. */
  boolean update(
      long dtNs, boolean present, int heightMicrons, boolean farOut, int micronsOwed, long nsOwed) {
    if (!known || !present) {
      withdrawnNs = 0;
      return false;
    }
    deepestMicrons = Math.min(deepestMicrons, heightMicrons);
    boolean out = farOut || heightMicrons - deepestMicrons >= micronsOwed;
    withdrawnNs = out ? Math.min(nsOwed, withdrawnNs + dtNs) : 0;
    return out && withdrawnNs >= nsOwed;
  }

  boolean known() {
    return known;
  }

  long mixInto(long hash) {
    return StateHash.mix(StateHash.mix(hash, deepestMicrons), withdrawnNs, known);
  }

  long mixMode(long hash) {
    return StateHash.mix(hash, known);
  }
}
