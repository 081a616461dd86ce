package org.stopwell.harness.assess;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.random.RandomStream;

/**
 * Canals that would give the same readings as the true one, each as often as it is probable: the
 * whole distribution of what is unknown given what is seen, without an approximation.
 *
 * <p>A Markov chain that leaves this distribution as it is begins at the true canal. The true canal
 * is a draw from it, and so is every later state; there is nothing to wait for. An estimator sees
 * the readings alone, so it is right for any state as often as for the true canal, and therefore as
 * often as for the mean of all states. That cannot exceed the greatest share of states that one
 * answer is right for. It holds however slowly the chain moves: one that moves little proves
 * little, since its states lie close together, but it proves nothing wrong.
 *
 * <p>Readings tell a canal almost exactly in some directions and hardly at all in others, and the
 * directions turn, so plain steps are refused nearly always. Here noise counts as unknown too: what
 * is unknown and the noise together have a standard normal distribution, and readings without an
 * error of their own hold them to a surface. A step goes straight along the tangent, is led back to
 * the surface along the normals of where it began, and is obeyed only when the way back leads back;
 * so neither volume nor density is lost (Au, Graham and Thiery, J R Stat Soc B 2023;85:757; Zappa,
 * Holmes-Cerfon and Goodman, Commun Pure Appl Math 2018;71:2609; both from memory).
 */
final class TruthChain {
  /** What is unknown and what is seen of it. */
  interface Model {
    /**
     * What is seen, without noise.
     *
     * @param scores what is unknown, as normal scores
     * @return readings, each in units of its noise
     */
    double[] see(double[] scores);

    /**
     * How the readings change with what is unknown.
     *
     * @param scores what is unknown, as normal scores
     * @param would what is seen there, without noise
     * @return change of every reading, by unknown
     */
    default double[][] slopes(double[] scores, double[] would) {
      double[][] slopes = new double[scores.length][];
      for (int p = 0; p < scores.length; p++) {
        slopes[p] = slope(scores, would, p);
      }
      return slopes;
    }

    /** How the readings change with one unknown. */
    default double[] slope(double[] scores, double[] would, int p) {
      double[] moved = scores.clone();
      moved[p] += NUDGE;
      double[] then = see(moved);
      double[] slope = new double[would.length];
      Arrays.setAll(slope, i -> (then[i] - would[i]) / NUDGE);
      return slope;
    }
  }

  /**
   * Greatest and least way of a step, in normal scores; drawn anew for each move. Tried on canals
   * of seed 890010; a bad choice makes the chain slow and never wrong.
   */
  private static final double LONG_STEP = 0.3;

  private static final double SHORT_STEP = 0.03;

  /** Steps of a move. */
  private static final int STEPS = 4;

  /** Way over which a slope is taken, in normal scores. */
  private static final double NUDGE = 1e-4;

  /** A round that goes further than this has lost its way, in normal scores. */
  private static final double LOST = 10;

  /** Rounds to find back to the surface. */
  private static final int ROUNDS = 25;

  /** On the surface, in normal scores; and so far off may the way back end. */
  private static final double CLOSE = 1e-8;

  private static final double BACK = 1e-6;

  /** A place on the surface. */
  private final class Place {
    /** What is unknown. */
    final double[] scores;

    /** What is left of the readings. */
    final double[] noise;

    /** Change of every reading, by unknown. */
    final double[][] slopes;

    /** Lower triangle whose square is the metric: one plus the square of the slopes. */
    final double[][] root;

    /**
     * Minus the logarithm of the density on the surface: of both spreads, less half of that of the
     * metric's determinant, since the surface is a graph over the scores.
     */
    final double potential;

    Place(double[] scores) {
      this.scores = scores;
      double[] would = model.see(scores);
      noise = new double[would.length];
      Arrays.setAll(noise, i -> seen[i] - would[i]);
      slopes = model.slopes(scores, would);
      root = product(slopes, slopes);
      potential = 0.5 * (dot(scores, scores) + dot(noise, noise)) + toRoot(root);
    }
  }

  private final Model model;
  private final double[] seen;
  private final RandomStream random;
  private Place here;
  private int obeyed;

  /**
   * A chain at its beginning.
   *
   * @param model what is unknown and what is seen of it
   * @param truth what is unknown, as it really is
   * @param seen the readings, with noise, in units of it
   * @param random where the moves come from
   */
  TruthChain(Model model, double[] truth, double[] seen, RandomStream random) {
    this.model = model;
    this.seen = seen.clone();
    this.random = random;
    here = new Place(truth.clone());
  }

  /** What is unknown in the present state. */
  double[] scores() {
    return here.scores.clone();
  }

  /** Moves that were obeyed. */
  int obeyed() {
    return obeyed;
  }

  /** One move; the state may stay as it is. */
  void move() {
    double way = LONG_STEP * StrictMath.pow(SHORT_STEP / LONG_STEP, random.nextDouble());
    double[] speed = new double[here.scores.length];
    Arrays.setAll(speed, i -> random.nextGaussian());
    solveUpper(here.root, speed);
    double before = here.potential + kinetic(here, speed);
    double luck = StrictMath.log(random.nextDouble());
    Place at = here;
    for (int k = 0; k < STEPS; k++) {
      double[] to = land(at, speed, way);
      if (to == null) {
        return;
      }
      Place there = new Place(to);
      double[] on = carriedOn(at, there, way);
      double[] back = land(there, negative(on), way);
      if (back == null || !near(back, at.scores)) {
        return;
      }
      at = there;
      speed = on;
    }
    if (luck < before - at.potential - kinetic(at, speed)) {
      here = at;
      obeyed++;
    }
  }

  /**
   * Greatest share of some values that one answer is right for.
   *
   * @param values the values
   * @param within an answer is right within this
   */
  static double bestShare(double[] values, double within) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int most = 0;
    int from = 0;
    for (int to = 0; to < sorted.length; to++) {
      while (sorted[to] - sorted[from] > 2 * within) {
        from++;
      }
      most = Math.max(most, to - from + 1);
    }
    return (double) most / sorted.length;
  }

  /**
   * Goes a step and back to the surface along the normals of where it began.
   *
   * @return the new scores; null where no way back to the surface was found
   */
  private double @Nullable [] land(Place from, double[] speed, double way) {
    double[] straight = new double[speed.length];
    for (int p = 0; p < speed.length; p++) {
      straight[p] = from.scores[p] + way * (speed[p] - way / 2 * from.scores[p]);
    }
    // what the noise would be there, less what is seen
    double[] off = new double[seen.length];
    for (int i = 0; i < seen.length; i++) {
      double along = way / 2 * from.noise[i];
      for (int p = 0; p < speed.length; p++) {
        along += from.slopes[p][i] * speed[p];
      }
      off[i] = from.noise[i] - way * along - seen[i];
    }
    double[] scores = straight.clone();
    double[] would = model.see(scores);
    double[][] metric = product(from.slopes, from.slopes);
    double[] left = left(from, straight, off, scores, would);
    for (int round = 0; round < ROUNDS; round++) {
      double[] by = left.clone();
      solve(metric, by);
      for (int p = 0; p < scores.length; p++) {
        scores[p] += by[p];
      }
      double way2 = dot(by, by);
      if (!(way2 < LOST * LOST)) {
        return null;
      }
      if (way2 < CLOSE * CLOSE) {
        return scores;
      }
      left = left(from, straight, off, scores, model.see(scores));
      // Broyden, Math Comput 1965;19:577, from memory: the metric learns from what the round missed
      for (int p = 0; p < scores.length; p++) {
        for (int q = 0; q < scores.length; q++) {
          metric[p][q] -= left[p] * by[q] / way2;
        }
      }
    }
    return null;
  }

  /** How much is left to the surface, along the normals of where a step began. */
  private static double[] left(
      Place from, double[] straight, double[] off, double[] scores, double[] would) {
    double[] left = new double[scores.length];
    for (int p = 0; p < scores.length; p++) {
      left[p] = straight[p] - scores[p];
      for (int i = 0; i < would.length; i++) {
        left[p] -= from.slopes[p][i] * (off[i] + would[i]);
      }
    }
    return left;
  }

  /** The speed after a step: what is along the tangent there. */
  private static double[] carriedOn(Place from, Place to, double way) {
    double[] speed = new double[to.scores.length];
    double[] noise = new double[to.noise.length];
    Arrays.setAll(noise, i -> (to.noise[i] - from.noise[i]) / way - way / 2 * to.noise[i]);
    for (int p = 0; p < speed.length; p++) {
      speed[p] =
          (to.scores[p] - from.scores[p]) / way - way / 2 * to.scores[p] - dot(to.slopes[p], noise);
    }
    solveLower(to.root, speed);
    solveUpper(to.root, speed);
    return speed;
  }

  private static double kinetic(Place at, double[] speed) {
    double sum = 0;
    for (int q = 0; q < speed.length; q++) {
      double along = 0;
      for (int p = q; p < speed.length; p++) {
        along += at.root[p][q] * speed[p];
      }
      sum += along * along;
    }
    return 0.5 * sum;
  }

  private static double[] negative(double[] a) {
    double[] minus = new double[a.length];
    Arrays.setAll(minus, i -> -a[i]);
    return minus;
  }

  private static boolean near(double[] a, double[] b) {
    for (int i = 0; i < a.length; i++) {
      if (!(Math.abs(a[i] - b[i]) <= BACK)) {
        return false;
      }
    }
    return true;
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }

  /** One plus the products of the rows of two tables. */
  private static double[][] product(double[][] a, double[][] b) {
    double[][] product = new double[a.length][b.length];
    for (int p = 0; p < a.length; p++) {
      for (int q = 0; q < b.length; q++) {
        product[p][q] = (p == q ? 1 : 0) + dot(a[p], b[q]);
      }
    }
    return product;
  }

  /** Replaces the lower triangle by its root (Cholesky); gives the logarithm of its determinant. */
  private static double toRoot(double[][] a) {
    double log = 0;
    for (int p = 0; p < a.length; p++) {
      for (int q = 0; q <= p; q++) {
        double sum = a[p][q];
        for (int r = 0; r < q; r++) {
          sum -= a[p][r] * a[q][r];
        }
        a[p][q] = p == q ? Math.sqrt(sum) : sum / a[q][q];
      }
      log += StrictMath.log(a[p][p]);
    }
    return log;
  }

  private static void solveLower(double[][] root, double[] x) {
    for (int p = 0; p < x.length; p++) {
      for (int q = 0; q < p; q++) {
        x[p] -= root[p][q] * x[q];
      }
      x[p] /= root[p][p];
    }
  }

  private static void solveUpper(double[][] root, double[] x) {
    for (int p = x.length - 1; p >= 0; p--) {
      for (int q = p + 1; q < x.length; q++) {
        x[p] -= root[q][p] * x[q];
      }
      x[p] /= root[p][p];
    }
  }

  /** Solves by elimination with a pivot of the column; the table stays as it is. */
  private static void solve(double[][] matrix, double[] x) {
    double[][] a = new double[matrix.length][];
    Arrays.setAll(a, p -> matrix[p].clone());
    for (int p = 0; p < a.length; p++) {
      int pivot = p;
      for (int q = p + 1; q < a.length; q++) {
        pivot = Math.abs(a[q][p]) > Math.abs(a[pivot][p]) ? q : pivot;
      }
      double[] row = a[p];
      a[p] = a[pivot];
      a[pivot] = row;
      double right = x[p];
      x[p] = x[pivot];
      x[pivot] = right;
      for (int q = p + 1; q < a.length; q++) {
        double share = a[q][p] / a[p][p];
        for (int r = p; r < a.length; r++) {
          a[q][r] -= share * a[p][r];
        }
        x[q] -= share * x[p];
      }
    }
    for (int p = a.length - 1; p >= 0; p--) {
      for (int q = p + 1; q < a.length; q++) {
        x[p] -= a[p][q] * x[q];
      }
      x[p] /= a[p][p];
    }
  }
}
