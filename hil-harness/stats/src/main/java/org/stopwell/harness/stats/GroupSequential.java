package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.List;

/**
 * Looking a fixed number of times at a normal statistic without claiming too often: two-sided
 * limits of Wang and Tsiatis (Biometrics 43, 1987, 193), c(k) = C (k/K)^(shape − 1/2), with equal
 * information between looks.
 *
 * @param looks how many looks, K
 * @param alpha chance of ever crossing a limit when there is no difference
 * @param shape 0 for the limits of O'Brien and Fleming (strict at first), 0.5 for those of Pocock
 *     (the same at every look)
 * @param constant C
 */
public record GroupSequential(int looks, double alpha, double shape, double constant) {
  private static final int PANELS = 100;

  /**
   * Finds the constant.
   *
   * @param looks how many looks, 1 to 20
   * @param alpha two-sided level, 0 to 1 exclusive
   * @param shape 0 to 0.5
   * @return the design
   */
  public static GroupSequential of(int looks, double alpha, double shape) {
    if (looks < 1 || looks > 20 || !(alpha > 0 && alpha < 1) || !(shape >= 0 && shape <= 0.5)) {
      throw new IllegalArgumentException(
          "looks "
              + looks
              + " must be 1 to 20, alpha "
              + alpha
              + " between 0 and 1, shape "
              + shape
              + " 0 to 0.5");
    }
    double constant =
        Bisection.solve(
            c -> 1 - new GroupSequential(looks, alpha, shape, c).crossing(0), 1 - alpha, 0.1, 10);
    return new GroupSequential(looks, alpha, shape, constant);
  }

  /**
   * The limit of the standardised statistic at a look.
   *
   * @param look from 1
   * @return c(k)
   */
  public double limit(int look) {
    return constant * Math.pow((double) look / looks, shape - 0.5);
  }

  /**
   * All limits in order.
   *
   * @return one per look
   */
  public List<Double> limits() {
    List<Double> limits = new ArrayList<>();
    for (int k = 1; k <= looks; k++) {
      limits.add(limit(k));
    }
    return limits;
  }

  /**
   * The chance of crossing a limit at any look (Armitage, McPherson and Rowe 1969: the density of
   * the running sum is carried from look to look).
   *
   * @param drift mean of the statistic's increment between looks, in its standard deviations
   * @return 0 to 1
   */
  public double crossing(double drift) {
    double reach = limit(1);
    double[] density = new double[PANELS + 1];
    for (int i = 0; i <= PANELS; i++) {
      density[i] = normal(at(i, reach) - drift);
    }
    for (int k = 2; k <= looks; k++) {
      double next = limit(k) * Math.sqrt((double) k);
      double[] carried = new double[PANELS + 1];
      for (int j = 0; j <= PANELS; j++) {
        double s = at(j, next);
        double sum = 0;
        for (int i = 0; i <= PANELS; i++) {
          sum += weight(i) * density[i] * normal(s - at(i, reach) - drift);
        }
        carried[j] = sum * 2 * reach / PANELS / 3;
      }
      density = carried;
      reach = next;
    }
    double inside = 0;
    for (int i = 0; i <= PANELS; i++) {
      inside += weight(i) * density[i];
    }
    return 1 - inside * 2 * reach / PANELS / 3;
  }

  private static double at(int i, double reach) {
    return reach * (2.0 * i / PANELS - 1);
  }

  private static double weight(int i) {
    return i == 0 || i == PANELS ? 1 : i % 2 == 0 ? 2 : 4;
  }

  private static double normal(double x) {
    return Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI);
  }
}
