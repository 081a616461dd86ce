package org.stopwell.rig.network;

import java.util.Arrays;
import java.util.List;

/**
 * The resistances of a {@link Chain} that come nearest to an impedance over a band: least squares
 * by Levenberg and Marquardt, each resistance within its range.
 *
 * <p>An error is (Z/Z₀ − 1): its real part is the error of the magnitude, its imaginary part the
 * error of the phase in rad, both to first order. They are weighed by what a network may be off.
 */
public final class ChainFit {
  /** Magnitudes may be off by so much, as a share. */
  public static final double MAGNITUDE = 0.03;

  /** Phases may be off by so much, rad: 5°. */
  public static final double PHASE = 5 * Math.PI / 180;

  private static final int ROUNDS = 30;

  /** Least resistance that the segments with capacitors begin with, together, Ω. */
  private static final double LEAST_FALL = 50;

  private static final double LEAST_DAMPING = 1e-6;
  private static final double MOST_DAMPING = 1e9;

  /**
   * The place before it is left only where it leads to a greater error than this share of the
   * limits, so that resistances go steadily.
   */
  private static final double CONTENT = 0.8;

  /** Where else to begin: resistances of the segments with capacitors, Ω. */
  private static final double[][] STARTS = {
    {600, 600, 1700, 600}, {8000, 4000, 2000, 600}, {300, 2000, 1500, 500}
  };

  private final Chain chain;
  private final List<Target> targets;
  private final int count;

  private ChainFit(Chain chain, List<Target> targets) {
    this.chain = chain;
    this.targets = targets;
    count = chain.segments();
  }

  /**
   * Fits a chain.
   *
   * @param chain the chain
   * @param targets the impedance wanted, by frequency
   * @param before resistances of the place beside it, Ω; empty: none
   * @return the resistance of each segment, Ω
   */
  public static double[] of(Chain chain, List<Target> targets, double[] before) {
    return new ChainFit(chain, targets).best(before);
  }

  private double[] best(double[] before) {
    double[] best = {};
    double least = Double.POSITIVE_INFINITY;
    if (before.length > 0) {
      best = descend(before);
      if (worst(best) <= CONTENT) {
        return best;
      }
      least = cost(best);
    }
    Impedance low = targets.get(0).impedance();
    Impedance high = targets.get(targets.size() - 1).impedance();
    double[] even = new double[count];
    Arrays.fill(even, Math.max(LEAST_FALL, low.re() - high.re()) / (count - 1));
    even[0] = high.re();
    for (int n = -1; n < STARTS.length; n++) {
      double[] from = even.clone();
      if (n >= 0) {
        from[0] = high.magnitude();
        System.arraycopy(STARTS[n], 0, from, 1, Math.min(STARTS[n].length, count - 1));
      }
      double[] found = descend(from);
      double cost = cost(found);
      if (cost < least) {
        least = cost;
        best = found;
      }
    }
    return best;
  }

  /**
   * The greatest error of a chain over a band, as a share of the limits.
   *
   * @param chain the chain
   * @param targets the impedance wanted, by frequency
   * @param ohms resistance of each segment, Ω
   * @return at most 1 where magnitude and phase are within their limits
   */
  public static double worst(Chain chain, List<Target> targets, double[] ohms) {
    double worst = 0;
    for (Target t : targets) {
      Impedance made = chain.impedance(ohms, t.hertz());
      double magnitude = made.magnitude() / t.impedance().magnitude() - 1;
      double phase = made.phase() - t.impedance().phase();
      worst = Math.max(worst, Math.max(Math.abs(magnitude) / MAGNITUDE, Math.abs(phase) / PHASE));
    }
    return worst;
  }

  private double worst(double[] ohms) {
    return worst(chain, targets, ohms);
  }

  private double[] descend(double[] start) {
    double[] ohms = new double[count];
    for (int i = 0; i < count; i++) {
      ohms[i] = within(i, start[i]);
    }
    double damping = 1e-2;
    double cost = cost(ohms);
    double[][] normal = new double[count][count];
    double[] slope = new double[count];
    for (int round = 0; round < ROUNDS && damping < MOST_DAMPING; round++) {
      linearize(ohms, normal, slope);
      double[] next = step(ohms, normal, slope, damping);
      double there = cost(next);
      if (there < cost) {
        boolean flat = cost - there < 1e-9 * cost;
        ohms = next;
        cost = there;
        damping = Math.max(damping / 5, LEAST_DAMPING);
        if (flat) {
          break;
        }
      } else {
        damping *= 5;
      }
    }
    return ohms;
  }

  private double cost(double[] ohms) {
    double sum = 0;
    for (Target t : targets) {
      Impedance off = over(chain.impedance(ohms, t.hertz()), t.impedance());
      double a = (off.re() - 1) / MAGNITUDE;
      double b = off.im() / PHASE;
      sum += a * a + b * b;
    }
    return sum;
  }

  /** Normal equations: products of the derivatives, and of derivative and error. */
  private void linearize(double[] ohms, double[][] normal, double[] slope) {
    for (double[] row : normal) {
      Arrays.fill(row, 0);
    }
    Arrays.fill(slope, 0);
    Impedance[] by = new Impedance[count];
    for (Target t : targets) {
      Impedance all = chain.impedance(ohms, t.hertz());
      Impedance off = over(all, t.impedance());
      // The terminals' stray scales every derivative by (Z with it / Z without it)², and 1 + jωSZ₀
      // = 1 / (1 − jωSZ) gives that ratio.
      double b = 2 * Math.PI * t.hertz() * chain.strayFarads();
      Impedance beside = new Impedance(1 + b * all.im(), -b * all.re());
      Impedance scale = over(times(beside, beside), t.impedance());
      by[0] = scale;
      for (int k = 1; k < count; k++) {
        double x = 2 * Math.PI * t.hertz() * ohms[k] * chain.farads().get(k - 1);
        Impedance slower = new Impedance(1, x).inverse();
        by[k] = times(scale, times(slower, slower));
      }
      double re = (off.re() - 1) / (MAGNITUDE * MAGNITUDE);
      double im = off.im() / (PHASE * PHASE);
      for (int i = 0; i < count; i++) {
        slope[i] += by[i].re() * re + by[i].im() * im;
        for (int j = 0; j < count; j++) {
          normal[i][j] +=
              by[i].re() * by[j].re() / (MAGNITUDE * MAGNITUDE)
                  + by[i].im() * by[j].im() / (PHASE * PHASE);
        }
      }
    }
  }

  /** One damped step; a resistance at a limit that it would leave stays there. */
  private double[] step(double[] ohms, double[][] normal, double[] slope, double damping) {
    double most = 0;
    for (int i = 0; i < count; i++) {
      most = Math.max(most, normal[i][i]);
    }
    double[][] a = new double[count][count + 1];
    for (int i = 0; i < count; i++) {
      boolean held =
          (ohms[i] <= chain.leastOhms().get(i) && slope[i] > 0)
              || (ohms[i] >= chain.mostOhms().get(i) && slope[i] < 0);
      for (int j = 0; j < count; j++) {
        a[i][j] = held ? 0 : normal[i][j];
      }
      a[i][i] = held ? 1 : normal[i][i] + damping * (normal[i][i] + 1e-6 * most);
      a[i][count] = held ? 0 : -slope[i];
    }
    double[] next = solved(a);
    for (int i = 0; i < count; i++) {
      next[i] = within(i, ohms[i] + next[i]);
    }
    return next;
  }

  private double within(int segment, double ohms) {
    return Math.max(chain.leastOhms().get(segment), Math.min(ohms, chain.mostOhms().get(segment)));
  }

  /** Gauss with the greatest pivot: five equations. */
  private static double[] solved(double[][] a) {
    int n = a.length;
    for (int k = 0; k < n; k++) {
      int pivot = k;
      for (int i = k + 1; i < n; i++) {
        pivot = Math.abs(a[i][k]) > Math.abs(a[pivot][k]) ? i : pivot;
      }
      double[] row = a[pivot];
      a[pivot] = a[k];
      a[k] = row;
      for (int i = k + 1; i < n; i++) {
        double share = a[i][k] / row[k];
        for (int j = k; j <= n; j++) {
          a[i][j] -= share * row[j];
        }
      }
    }
    double[] x = new double[n];
    for (int i = n - 1; i >= 0; i--) {
      double sum = a[i][n];
      for (int j = i + 1; j < n; j++) {
        sum -= a[i][j] * x[j];
      }
      x[i] = sum / a[i][i];
    }
    return x;
  }

  private static Impedance over(Impedance a, Impedance b) {
    return times(a, b.inverse());
  }

  private static Impedance times(Impedance a, Impedance b) {
    return new Impedance(a.re() * b.re() - a.im() * b.im(), a.re() * b.im() + a.im() * b.re());
  }
}
