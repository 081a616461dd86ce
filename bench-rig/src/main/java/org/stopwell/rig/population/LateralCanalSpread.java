package org.stopwell.rig.population;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Map;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.random.RandomStream;

/**
 * Where lateral canals leave. De Deus, J Endod 1975;1:361, from memory: of 1140 teeth 17.0 % have
 * one in the apical third, 8.8 % in the middle of the root and 1.6 % near its base. Within a third
 * the height is even, and no canal has two: assumed.
 *
 * @param share share of all canals
 * @param third the third of the canal from the foramen, from 0
 */
record LateralCanalSpread(double share, int third) {
  static final List<LateralCanalSpread> THIRDS =
      List.of(
          new LateralCanalSpread(0.170, 0),
          new LateralCanalSpread(0.088, 1),
          new LateralCanalSpread(0.016, 2));

  static final Spread RESISTANCE =
      Spread.logEven(CanalSection.LATERAL_CANAL_OHM, 60_000, 1_000_000, "assumed");

  /** Nearer to the foramen than this it would be one with it, mm: assumed. */
  private static final double LOWEST_MM = 0.3;

  /** Writes what is drawn into the values of a canal whose length is known. */
  static void draw(RandomStream random, double lengthMm, Map<String, String> canal) {
    double at = random.nextDouble();
    double within = random.nextDouble();
    for (LateralCanalSpread one : THIRDS) {
      if (at < one.share) {
        double mm = Math.max(LOWEST_MM, lengthMm * (one.third + within) / 3);
        canal.put(
            CanalSection.LATERAL_CANAL.key(),
            BigDecimal.valueOf(mm).setScale(3, RoundingMode.HALF_EVEN).toPlainString());
        canal.put(RESISTANCE.parameter().key(), RESISTANCE.draw(random));
        return;
      }
      at -= one.share;
    }
  }
}
