package org.stopwell.rig.population;

import java.util.List;
import java.util.Map;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.random.RandomStream;

/**
 * What canals are filled with: irrigants as people use them. The shares are assumed; {@link
 * Irrigant} names the source of every conductivity.
 *
 * @param irrigant the irrigant
 * @param share its share of all canals
 */
record IrrigantSpread(Irrigant irrigant, double share) {
  static final List<IrrigantSpread> IRRIGANTS =
      List.of(
          new IrrigantSpread(Irrigant.HYPOCHLORITE_DILUTE, 0.10),
          new IrrigantSpread(Irrigant.HYPOCHLORITE_WEAK, 0.30),
          new IrrigantSpread(Irrigant.HYPOCHLORITE_STRONG, 0.25),
          new IrrigantSpread(Irrigant.EDTA, 0.10),
          new IrrigantSpread(Irrigant.CHLORHEXIDINE, 0.05),
          new IrrigantSpread(Irrigant.SALINE, 0.20));

  /** Writes what is drawn into the values of the fluid. */
  static Irrigant draw(RandomStream random, Map<String, String> fluid) {
    Irrigant drawn = named(random.nextDouble());
    fluid.put(FluidSection.IRRIGANT.key(), drawn.key());
    return drawn;
  }

  private static Irrigant named(double at) {
    for (IrrigantSpread one : IRRIGANTS) {
      if (at < one.share) {
        return one.irrigant;
      }
      at -= one.share;
    }
    return Irrigant.SALINE;
  }
}
