package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.List;

/**
 * A chain of real parts: codes of its segments.
 *
 * @param first the segment without a capacitor
 * @param segments the others
 * @param parts their capacitors and reach
 * @param chain the same with the capacitors that are in
 */
record BuiltChain(Staircase first, List<Segment> segments, ChainParts parts, Chain chain) {
  /** From here down the ranges of the first segment stay as they are, m. */
  static final double NEAR = 3e-3;

  /**
   * What an error of a segment with a capacitor does to the magnitude, as a share: mean over the
   * band of Re 1/(1 + jωRC)², computed near the foramen, in eighths as the board adds them up.
   */
  static final int[] EIGHTHS = {0, 3, 4, 7};

  /**
   * A segment with a capacitor.
   *
   * @param base what always stays, Ω
   * @param ladder what is switched
   */
  record Segment(double base, Ladder ladder) {
    /** Each resistor that still fits, the greatest first, as the board does it. */
    int codeFor(double wanted) {
      List<Rung> rungs = ladder.rungs();
      double rest = wanted - ohms(0) + weight(rungs.get(0)) / 2;
      int code = 0;
      for (int k = rungs.size(); k-- > 0; ) {
        if (weight(rungs.get(k)) <= rest) {
          rest -= weight(rungs.get(k));
          code |= 1 << k;
        }
      }
      return code;
    }

    private static double weight(Rung rung) {
      return rung.inLine() - rung.bridged();
    }

    double ohms(int code) {
      return base + ladder.ohms(code);
    }
  }

  static BuiltChain of(
      Staircase first, List<Segment> segments, List<List<Double>> farads, double strayFarads) {
    List<Double> least = new ArrayList<>(List.of(first.leastOhms()));
    List<Double> most = new ArrayList<>(List.of(first.mostOhms()));
    for (Segment segment : segments) {
      least.add(segment.base() + segment.ladder().leastOhms());
      most.add(segment.base() + segment.ladder().mostOhms());
    }
    ChainParts parts = new ChainParts(farads, least, most, strayFarads);
    return new BuiltChain(first, segments, parts, parts.at(0));
  }

  /** The same chain with some of its switched capacitors. */
  BuiltChain with(int capacitors) {
    return new BuiltChain(first, segments, parts, parts.at(capacitors));
  }

  /** The greatest resistance of the first segment that a table needs near the foramen, Ω. */
  static double needed(ChainTable table) {
    return table.places().stream()
        .filter(place -> place.remaining() <= NEAR)
        .mapToDouble(place -> place.ohms().get(0))
        .max()
        .orElse(0);
  }

  /** The codes of a table at a place, m. */
  int[] codes(ChainTable table, double remaining) {
    return codes(table.at(remaining), remaining <= NEAR ? needed(table) : 0);
  }

  /** The nearest codes; the first segment takes up what the others miss. */
  private int[] codes(double[] wanted, double needed) {
    int[] codes = new int[wanted.length];
    double rest = wanted[0];
    for (int k = 1; k < codes.length; k++) {
      Segment segment = segments.get(k - 1);
      codes[k] = segment.codeFor(wanted[k]);
      rest += (wanted[k] - segment.ohms(codes[k])) * EIGHTHS[k - 1] / 8;
    }
    codes[0] = first.codeFor(rest, Math.max(rest, needed));
    return codes;
  }

  /** The resistances of codes, Ω. */
  double[] ohms(int[] codes) {
    double[] ohms = new double[codes.length];
    ohms[0] = first.ohms(codes[0]);
    for (int k = 1; k < codes.length; k++) {
      ohms[k] = segments.get(k - 1).ohms(codes[k]);
    }
    return ohms;
  }

  Impedance impedance(int[] codes, double hertz) {
    return chain.impedance(ohms(codes), hertz);
  }
}
