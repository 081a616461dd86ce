package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleSupplier;
import org.stopwell.rig.random.RandomStream;

/**
 * The draws of a {@link VariedTooth}, as values: what the networks of the bench take as fixed. All
 * spreads are assumed. Units SI.
 *
 * @param cells cells of fluid below the tip, and as many beside the file
 * @param metalAtTip whether all metal stands at the tip
 * @param reach way above the tip up to which the metal takes part, m
 * @param exponentShift what the exponent of the metal surface differs by
 * @param transfer charge transfer of the metal surface, Ω·m²
 * @param wallFarads capacitance of the root wall, F/m
 * @param unevenness factor of the conductance of the root wall, by cell from 1
 * @param sideHeight height of the side canal, m
 * @param sideSiemens conductance of the side canal, S; 0 is none
 * @param sideShuts whether the file shuts the side canal once its tip has passed it
 * @param split share of the body path in the slower of two elements
 * @param slower corner of the slower one, as a share of the corner of one element
 * @param faster corner of the faster one
 * @param bend what the exponents of the two differ by from that of one, up and down
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
    double sideHeight,
    double sideSiemens,
    boolean sideShuts,
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

  /** A network of the training. */
  static VariedNetwork drawn(RandomStream random) {
    return drawn(random::nextDouble, random::nextDouble, random::nextGaussian);
  }

  /**
   * A network from three kinds of numbers, asked for in an order that never changes.
   *
   * @param lot even from 0 to 1; decides between networks of different build
   * @param share even from 0 to 1; the network changes smoothly with it
   * @param score standard normal; the network changes smoothly with it
   */
  static VariedNetwork drawn(DoubleSupplier lot, DoubleSupplier share, DoubleSupplier score) {
    int cells = 1 + (int) (10 * lot.getAsDouble());
    boolean metalAtTip = lot.getAsDouble() < 0.4;
    // a third of the files with their whole surface, the others with the part next to the tip
    double reach = lot.getAsDouble() < 0.34 ? 1 : logBetween(share, 0.5e-3, 6e-3);
    double exponentShift = between(share, -0.12, 0.04);
    double transfer = logBetween(share, 0.3, 20);
    double wallFarads = between(share, 0, 120) * PERMITTIVITY;
    double uneven = between(share, 0, 1);
    List<Double> unevenness = new ArrayList<>(MOST_CELLS);
    for (int i = 0; i < MOST_CELLS; i++) {
      unevenness.add(StrictMath.exp(uneven * score.getAsDouble()));
    }
    double sideHeight = between(share, 0.3e-3, 4e-3);
    // no side canal in a half, one that the file shuts in a quarter
    double side = lot.getAsDouble();
    double sideSiemens = side < 0.5 ? 0 : 1 / logBetween(share, 60e3, 1e6);
    boolean sideShuts = side >= 0.75;
    double split = between(share, 0.25, 0.75);
    double slower = logBetween(share, 0.4, 1);
    double faster = logBetween(share, 1, 2.5);
    double bend = between(share, -0.12, 0.12);
    double leakGrowth = between(share, 0.3, 1.3);
    double leakCapacity = between(share, 0, 0.7);
    double leakCorner = logBetween(share, 500, 8000);
    boolean leakAtShank = lot.getAsDouble() < 0.5;
    return new VariedNetwork(
        cells,
        metalAtTip,
        reach,
        exponentShift,
        transfer,
        wallFarads,
        unevenness,
        sideHeight,
        sideSiemens,
        sideShuts,
        split,
        slower,
        faster,
        bend,
        leakGrowth,
        leakCapacity,
        leakCorner,
        leakAtShank);
  }

  /** Whether the unevenness of an index belongs to a cell in use: below the tip and beside it. */
  boolean uses(int cell) {
    return cell >= 1 && cell <= 2 * cells;
  }

  private static double between(DoubleSupplier share, double low, double high) {
    return low + (high - low) * share.getAsDouble();
  }

  private static double logBetween(DoubleSupplier share, double low, double high) {
    return low * StrictMath.pow(high / low, share.getAsDouble());
  }
}
