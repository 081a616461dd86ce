package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.List;

/**
 * A chain of real parts: codes of its segments.
 *
 * @param first the segment without a capacitor
 * @param segments the others
 * @param chain their capacitors and reach
 */
record BuiltChain(Staircase first, List<Segment> segments, Chain chain) {
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
    int codeFor(double wanted) {
      return ladder.codeFor(wanted - base);
    }

    double ohms(int code) {
      return base + ladder.ohms(code);
    }
  }

  static BuiltChain of(
      Staircase first, List<Segment> segments, List<Double> farads, double strayFarads) {
    List<Double> least = new ArrayList<>(List.of(first.leastOhms()));
    List<Double> most = new ArrayList<>(List.of(first.mostOhms()));
    for (Segment segment : segments) {
      least.add(segment.base() + segment.ladder().leastOhms());
      most.add(segment.base() + segment.ladder().mostOhms());
    }
    return new BuiltChain(first, segments, new Chain(farads, least, most, strayFarads));
  }

  /** The nearest codes; the first segment takes up what the others miss. */
  int[] codes(double[] wanted) {
    int[] codes = new int[wanted.length];
    double rest = wanted[0];
    for (int k = 1; k < codes.length; k++) {
      Segment segment = segments.get(k - 1);
      codes[k] = segment.codeFor(wanted[k]);
      rest += (wanted[k] - segment.ohms(codes[k])) * EIGHTHS[k - 1] / 8;
    }
    codes[0] = first.codeFor(rest);
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
