package org.stopwell.core.guard;

import org.stopwell.core.frame.Reason;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.trace.StateHash;

/** Counts the turns of the file in the canal: each is one cycle of bending in a curve. */
public final class FileLife {
  /** One turn in the unit of milli-rpm times nanoseconds: 1000 · 60 · 10⁹. */
  private static final long TURN = 60_000_000_000_000L;

  private final long limit;
  private long turns;
  private long part;

  /**
   * A new file.
   *
   * @param file checked values of the section {@code file}
   */
  public FileLife(ParameterValues file) {
    limit = file.get(FileParameters.TURNS_LIMIT);
  }

  /**
   * One step.
   *
   * @param dtNs time since the step before, ns
   * @param speedMilliRpm measured speed in the canal, 0 out of it, milli-rpm
   * @param arbiter asked when the file has turned as often as it may
   */
  public void update(long dtNs, int speedMilliRpm, Arbiter arbiter) {
    part += Math.abs((long) speedMilliRpm) * dtNs;
    turns += part / TURN;
    part %= TURN;
    if (limit > 0 && turns >= limit) {
      arbiter.ask(Reaction.HOLD, Reason.FILE_SPENT);
    }
  }

  /**
   * Turns so far.
   *
   * @return whole turns
   */
  public long turns() {
    return turns;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    return StateHash.mix(StateHash.mix(hash, turns), part);
  }
}
