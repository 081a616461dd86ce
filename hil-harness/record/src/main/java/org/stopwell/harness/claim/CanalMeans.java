package org.stopwell.harness.claim;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Equivalence;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;

/**
 * Lengths with one number for each canal: the mean of its trials, whatever their number.
 *
 * @param canals the moments of each canal that has trials, µm
 */
public record CanalMeans(List<Moments> canals) {
  /** Takes a copy. */
  public CanalMeans {
    canals = List.copyOf(canals);
  }

  static CanalMeans of(Collection<Moments> canals) {
    return new CanalMeans(canals.stream().filter(c -> c.count() > 0).toList());
  }

  /**
   * How many canals have trials.
   *
   * @return from 0
   */
  public int count() {
    return canals.size();
  }

  /**
   * The mean over the canals.
   *
   * @return µm, empty without canals
   */
  public OptionalDouble mean() {
    return ClusteredMean.mean(canals);
  }

  /**
   * Student's interval of the mean.
   *
   * @param confidence two-sided, between 0 and 1
   * @return µm, empty with fewer than two canals or when all means are equal
   */
  public Optional<Interval> interval(double confidence) {
    return ClusteredMean.interval(canals, confidence);
  }

  /** The interval of this mean less another one, by Welch. */
  Optional<Interval> less(CanalMeans other, double alpha) {
    double s1 = deviation();
    double s2 = other.deviation();
    return s1 > 0 && s2 > 0
        ? Optional.of(
            Equivalence.welch(
                    mean().orElseThrow(),
                    s1,
                    count(),
                    other.mean().orElseThrow(),
                    s2,
                    other.count(),
                    1)
                .interval(alpha))
        : Optional.empty();
  }

  /** Standard deviation between the canals; 0 with fewer than two. */
  private double deviation() {
    double mean = mean().orElse(0);
    double squares =
        canals.stream().mapToDouble(c -> Math.pow(c.mean().orElseThrow() - mean, 2)).sum();
    return count() < 2 ? 0 : Math.sqrt(squares / (count() - 1));
  }
}
