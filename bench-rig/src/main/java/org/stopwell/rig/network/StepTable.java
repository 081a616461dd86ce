package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.List;

/**
 * What a network shows by position: a resistor and a capacitor side by side, at some places, and in
 * a straight line between them.
 *
 * @param steps the places, from past the foramen upwards; the circuit is open above the last
 */
public record StepTable(List<Step> steps) {
  /**
   * One place.
   *
   * @param remaining height of the tip above the foramen, m
   * @param pair resistance and capacitance between file and lip clip at this place
   */
  public record Step(double remaining, Pair pair) {}

  /** Copies the places. */
  public StepTable {
    steps = List.copyOf(steps);
    for (int i = 1; i < steps.size(); i++) {
      if (!(steps.get(i).remaining() > steps.get(i - 1).remaining())) {
        throw new IllegalArgumentException("step " + i + " is not above the one before");
      }
    }
  }

  /**
   * What the table shows at a place.
   *
   * @param remaining height of the tip above the foramen, m
   * @return the pair; no conductance above the last place
   */
  public Pair at(double remaining) {
    if (steps.isEmpty() || remaining > steps.get(steps.size() - 1).remaining()) {
      return Pair.OPEN;
    }
    int above = 0;
    while (steps.get(above).remaining() < remaining) {
      above++;
    }
    return above == 0 ? steps.get(0).pair() : between(steps, above - 1, above, remaining);
  }

  private static Pair between(List<Step> steps, int low, int high, double remaining) {
    Step a = steps.get(low);
    Step b = steps.get(high);
    double share = (remaining - a.remaining()) / (b.remaining() - a.remaining());
    return new Pair(
        a.pair().ohms() + share * (b.pair().ohms() - a.pair().ohms()),
        a.pair().farads() + share * (b.pair().farads() - a.pair().farads()));
  }

  /**
   * A shorter table that is nearly the same: first the ends, then again and again the place that
   * the straight lines miss most.
   *
   * @param most how many places it may have, 2 or more
   * @param radPerS frequency at which a miss is judged, rad/s
   * @return the table
   */
  public StepTable thinned(int most, double radPerS) {
    if (steps.size() <= most) {
      return this;
    }
    List<Integer> kept = new ArrayList<>(List.of(0, steps.size() - 1));
    while (kept.size() < most) {
      int worst = -1;
      double miss = 0;
      int after = 0;
      for (int k = 1; k < kept.size(); k++) {
        for (int i = kept.get(k - 1) + 1; i < kept.get(k); i++) {
          Step real = steps.get(i);
          Pair drawn = between(steps, kept.get(k - 1), kept.get(k), real.remaining());
          double here = real.pair().miss(drawn, radPerS);
          if (here > miss) {
            miss = here;
            worst = i;
            after = k;
          }
        }
      }
      if (worst < 0) {
        break;
      }
      kept.add(after, worst);
    }
    return new StepTable(kept.stream().map(steps::get).toList());
  }
}
