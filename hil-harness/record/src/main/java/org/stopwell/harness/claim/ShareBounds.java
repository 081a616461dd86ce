package org.stopwell.harness.claim;

import java.util.Collection;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.Proportion;

/**
 * One-sided bounds of a share, each with the same confidence.
 *
 * @param low with this confidence the true share is not below it
 * @param high with this confidence the true share is not above it
 */
record ShareBounds(double low, double high) {
  /** Exact bounds of independent trials, at least one. */
  static ShareBounds of(Proportion share, double confidence) {
    return new ShareBounds(
        share.lowerBound(confidence).orElseThrow(), share.upperBound(confidence).orElseThrow());
  }

  /** Bounds of the mean share of canals, at least one: each canal counts as one number. */
  static ShareBounds ofCanals(Collection<Proportion> canals, double confidence) {
    double[] shares = BoundedMean.shares(canals);
    return new ShareBounds(
        BoundedMean.lower(shares, confidence), BoundedMean.upper(shares, confidence));
  }

  boolean meets(Claim claim) {
    return claim.endpoint().isAtMost() ? high <= claim.share() : low >= claim.share();
  }

  boolean contradicts(Claim claim) {
    return claim.endpoint().isAtMost() ? low > claim.share() : high < claim.share();
  }
}
