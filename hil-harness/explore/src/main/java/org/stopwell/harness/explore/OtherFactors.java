package org.stopwell.harness.explore;

import java.util.List;
import org.stopwell.harness.plan.Factor;
import org.stopwell.rig.random.RandomStream;

/**
 * Draws the factors that are not of the settings. The draw depends on seed and canal alone, so that
 * all settings meet the same canals.
 */
public final class OtherFactors {
  private OtherFactors() {}

  /**
   * Draws one canal.
   *
   * @param factors all factors; those of the settings are left as they are
   * @param seed seed of the exploration
   * @param canal number of the canal
   * @param values receives a value of each drawn factor, base units
   */
  public static void draw(List<Factor> factors, long seed, long canal, long[] values) {
    set(factors, shares(factors.size(), seed, canal), values);
  }

  /** The share of each factor in one canal, 0 to 1, independent of each other. */
  static double[] shares(int factors, long seed, long canal) {
    RandomStream random = RandomStream.of(RandomStream.trialSeed(seed, canal), "other factors");
    double[] shares = new double[factors];
    for (int i = 0; i < factors; i++) {
      shares[i] = random.nextDouble();
    }
    return shares;
  }

  /** The values at these shares; those of the settings are left as they are. */
  static void set(List<Factor> factors, double[] shares, long[] values) {
    for (int i = 0; i < values.length; i++) {
      if (!factors.get(i).isOfSettings()) {
        values[i] = factors.get(i).at(shares[i]);
      }
    }
  }
}
