package org.stopwell.harness.explore;

import java.util.List;
import org.apache.commons.math3.random.SobolSequenceGenerator;
import org.stopwell.harness.plan.Factor;
import org.stopwell.rig.random.RandomStream;

/**
 * The arrangement for sensitivity indices: rows of two points A and B of Sobol's sequence, and for
 * each factor the point A with the value of B in this factor (Saltelli et al., Comput Phys Commun
 * 2010;181:259). Everything that is not a factor is the last factor.
 *
 * <p>The rows belong to {@link #REPLICATES} sequences in turn, each shifted by random numbers of
 * its own (Cranley and Patterson 1976). They are independent, so their scatter gives the intervals.
 */
final class SobolDesign implements SpaceDesign {
  /** Independent sequences; assumed: enough for an interval with Student's t. */
  static final int REPLICATES = 16;

  /** Fewest rows of a replicate. */
  private static final int FEWEST = 4;

  private final List<Factor> factors;
  private final long rows;
  private final double[][] shifts;
  private final ThreadLocal<SobolSequenceGenerator> sequence;

  SobolDesign(List<Factor> factors, long seed, long trials) throws SpaceException {
    this.factors = List.copyOf(factors);
    int dimensions = 2 * factors.size();
    this.rows = trials / unitTrials() / REPLICATES * REPLICATES;
    long fewest = (long) REPLICATES * FEWEST * unitTrials();
    if (trials < fewest) {
      throw new SpaceException(
          trials
              + " trials are too few for sensitivity indices of "
              + factors.size()
              + " factors; at least "
              + fewest
              + " are needed");
    }
    this.shifts = new double[REPLICATES][dimensions];
    for (int r = 0; r < REPLICATES; r++) {
      RandomStream random = RandomStream.of(seed, "shift of replicate " + r);
      for (int d = 0; d < dimensions; d++) {
        shifts[r][d] = random.nextDouble();
      }
    }
    this.sequence = ThreadLocal.withInitial(() -> new SobolSequenceGenerator(dimensions));
  }

  @Override
  public long units() {
    return rows;
  }

  /** A, B, and A with B in each factor and in the rest. */
  @Override
  public int unitTrials() {
    return factors.size() + 3;
  }

  static int replicate(long unit) {
    return (int) (unit % REPLICATES);
  }

  @Override
  public void point(long unit, int member, long[] values) {
    double[] shift = shifts[replicate(unit)];
    double[] row = sequence.get().skipTo((int) (unit / REPLICATES));
    int n = factors.size();
    for (int i = 0; i < n; i++) {
      int from = member == 1 || member == 2 + i ? n + i : i;
      double share = row[from] + shift[from];
      values[i] = factors.get(i).at(share >= 1 ? share - 1 : share);
    }
  }

  @Override
  public long rest(long unit, int member) {
    return 2 * unit + (member == 1 || member == factors.size() + 2 ? 1 : 0);
  }
}
