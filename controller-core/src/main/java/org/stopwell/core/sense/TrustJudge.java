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
  private final Detector jumpy;

  /** In the order of the bits of {@link #conditions}. */
  private final Detector[] worstFirst;

  private final long riseNs;

  // Budgets rest nearly always, whole or spent. What a step under the same conditions would leave
  // as
  // it is, it does not touch: 6 % of the time of a step.
  private int conditions;
  private boolean settled = true;
  private Trust left = Trust.SURE;
  private Cause why = Cause.NO_CAUSE;

  private Trust sound = Trust.NONE;
  private Cause cause = Cause.STALE;
  private long goodNs;

  /** The bound has been within the tolerance for long enough. */
  private boolean narrow;

  private long narrowNs;
  private boolean far;

  TrustJudge(ParameterValues guard) {
    jumpy = new Detector(Cause.JUMPY, Trust.DOUBTFUL, guard.get(GuardParameters.JUMPY));
    worstFirst =
        new Detector[] {
          new Detector(Cause.STALE, Trust.NONE, 0),
          new Detector(Cause.OPEN, Trust.NONE, guard.get(GuardParameters.OPEN)),
          new Detector(Cause.RAILED, Trust.NONE, guard.get(GuardParameters.RAILED)),
          new Detector(Cause.UNWETTED, Trust.NONE, guard.get(GuardParameters.UNWETTED)),
          new Detector(Cause.FROZEN, Trust.NONE, guard.get(GuardParameters.FROZEN)),
          new Detector(Cause.LEAKING, Trust.NONE, guard.get(GuardParameters.LEAKING)),
          new Detector(Cause.VAGUE, Trust.NONE, guard.get(GuardParameters.VAGUE)),
          new Detector(Cause.WIDE, Trust.NONE, guard.get(GuardParameters.VAGUE)),
          new Detector(Cause.LEAKING, Trust.DOUBTFUL, guard.get(GuardParameters.LEAKING)),
          new Detector(Cause.VAGUE, Trust.DOUBTFUL, guard.get(GuardParameters.VAGUE)),
          jumpy
        };
    riseNs = guard.get(GuardParameters.TRUST_RISE);
  }

  void update(long dtNs, Measurement last, Signs signs) {
    int now = conditions(last, signs);
    if (now != conditions || !settled) {
      spend(dtNs, now);
    }

    far = signs.far;
    if (signs.wide) {
      narrow = false;
      narrowNs = 0;
    } else if (!narrow) {
      narrowNs = signs.jumpy ? 0 : narrowNs + dtNs;
      narrow = narrowNs >= riseNs;
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

  /** The conditions of the detectors, worst first: one bit each. */
  private static int conditions(Measurement last, Signs signs) {
    return (signs.stale ? 1 : 0)
        | (last.open ? 2 : 0)
        | (signs.railed ? 4 : 0)
        | (last.unwetted ? 8 : 0)
        | (signs.frozen ? 16 : 0)
        | (last.hopeless && last.leaking ? 32 : 0)
        | (last.hopeless && last.vague && !last.leaking ? 64 : 0)
        | (last.hopeless && !last.vague && !last.leaking ? 128 : 0)
        | (last.leaking ? 256 : 0)
        | (last.vague ? 512 : 0)
        | (signs.jumpy ? 1024 : 0);
  }

  /** Spends or gives back what each condition costs, and finds the worst that is spent. */
  private void spend(long dtNs, int now) {
    conditions = now;
    settled = true;
    left = Trust.SURE;
    why = Cause.NO_CAUSE;
    for (int i = 0; i < worstFirst.length; i++) {
      Detector detector = worstFirst[i];
      boolean present = (now >> i & 1) != 0;
      boolean tripped = detector.budget.update(dtNs, present);
      settled &= detector.budget.isSettled(present);
      if (tripped && detector.left.compareTo(left) < 0) {
        left = detector.left;
        why = detector.cause;
      }
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
