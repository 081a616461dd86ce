package org.stopwell.harness.claim;

import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.stats.Clusters;
import org.stopwell.harness.stats.Interval;
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

  /** The same on the effective number of independent trials of the clusters. */
  static ShareBounds of(Clusters clusters, double confidence) {
    Interval interval = clusters.interval(2 * confidence - 1);
    return new ShareBounds(interval.low(), interval.high());
  }

  boolean meets(Claim claim) {
    return claim.endpoint() == Claim.Endpoint.OVER_TRAVEL
        ? high <= claim.share()
        : low >= claim.share();
  }

  boolean contradicts(Claim claim) {
    return claim.endpoint() == Claim.Endpoint.OVER_TRAVEL
        ? low > claim.share()
        : high < claim.share();
  }
}
