package org.stopwell.core.state;

import org.stopwell.core.trace.StateHash;

/**
 * How far and how long a file has been drawn out, on one scale: the reading, or the feed axis. Only
 * what the scale was followed over counts: a drift lifts the deepest place by what it can feign,
 * and a single step counts at most a share of the required withdrawal.
 */
final class Withdrawal {
  /** Beyond the end of the scale this share of the required withdrawal is enough; assumed. */
  private static final double BEYOND_SHARE = 0.5;

  private boolean whole;
  private boolean measuring;
  private boolean out;
  private boolean over;
  private double startMicrons;
  private double deepestMicrons;
  private double heightMicrons;

  /** The second quantity at the deepest place: it must not have fallen since. */
  private double deepestWitness;

  private long withdrawnNs;

  /** The motor has stopped or started; the height is the distance from the deepest end. */
  void begin(boolean present, double height, double witness) {
    whole = present;
    measuring = present;
    out = false;
    over = false;
    startMicrons = height;
    deepestMicrons = height;
    heightMicrons = height;
    deepestWitness = witness;
    withdrawnNs = 0;
  }

  /** The scale has jumped or was lost: later measurements are on another scale. */
  void cut() {
    begin(false, 0, 0);
  }

  /**
   * One step.
   *
   * @param present whether the height may be used
   * @param height distance from the deepest end of the scale, µm
   * @param witness a second quantity that a withdrawal raises; always 0 if there is none
   * @param beyond whether the file is beyond the end of the scale, where the height does not change
   * @param feigned what a drift of the scale can feign, µm/s
   * @param mostStep what counts of a single step of the scale, µm
   */
  void update(
      long dtNs,
      boolean present,
      double height,
      double witness,
      boolean beyond,
      double feigned,
      double mostStep,
      int micronsOwed,
      long nsOwed) {
    deepestMicrons += feigned * dtNs * 1e-9;
    if (!present) {
      withdrawnNs = 0;
      return;
    }
    if (!measuring) {
      measuring = true;
      deepestMicrons = height;
      heightMicrons = height;
      deepestWitness = witness;
    }
    double tooMuch = height - heightMicrons - mostStep;
    if (tooMuch > 0) {
      deepestMicrons += tooMuch;
    }
    if (height < deepestMicrons) {
      deepestMicrons = height;
      deepestWitness = witness;
    }
    heightMicrons = height;
    double owed = beyond ? micronsOwed * BEYOND_SHARE : micronsOwed;
    out = height - deepestMicrons >= owed && witness >= deepestWitness;
    over = whole && beyond && height - startMicrons < owed;
    withdrawnNs = out ? Math.min(nsOwed, withdrawnNs + dtNs) : 0;
  }

  /**
   * Whether the file was last followed out: far enough, on a scale that may be another than at
   * first; or beyond the end of the scale, from so near to it that no more can be measured.
   */
  boolean followedOut() {
    return out || over;
  }

  /** Whether the scale is that of the beginning. */
  boolean whole() {
    return whole;
  }

  /** Whether the file was far enough out for long enough, on one scale from the first. */
  boolean pays(long nsOwed) {
    return whole && out && withdrawnNs >= nsOwed;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(StateHash.mix(hash, deepestMicrons), heightMicrons);
    h = StateHash.mix(StateHash.mix(h, startMicrons), deepestWitness);
    return StateHash.mix(
        h, withdrawnNs << 3 | (whole ? 1 : 0) | (out ? 2 : 0) | (over ? 4 : 0), measuring);
  }
}
