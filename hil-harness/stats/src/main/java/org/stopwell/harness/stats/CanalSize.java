package org.stopwell.harness.stats;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalInt;
import java.util.function.DoubleSupplier;
import java.util.function.Supplier;

/**
 * How many canals a claim on a share needs, by simulated campaigns that the deciding rule itself
 * decides: the bound on the mean of the canals' shares, at the end or at a few looks.
 */
public final class CanalSize {
  /** Simulated campaigns behind each number. */
  public static final int CAMPAIGNS = 10_000;

  private static final int BATCH = 250;
  private static final int MOST = 1_000;

  private CanalSize() {}

  /**
   * How often a claim "at least this share" is shown.
   *
   * @param canals number of canals
   * @param counts what happens in each
   * @param share the claimed share
   * @param confidences one-sided confidence of each look, after equal steps, the last at the end;
   *     one number for a claim that is decided at the end only
   * @param campaigns how many are simulated
   * @param uniform random numbers from 0 to 1
   * @return campaigns that show it, out of all
   */
  public static Proportion power(
      int canals,
      CanalCounts counts,
      double share,
      List<Double> confidences,
      int campaigns,
      DoubleSupplier uniform) {
    int shown = 0;
    for (int c = 0; c < campaigns; c++) {
      shown += shows(canals, counts, share, confidences, uniform) ? 1 : 0;
    }
    return new Proportion(shown, campaigns);
  }

  private static boolean shows(
      int canals,
      CanalCounts counts,
      double share,
      List<Double> confidences,
      DoubleSupplier uniform) {
    double[] numbers = new double[canals];
    Arrays.setAll(numbers, i -> counts.draw(uniform.getAsDouble()));
    int looks = confidences.size();
    for (int look = 1; look <= looks; look++) {
      double confidence = confidences.get(look - 1);
      double[] seen = Arrays.copyOf(numbers, (canals * look + looks - 1) / looks);
      if (BoundedMean.isAtLeast(seen, confidence, share)) {
        return true;
      }
      // Contradicted at a look: the campaign ends there.
      if (look < looks && BoundedMean.isAtLeast(BoundedMean.others(seen), confidence, 1 - share)) {
        return false;
      }
    }
    return false;
  }

  /**
   * Fewest canals that show the claim often enough, with two standard errors of the simulation to
   * spare.
   *
   * @param counts what happens in each canal
   * @param share the claimed share
   * @param confidences one-sided confidence of each look, as above
   * @param power wanted chance
   * @param streams gives the same random numbers from 0 to 1 anew, for each number of canals
   * @return number of canals; empty beyond a thousand
   */
  public static OptionalInt least(
      CanalCounts counts,
      double share,
      List<Double> confidences,
      double power,
      Supplier<DoubleSupplier> streams) {
    if (!(counts.mean() > share)) {
      return OptionalInt.empty();
    }
    int low = 0;
    int high = withoutMiss(share, confidences.get(confidences.size() - 1));
    while (high <= MOST && !reaches(high, counts, share, confidences, power, streams.get())) {
      low = high;
      high += Math.max(1, high / 4);
    }
    if (high > MOST) {
      return OptionalInt.empty();
    }
    while (high - low > 1) {
      int middle = (low + high) >>> 1;
      if (reaches(middle, counts, share, confidences, power, streams.get())) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return OptionalInt.of(high);
  }

  /** Whether the chance is reached; most numbers of canals are told after few campaigns. */
  private static boolean reaches(
      int canals,
      CanalCounts counts,
      double share,
      List<Double> confidences,
      double power,
      DoubleSupplier uniform) {
    long shown = 0;
    for (int n = BATCH; ; n += BATCH) {
      shown += power(canals, counts, share, confidences, BATCH, uniform).count();
      double found = (double) shown / n;
      double careful = (shown + 2.0) / (n + 4.0);
      double error = Math.sqrt(careful * (1 - careful) / n);
      if (found + 4 * error < power) {
        return false;
      }
      if (found - 4 * error >= power || shown == n || n >= CAMPAIGNS) {
        return found - (shown == n ? 0 : 2 * error) >= power;
      }
    }
  }

  /**
   * Fewest canals that show the claim when no trial misses.
   *
   * @param share the claimed share, 0 to 1 exclusive
   * @param confidence one-sided confidence
   * @return number of canals
   */
  public static int withoutMiss(double share, double confidence) {
    return Math.max(1, (int) Math.ceil(Math.log(1 - confidence) / Math.log(share) - 1e-9));
  }
}
