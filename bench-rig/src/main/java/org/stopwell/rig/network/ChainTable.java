package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Resistances of a {@link Chain} by position: at some places, and in straight lines between them.
 *
 * @param places from past the foramen upwards; the circuit is open above the last
 */
public record ChainTable(List<Place> places) {
  /** From here down a stop is decided, m, and a miss counts so many times as much (assumed). */
  private static final double NEAR = 3e-3;

  private static final double NEAR_COUNTS = 4;

  /** Frequencies at which a shorter table is judged, Hz. */
  private static final double[] JUDGED_HERTZ = {200, 800, 3_000, 20_000};

  /**
   * One place.
   *
   * @param remaining height of the tip above the foramen, m
   * @param ohms resistance of each segment, Ω
   */
  public record Place(double remaining, List<Double> ohms) {
    /** Copies the resistances. */
    public Place {
      ohms = List.copyOf(ohms);
    }

    /**
     * The resistances as numbers.
     *
     * @return a new array, Ω
     */
    public double[] array() {
      return ohms.stream().mapToDouble(Double::doubleValue).toArray();
    }
  }

  /** Copies the places. */
  public ChainTable {
    places = List.copyOf(places);
    for (int i = 1; i < places.size(); i++) {
      if (!(places.get(i).remaining() > places.get(i - 1).remaining())) {
        throw new IllegalArgumentException("place " + i + " is not above the one before");
      }
    }
  }

  /**
   * What the table shows at a place.
   *
   * @param remaining height of the tip above the foramen, m
   * @return resistance of each segment, Ω; empty above the last place
   */
  public double[] at(double remaining) {
    if (places.isEmpty() || remaining > places.get(places.size() - 1).remaining()) {
      return new double[0];
    }
    int above = 0;
    while (places.get(above).remaining() < remaining) {
      above++;
    }
    return above == 0
        ? places.get(0).array()
        : between(places.get(above - 1), places.get(above), remaining);
  }

  private static double[] between(Place a, Place b, double remaining) {
    double share = (remaining - a.remaining()) / (b.remaining() - a.remaining());
    double[] ohms = new double[a.ohms().size()];
    for (int k = 0; k < ohms.length; k++) {
      ohms[k] = a.ohms().get(k) + share * (b.ohms().get(k) - a.ohms().get(k));
    }
    return ohms;
  }

  /**
   * A shorter table that is nearly the same: first the ends, then again and again the place that
   * the straight lines miss most. The last 3 mm count most.
   *
   * @param most how many places it may have, 2 or more
   * @param chain the chain, whose impedance judges a miss
   * @return the table
   */
  public ChainTable thinned(int most, Chain chain) {
    if (places.size() <= most) {
      return this;
    }
    boolean[] kept = new boolean[places.size()];
    double[] miss = new double[places.size()];
    kept[0] = true;
    kept[places.size() - 1] = true;
    judge(0, places.size() - 1, chain, miss);
    for (int n = 2; n < most; n++) {
      int worst = 0;
      for (int i = 1; i < miss.length; i++) {
        worst = miss[i] > miss[worst] ? i : worst;
      }
      if (!(miss[worst] > 0)) {
        break;
      }
      kept[worst] = true;
      miss[worst] = 0;
      int low = worst - 1;
      while (!kept[low]) {
        low--;
      }
      int high = worst + 1;
      while (!kept[high]) {
        high++;
      }
      judge(low, worst, chain, miss);
      judge(worst, high, chain, miss);
    }
    List<Place> left = new ArrayList<>();
    for (int i = 0; i < kept.length; i++) {
      if (kept[i]) {
        left.add(places.get(i));
      }
    }
    return new ChainTable(left);
  }

  /** How far the straight line between two places misses each place between them. */
  private void judge(int low, int high, Chain chain, double[] miss) {
    for (int i = low + 1; i < high; i++) {
      Place real = places.get(i);
      double[] drawn = between(places.get(low), places.get(high), real.remaining());
      double[] wanted = real.array();
      double counts = real.remaining() <= NEAR ? NEAR_COUNTS : 1;
      miss[i] =
          counts
              * Arrays.stream(JUDGED_HERTZ)
                  .map(hz -> chain.impedance(wanted, hz).relativeError(chain.impedance(drawn, hz)))
                  .max()
                  .orElse(0);
    }
  }
}
