package org.stopwell.core.sense;

import org.stopwell.core.trace.StateHash;

/**
 * Whether the file is in the canal, from the signal alone. Entering needs several samples in a row
 * and a time; leaving needs a time; between the two thresholds nothing changes.
 */
final class CanalGate {
  private final int enterSamples;
  private final long enterDwellNs;
  private final long leaveDwellNs;

  private int samplesInside;
  private long insideNs;
  private long outsideNs;
  private boolean inside;
  private boolean outside;

  CanalGate(int enterSamples, long enterDwellNs, long leaveDwellNs) {
    this.enterSamples = enterSamples;
    this.enterDwellNs = enterDwellNs;
    this.leaveDwellNs = leaveDwellNs;
  }

  void update(long dtNs, boolean newSample, boolean saysInside, boolean saysOutside) {
    if (newSample && saysInside) {
      samplesInside = Math.min(enterSamples, samplesInside + 1);
    }
    if (!saysInside) {
      samplesInside = 0;
    }
    insideNs = samplesInside > 0 ? Math.min(enterDwellNs, insideNs + dtNs) : 0;
    outsideNs = saysOutside ? Math.min(leaveDwellNs, outsideNs + dtNs) : 0;
    if (samplesInside >= enterSamples && insideNs >= enterDwellNs) {
      inside = true;
      outside = false;
    }
    if (saysOutside && outsideNs >= leaveDwellNs) {
      inside = false;
      outside = true;
    }
  }

  /** Proven to be in the canal. */
  boolean inside() {
    return inside;
  }

  /** Proven to be out of the canal; before the first proof neither is true. */
  boolean outside() {
    return outside;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, samplesInside);
    h = StateHash.mix(h, insideNs, inside);
    return StateHash.mix(h, outsideNs, outside);
  }

  long mixMode(long hash) {
    return StateHash.mix(hash, (inside ? 1 : 0) | (outside ? 2 : 0));
  }
}
