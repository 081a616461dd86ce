package org.stopwell.core.sense;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.trace.StateHash;

/**
 * Trust in the reading. Each cause has its own detector; trust falls at once to what the worst of
 * them leaves and rises one step at a time, slowly.
 */
final class TrustJudge {
  private final Detector stale;
  private final Detector open;
  private final Detector railed;
  private final Detector unwetted;
  private final Detector frozen;
  private final Detector leaking;
  private final Detector lostByLeak;
  private final Detector lost;
  private final Detector vague;
  private final Detector jumpy;
  private final Detector[] worstFirst;
  private final long riseNs;

  private Trust trust = Trust.NONE;
  private Cause cause = Cause.STALE;
  private long goodNs;

  TrustJudge(ParameterValues guard) {
    stale = new Detector(Cause.STALE, Trust.NONE, 0);
    open = new Detector(Cause.OPEN, Trust.NONE, guard.get(GuardParameters.OPEN));
    railed = new Detector(Cause.RAILED, Trust.NONE, guard.get(GuardParameters.RAILED));
    unwetted = new Detector(Cause.UNWETTED, Trust.NONE, guard.get(GuardParameters.UNWETTED));
    frozen = new Detector(Cause.FROZEN, Trust.NONE, guard.get(GuardParameters.FROZEN));
    leaking = new Detector(Cause.LEAKING, Trust.DOUBTFUL, guard.get(GuardParameters.LEAKING));
    jumpy = new Detector(Cause.JUMPY, Trust.DOUBTFUL, guard.get(GuardParameters.JUMPY));
    lostByLeak = new Detector(Cause.LEAKING, Trust.NONE, guard.get(GuardParameters.LEAKING));
    lost = new Detector(Cause.VAGUE, Trust.NONE, guard.get(GuardParameters.VAGUE));
    vague = new Detector(Cause.VAGUE, Trust.DOUBTFUL, guard.get(GuardParameters.VAGUE));
    worstFirst =
        new Detector[] {
          stale, open, railed, unwetted, frozen, lostByLeak, lost, leaking, vague, jumpy
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
    tripped |= lost.budget.update(dtNs, last.hopeless && !last.leaking);
    tripped |= vague.budget.update(dtNs, last.vague);
    tripped |= jumpy.budget.update(dtNs, signs.jumpy);

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
    if (left.compareTo(trust) <= 0) {
      trust = left;
      cause = why;
      goodNs = 0;
      return;
    }
    // a sample that has jumped does not determine the distance, so it adds no certainty
    goodNs = signs.jumpy ? 0 : goodNs + dtNs;
    if (goodNs >= riseNs) {
      goodNs = 0;
      trust = trust == Trust.NONE ? Trust.DOUBTFUL : Trust.SURE;
      cause = trust == Trust.SURE ? Cause.NO_CAUSE : cause;
    }
  }

  boolean isJumpy() {
    return jumpy.budget.tripped();
  }

  Trust trust() {
    return trust;
  }

  Cause cause() {
    return cause;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, trust.code() << 8 | cause.code());
    h = StateHash.mix(h, goodNs);
    for (Detector detector : worstFirst) {
      h = detector.budget.mixInto(h);
    }
    return h;
  }

  long mixMode(long hash) {
    long h = StateHash.mix(hash, trust.code() << 8 | cause.code());
    for (Detector detector : worstFirst) {
      h = StateHash.mix(h, detector.budget.tripped());
    }
    return h;
  }
}
