package org.stopwell.core.sense;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.trace.StateHash;

/**
 * Trust in the reading, from two things. Whether the signal is sound: each cause has its own
 * detector; soundness falls at once to what the worst of them leaves and rises one step at a time,
 * slowly. And whether the stated bound is within the tolerance: without that a sound reading is
 * doubtful. It falls at once and rises as slowly, so that a bound near the tolerance does not
 * flutter.
 */
final class TrustJudge {
  private final Detector stale;
  private final Detector open;
  private final Detector railed;
  private final Detector unwetted;
  private final Detector frozen;
  private final Detector leaking;
  private final Detector lostByLeak;
  private final Detector lostUnlike;
  private final Detector lost;
  private final Detector vague;
  private final Detector jumpy;
  private final Detector[] worstFirst;
  private final long riseNs;

  private Trust sound = Trust.NONE;
  private Cause cause = Cause.STALE;
  private long goodNs;

  /** The bound has been within the tolerance for long enough. */
  private boolean narrow;

  private long narrowNs;
  private boolean far;

  TrustJudge(ParameterValues guard) {
    stale = new Detector(Cause.STALE, Trust.NONE, 0);
    open = new Detector(Cause.OPEN, Trust.NONE, guard.get(GuardParameters.OPEN));
    railed = new Detector(Cause.RAILED, Trust.NONE, guard.get(GuardParameters.RAILED));
    unwetted = new Detector(Cause.UNWETTED, Trust.NONE, guard.get(GuardParameters.UNWETTED));
    frozen = new Detector(Cause.FROZEN, Trust.NONE, guard.get(GuardParameters.FROZEN));
    leaking = new Detector(Cause.LEAKING, Trust.DOUBTFUL, guard.get(GuardParameters.LEAKING));
    jumpy = new Detector(Cause.JUMPY, Trust.DOUBTFUL, guard.get(GuardParameters.JUMPY));
    lostByLeak = new Detector(Cause.LEAKING, Trust.NONE, guard.get(GuardParameters.LEAKING));
    lostUnlike = new Detector(Cause.VAGUE, Trust.NONE, guard.get(GuardParameters.VAGUE));
    lost = new Detector(Cause.WIDE, Trust.NONE, guard.get(GuardParameters.VAGUE));
    vague = new Detector(Cause.VAGUE, Trust.DOUBTFUL, guard.get(GuardParameters.VAGUE));
    worstFirst =
        new Detector[] {
          stale, open, railed, unwetted, frozen, lostByLeak, lostUnlike, lost, leaking, vague, jumpy
        };
    riseNs = guard.get(GuardParameters.TRUST_RISE);
  }

  void update(long dtNs, Measurement last, Signs signs) {
    boolean tripped = stale.budget.update(dtNs, signs.stale);
    tripped |= open.budget.update(dtNs, last.open);
    tripped |= railed.budget.update(dtNs, signs.railed);
    tripped |= unwetted.budget.update(dtNs, last.unwetted);
    tripped |= frozen.budget.update(dtNs, signs.frozen);
    tripped |= leaking.budget.update(dtNs, last.leaking);
    tripped |= lostByLeak.budget.update(dtNs, last.hopeless && last.leaking);
    tripped |= lostUnlike.budget.update(dtNs, last.hopeless && last.vague && !last.leaking);
    tripped |= lost.budget.update(dtNs, last.hopeless && !last.vague && !last.leaking);
    tripped |= vague.budget.update(dtNs, last.vague);
    tripped |= jumpy.budget.update(dtNs, signs.jumpy);

    far = signs.far;
    if (signs.wide) {
      narrow = false;
      narrowNs = 0;
    } else if (!narrow) {
      narrowNs = signs.jumpy ? 0 : narrowNs + dtNs;
      narrow = narrowNs >= riseNs;
    }

    Trust left = Trust.SURE;
    Cause why = Cause.NO_CAUSE;
    if (tripped) {
      for (Detector detector : worstFirst) {
        if (detector.budget.tripped() && detector.left.compareTo(left) < 0) {
          left = detector.left;
          why = detector.cause;
        }
      }
    }
    if (left.compareTo(sound) <= 0) {
      sound = left;
      cause = why;
      goodNs = 0;
      return;
    }
    // a sample that has jumped does not determine the distance, so it adds no certainty
    goodNs = signs.jumpy ? 0 : goodNs + dtNs;
    if (goodNs >= riseNs) {
      goodNs = 0;
      sound = sound == Trust.NONE ? Trust.DOUBTFUL : Trust.SURE;
      cause = sound == Trust.SURE ? Cause.NO_CAUSE : cause;
    }
  }

  boolean isJumpy() {
    return jumpy.budget.tripped();
  }

  /** No detector has tripped, and none has for long enough. The bound does not count. */
  boolean sound() {
    return sound == Trust.SURE;
  }

  private boolean wide() {
    return sound() && (far || !narrow);
  }

  Trust trust() {
    return wide() ? Trust.DOUBTFUL : sound;
  }

  Cause cause() {
    return wide() ? Cause.WIDE : cause;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, sound.code() << 8 | cause.code());
    h = StateHash.mix(h, goodNs);
    h = StateHash.mix(h, narrowNs << 1 | (far ? 1 : 0), narrow);
    for (Detector detector : worstFirst) {
      h = detector.budget.mixInto(h);
    }
    return h;
  }

  long mixMode(long hash) {
    long h = StateHash.mix(hash, sound.code() << 8 | cause.code(), narrow);
    for (Detector detector : worstFirst) {
      h = StateHash.mix(h, detector.budget.tripped());
    }
    return h;
  }
}
