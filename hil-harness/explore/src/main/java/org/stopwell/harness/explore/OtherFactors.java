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
    RandomStream random = RandomStream.of(RandomStream.trialSeed(seed, canal), "other factors");
    for (int i = 0; i < values.length; i++) {
      double share = random.nextDouble();
      if (!factors.get(i).isOfSettings()) {
        values[i] = factors.get(i).at(share);
      }
    }
  }
}
