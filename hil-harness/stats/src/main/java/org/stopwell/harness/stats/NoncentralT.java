package org.stopwell.harness.stats;

import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;

/** The noncentral t distribution: of (Z + δ) / √(V/ν), V chi-square with ν degrees of freedom. */
final class NoncentralT {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final int PANELS = 800;

  private NoncentralT() {}

  /**
   * P(T ≤ t) = ∫ Φ(t √(v/ν) − δ) f(v) dv over the chi-square density f, between its quantiles of
   * 1e-14 from both ends.
   */
  static double cumulative(double t, double freedom, double delta) {
    ChiSquaredDistribution chi = ChiSquaredDistribution.of(freedom);
    // Over √v the integrand is smooth at 0, however few the degrees of freedom.
    double low = Math.sqrt(chi.inverseCumulativeProbability(1e-14));
    double high = Math.sqrt(chi.inverseSurvivalProbability(1e-14));
    return Quadrature.simpson(
        root ->
            NORMAL.cumulativeProbability(t * root / Math.sqrt(freedom) - delta)
                * chi.density(root * root)
                * 2
                * root,
        low,
        high,
        PANELS);
  }
}
