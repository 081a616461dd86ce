package org.stopwell.harness.assess;

/**
 * A share of right answers that no estimator can beat, because one that is told far more than any
 * does not beat it.
 *
 * <p>A genie tells all but where on one curve the canal lies, and the curve is laid where the
 * readings tell it worst: along the direction in which the place of the file changes while readings
 * and spreads object least (the least favourable submodel of Stein, Proc Third Berkeley Symp
 * 1956;1:187, from memory). The curves are the orbits of an invertible step, so they fill the space
 * without crossing, whatever canal one begins with. Given its curve, a canal is at each point of it
 * with the density of the spreads, times the likelihood of the readings, times the growth of volume
 * along the steps: a sum over points, without an approximation but that of the numbers. An answer
 * is right within some distance; the best one is right for the greatest share of that sum.
 *
 * <p>Where readings are linear in what is unknown and everything is Gaussian, the bound is what the
 * best estimator reaches. Elsewhere it is above.
 */
final class HiddenCurve {
  /** What is unknown and what is seen of it. */
  interface Model {
    /**
     * What is seen, without noise.
     *
     * @param unknown first the place, mm; the others are drawn from a standard normal distribution
     * @return readings, each in units of its noise
     */
    double[] see(double[] unknown);
  }

  /**
   * What the best answer is worth.
   *
   * @param share how probable it is that it is right
   * @param right whether it is right for the true place
   * @param deviationMm standard deviation of the place along the curve, mm
   */
  record Answer(double share, boolean right, double deviationMm) {}

  /** Way from point to point, mm. */
  private static final double STEP_MM = 0.05;

  private static final double NUDGE = 1e-3;

  /** Rounds of the implicit step; each is more exact by the size of the step. */
  private static final int ROUNDS = 4;

  /** Points less probable than the best one by this, in logarithms, end the curve. */
  private static final double NEGLIGIBLE = 25;

  private final Model model;
  private final double[] seen;
  private final double lowMm;
  private final double highMm;

  /**
   * The curves of a canal.
   *
   * @param model what is unknown and what is seen of it
   * @param seen the readings, with noise, in units of it
   * @param lowMm least place: all between the two are equally probable
   * @param highMm greatest place
   */
  HiddenCurve(Model model, double[] seen, double lowMm, double highMm) {
    this.model = model;
    this.seen = seen.clone();
    this.lowMm = lowMm;
    this.highMm = highMm;
  }

  /**
   * What the best answer is worth to one who is told the curve of a canal.
   *
   * @param truth all that is unknown, as it really is
   * @param withinMm an answer is right within this of the place
   */
  Answer best(double[] truth, double withinMm) {
    int below = (int) StrictMath.floor((truth[0] - lowMm) / STEP_MM);
    int above = (int) StrictMath.floor((highMm - truth[0]) / STEP_MM);
    double[] log = new double[below + 1 + above];
    java.util.Arrays.fill(log, Double.NEGATIVE_INFINITY);
    log[below] = logDensity(truth);
    follow(truth, STEP_MM, log, below, above);
    follow(truth, -STEP_MM, log, below, below);
    return best(log, below, withinMm);
  }

  private void follow(double[] from, double step, double[] log, int at, int steps) {
    double[] here = from;
    double growth = 0;
    double most = log[at];
    for (int k = 1; k <= steps; k++) {
      double[] middle = here.clone();
      for (int round = 0; round < ROUNDS; round++) {
        double[] way = direction(middle);
        for (int p = 0; p < here.length; p++) {
          middle[p] = here[p] + step / 2 * way[p];
        }
      }
      growth += growth(middle, step);
      double[] there = new double[here.length];
      for (int p = 0; p < here.length; p++) {
        there[p] = 2 * middle[p] - here[p];
      }
      here = there;
      double density = logDensity(here) + growth;
      log[at + (step > 0 ? k : -k)] = density;
      most = Math.max(most, density);
      if (!(density > most - NEGLIGIBLE)) {
        return;
      }
    }
  }

  private static Answer best(double[] log, int truth, double withinMm) {
    double most = java.util.Arrays.stream(log).max().orElseThrow();
    int width = (int) StrictMath.round(2 * withinMm / STEP_MM) + 1;
    double all = 0;
    double first = 0;
    double second = 0;
    double inside = 0;
    double best = 0;
    int end = 0;
    for (int k = 0; k < log.length; k++) {
      double weight = StrictMath.exp(log[k] - most);
      all += weight;
      first += weight * k;
      second += weight * k * k;
      inside += weight - (k < width ? 0 : StrictMath.exp(log[k - width] - most));
      if (inside > best) {
        best = inside;
        end = k;
      }
    }
    double mean = first / all;
    return new Answer(
        Math.min(1, best / all),
        truth <= end && truth > end - width,
        STEP_MM * StrictMath.sqrt(Math.max(0, second / all - mean * mean)));
  }

  private double logDensity(double[] unknown) {
    double[] would = model.see(unknown);
    double sum = 0;
    for (int i = 0; i < would.length; i++) {
      sum += (would[i] - seen[i]) * (would[i] - seen[i]);
    }
    for (int p = 1; p < unknown.length; p++) {
      sum += unknown[p] * unknown[p];
    }
    return -0.5 * sum;
  }

  /** The way to go per millimetre of the place that readings and spreads tell worst. */
  private double[] direction(double[] unknown) {
    int n = unknown.length;
    double[] would = model.see(unknown);
    double[][] slopes = new double[n][];
    for (int p = 0; p < n; p++) {
      slopes[p] = model.see(moved(unknown, p, NUDGE));
      for (int i = 0; i < would.length; i++) {
        slopes[p][i] = (slopes[p][i] - would[i]) / NUDGE;
      }
    }
    // least squares for the others, the place going on by one
    double[][] normal = new double[n - 1][n];
    for (int p = 1; p < n; p++) {
      for (int q = 0; q < n; q++) {
        double along = p == q ? 1 : 0;
        for (int i = 0; i < would.length; i++) {
          along += slopes[p][i] * slopes[q][i];
        }
        normal[p - 1][q == 0 ? n - 1 : q - 1] = q == 0 ? -along : along;
      }
    }
    eliminate(normal);
    double[] way = new double[n];
    way[0] = 1;
    for (int p = n - 1; p > 0; p--) {
      double sum = normal[p - 1][n - 1];
      for (int q = p + 1; q < n; q++) {
        sum -= normal[p - 1][q - 1] * way[q];
      }
      way[p] = sum / normal[p - 1][p - 1];
    }
    return way;
  }

  /** Logarithm of the growth of volume in one step through a middle. */
  private double growth(double[] middle, double step) {
    int n = middle.length;
    double[] way = direction(middle);
    double[][] forth = new double[n][n];
    double[][] back = new double[n][n];
    for (int q = 0; q < n; q++) {
      double[] beside = direction(moved(middle, q, NUDGE));
      for (int p = 0; p < n; p++) {
        double half = step / 2 * (beside[p] - way[p]) / NUDGE;
        forth[p][q] = (p == q ? 1 : 0) + half;
        back[p][q] = (p == q ? 1 : 0) - half;
      }
    }
    return eliminate(forth) - eliminate(back);
  }

  private static double[] moved(double[] unknown, int p, double by) {
    double[] moved = unknown.clone();
    moved[p] += by;
    return moved;
  }

  /** Brings a matrix into upper triangle; gives the logarithm of its determinant. */
  private static double eliminate(double[][] matrix) {
    double log = 0;
    for (int p = 0; p < matrix.length; p++) {
      log += StrictMath.log(Math.abs(matrix[p][p]));
      for (int q = p + 1; q < matrix.length; q++) {
        double share = matrix[q][p] / matrix[p][p];
        for (int r = p; r < matrix[q].length; r++) {
          matrix[q][r] -= share * matrix[p][r];
        }
      }
    }
    return log;
  }
}
