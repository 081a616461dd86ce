package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.List;

/**
 * The segment of a chain without a capacitor. Its resistance moves most, so it has a fine ladder
 * for what lies between equal steps that are added one after the other: no step of the stage moves
 * a large resistor. Ranges come in only when the steps are used up. Bits of a code: fine, steps,
 * ranges; 1 puts a resistor in line.
 *
 * @param base what always stays, Ω
 * @param fine ascending, Ω
 * @param steps in the order in which they are added, Ω
 * @param ranges ascending, Ω
 */
record Staircase(double base, List<Rung> fine, List<Rung> steps, List<Rung> ranges) {
  private List<Rung> all() {
    List<Rung> all = new ArrayList<>(fine);
    all.addAll(steps);
    all.addAll(ranges);
    return all;
  }

  int size() {
    return fine.size() + steps.size() + ranges.size();
  }

  double ohms(int code) {
    double sum = base;
    List<Rung> all = all();
    for (int k = 0; k < all.size(); k++) {
      sum += (code >> k & 1) == 1 ? all.get(k).inLine() : all.get(k).bridged();
    }
    return sum;
  }

  double leastOhms() {
    return ohms(0);
  }

  double mostOhms() {
    return ohms(-1 >>> (Integer.SIZE - size()));
  }

  private static double weight(Rung rung) {
    return rung.inLine() - rung.bridged();
  }

  /**
   * As the board does it: ranges only when needed, steps while they fit, then the fine ladder.
   *
   * @param needed what the ranges must make possible, Ω
   */
  int codeFor(double wanted, double needed) {
    double rest = wanted - leastOhms();
    double most = needed - leastOhms();
    double below = 0;
    for (Rung rung : fine) {
      below += weight(rung);
    }
    for (Rung rung : steps) {
      below += weight(rung);
    }
    for (Rung range : ranges) {
      below += weight(range);
    }
    int code = 0;
    for (int k = ranges.size(); k-- > 0; ) {
      double range = weight(ranges.get(k));
      below -= range;
      if (most > below && rest >= range) {
        code |= 1 << (fine.size() + steps.size() + k);
        rest -= range;
        most -= range;
      }
    }
    int bit = fine.size();
    for (Rung step : steps) {
      if (rest < weight(step)) {
        break;
      }
      code |= 1 << bit++;
      rest -= weight(step);
    }
    rest += weight(fine.get(0)) / 2;
    for (int k = fine.size(); k-- > 0; ) {
      if (weight(fine.get(k)) <= rest) {
        code |= 1 << k;
        rest -= weight(fine.get(k));
      }
    }
    return code;
  }
}
