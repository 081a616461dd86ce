package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.rig.random.RandomStream;

/**
 * The values of a {@link VariedTooth} that the tooth models of the bench take as fixed. All spreads
 * are assumed. Units SI.
 *
 * @param cells cells of fluid below the tip, and as many beside the file
 * @param metalAtTip whether all metal stands at the tip
 * @param reach length of file above the tip whose metal takes part, m
 * @param exponentShift difference of the exponent of the metal surface from that of the scene
 * @param transfer charge transfer of the metal surface, Ω·m²
 * @param wallFarads capacitance of the dentine, F/m
 * @param unevenness factor of the conductance of the dentine, by cell from 1
 * @param lateralHeight height of the lateral canal, m
 * @param lateralSiemens conductance of the lateral canal, S; 0 is none
 * @param lateralShuts whether the file shuts the lateral canal once its tip has passed it
 * @param split share of the body path in the slower of two elements
 * @param slower corner of the slower one, as a share of the corner of one element
 * @param faster corner of the faster one
 * @param bend difference of the two exponents from that of one element, up and down
 * @param leakGrowth exponent of the growth of the leak with the level in the chamber
 * @param leakCapacity share of the leak that is a capacitor
 * @param leakCorner corner of that share, Hz
 * @param leakAtShank whether the leak begins at the shank
 */
record VariedNetwork(
    int cells,
    boolean metalAtTip,
    double reach,
    double exponentShift,
    double transfer,
    double wallFarads,
    List<Double> unevenness,
    double lateralHeight,
    double lateralSiemens,
    boolean lateralShuts,
    double split,
    double slower,
    double faster,
    double bend,
    double leakGrowth,
    double leakCapacity,
    double leakCorner,
    boolean leakAtShank) {
  static final int MOST_CELLS = 40;

  /** Vacuum, F/m. */
  private static final double PERMITTIVITY = 8.854e-12;

  /** Draws a network; the order of the draws belongs to the recipe of the shipped weights. */
  static VariedNetwork drawn(RandomStream random) {
    int cells = 1 + (int) (10 * random.nextDouble());
    boolean metalAtTip = random.nextDouble() < 0.4;
    // a third: the whole surface of the file; the others: the part next to the tip
    double reach = random.nextDouble() < 0.34 ? 1 : logBetween(random, 0.5e-3, 6e-3);
    double exponentShift = between(random, -0.12, 0.04);
    double transfer = logBetween(random, 0.3, 20);
    double wallFarads = between(random, 0, 120) * PERMITTIVITY;
    double uneven = between(random, 0, 1);
    List<Double> unevenness = new ArrayList<>(MOST_CELLS);
    for (int i = 0; i < MOST_CELLS; i++) {
      unevenness.add(StrictMath.exp(uneven * random.nextGaussian()));
    }
    double lateralHeight = between(random, 0.3e-3, 4e-3);
    // half: no lateral canal; a quarter: one that the file shuts
    double lateral = random.nextDouble();
    double lateralSiemens = lateral < 0.5 ? 0 : 1 / logBetween(random, 60e3, 1e6);
    boolean lateralShuts = lateral >= 0.75;
    double split = between(random, 0.25, 0.75);
    double slower = logBetween(random, 0.4, 1);
    double faster = logBetween(random, 1, 2.5);
    double bend = between(random, -0.12, 0.12);
    double leakGrowth = between(random, 0.3, 1.3);
    double leakCapacity = between(random, 0, 0.7);
    double leakCorner = logBetween(random, 500, 8000);
    boolean leakAtShank = random.nextDouble() < 0.5;
    return new VariedNetwork(
        cells,
        metalAtTip,
        reach,
        exponentShift,
        transfer,
        wallFarads,
        unevenness,
        lateralHeight,
        lateralSiemens,
        lateralShuts,
        split,
        slower,
        faster,
        bend,
        leakGrowth,
        leakCapacity,
        leakCorner,
        leakAtShank);
  }

  private static double between(RandomStream random, double low, double high) {
    return low + (high - low) * random.nextDouble();
  }

  private static double logBetween(RandomStream random, double low, double high) {
    return low * StrictMath.pow(high / low, random.nextDouble());
  }
}
