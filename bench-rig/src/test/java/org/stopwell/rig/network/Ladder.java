package org.stopwell.rig.network;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Resistors in a line, each bridged by a switch. A bit of the code that is 1 opens the switch and
 * puts its resistor in line. The values are those that were built or measured, so the code for a
 * resistance is the best there is, whatever the tolerances were.
 */
public final class Ladder {
  /** More than this would make the table of all codes too large. */
  static final int MAX_RUNGS = 18;

  private final List<Rung> rungs;
  private final int[] codes;
  private final double[] ohms;

  /**
   * A ladder of known values.
   *
   * @param rungs the resistors, bit 0 first
   */
  public Ladder(List<Rung> rungs) {
    if (rungs.isEmpty() || rungs.size() > MAX_RUNGS) {
      throw new IllegalArgumentException(rungs.size() + " resistors, must be 1 to " + MAX_RUNGS);
    }
    this.rungs = List.copyOf(rungs);
    double[] byCode = new double[1 << rungs.size()];
    for (int code = 0; code < byCode.length; code++) {
      byCode[code] = sum(code);
    }
    codes =
        IntStream.range(0, byCode.length)
            .boxed()
            .sorted(Comparator.comparingDouble(code -> byCode[code]))
            .mapToInt(Integer::intValue)
            .toArray();
    ohms = Arrays.stream(codes).mapToDouble(code -> byCode[code]).toArray();
  }

  private double sum(int code) {
    double sum = 0;
    for (int i = 0; i < rungs.size(); i++) {
      Rung rung = rungs.get(i);
      sum += (code >> i & 1) == 1 ? rung.inLine() : rung.bridged();
    }
    return sum;
  }

  /**
   * Its resistors.
   *
   * @return bit 0 first
   */
  public List<Rung> rungs() {
    return rungs;
  }

  /**
   * The resistance of a code.
   *
   * @param code one bit per resistor
   * @return Ω
   */
  public double ohms(int code) {
    return sum(code);
  }

  /**
   * The code whose resistance is nearest.
   *
   * @param wanted the resistance wanted, Ω
   * @return the code
   */
  public int codeFor(double wanted) {
    int at = Arrays.binarySearch(ohms, wanted);
    if (at < 0) {
      int above = Math.min(-at - 1, ohms.length - 1);
      int below = Math.max(above - 1, 0);
      at = wanted - ohms[below] <= ohms[above] - wanted ? below : above;
    }
    return codes[at];
  }

  /**
   * The least resistance it can make: all switches closed.
   *
   * @return Ω
   */
  public double leastOhms() {
    return ohms[0];
  }

  /**
   * The greatest resistance it can make: all switches open.
   *
   * @return Ω
   */
  public double mostOhms() {
    return ohms[ohms.length - 1];
  }

  /**
   * The widest gap between neighbouring resistances: twice the worst error of a code.
   *
   * @return Ω
   */
  public double widestGapOhms() {
    double widest = 0;
    for (int i = 1; i < ohms.length; i++) {
      widest = Math.max(widest, ohms[i] - ohms[i - 1]);
    }
    return widest;
  }
}
