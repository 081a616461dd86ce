package org.stopwell.harness.explore;

import java.util.List;
import org.stopwell.harness.plan.Factor;
import org.stopwell.rig.random.RandomStream;

/**
 * Trajectories for screening: a random point of a grid of four levels, then one factor after the
 * other moves by two thirds of its range (Morris, Technometrics 1991;33:161). Everything that is
 * not a factor moves last: another draw.
 */
final class MorrisDesign implements SpaceDesign {
  /** Step of a factor, as a share of its range: p / (2 (p − 1)) with p = 4 levels. */
  static final double STEP = 2.0 / 3;

  /** Fewest trajectories, as in Morris' example. */
  private static final int FEWEST = 4;

  private final List<Factor> factors;
  private final long seed;
  private final long trajectories;

  MorrisDesign(List<Factor> factors, long seed, long trials) throws SpaceException {
    this.factors = List.copyOf(factors);
    this.seed = seed;
    this.trajectories = trials / unitTrials();
    if (trajectories < FEWEST) {
      throw new SpaceException(
          trials
              + " trials are too few to screen "
              + factors.size()
              + " factors; at least "
              + FEWEST * unitTrials()
              + " are needed");
    }
  }

  @Override
  public long units() {
    return trajectories;
  }

  @Override
  public int unitTrials() {
    return factors.size() + 2;
  }

  /** The order in which factors move, and of each the start and the direction. */
  private int[] draw(long unit, double[] start, boolean[] up) {
    RandomStream random = RandomStream.of(RandomStream.trialSeed(seed, unit), "trajectory");
    int n = factors.size();
    int[] order = new int[n];
    for (int i = 0; i < n; i++) {
      int j = (int) (random.nextDouble() * (i + 1));
      order[i] = order[j];
      order[j] = i;
    }
    for (int i = 0; i < n; i++) {
      double low = random.nextDouble() < 0.5 ? 0 : 1.0 / 3;
      up[i] = random.nextDouble() < 0.5;
      start[i] = up[i] ? low : low + STEP;
    }
    return order;
  }

  @Override
  public void point(long unit, int member, long[] values) {
    int n = factors.size();
    double[] at = new double[n];
    boolean[] up = new boolean[n];
    int[] order = draw(unit, at, up);
    for (int i = 0; i < Math.min(member, n); i++) {
      int moved = order[i];
      at[moved] += up[moved] ? STEP : -STEP;
    }
    for (int i = 0; i < n; i++) {
      values[i] = factors.get(i).at(Math.max(0, Math.min(1, at[i])));
    }
  }

  /** The factor that moved before a member, from 1 on; the number of factors is the rest. */
  int moved(long unit, int member) {
    int n = factors.size();
    return member == n + 1 ? n : draw(unit, new double[n], new boolean[n])[member - 1];
  }

  /** Whether a factor moved upwards in a trajectory. */
  boolean isUp(long unit, int factor) {
    int n = factors.size();
    boolean[] up = new boolean[n];
    draw(unit, new double[n], up);
    return factor == n || up[factor];
  }

  @Override
  public long rest(long unit, int member) {
    return 2 * unit + (member == factors.size() + 1 ? 1 : 0);
  }
}
