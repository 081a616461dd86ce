package org.stopwell.harness.tune;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.Optional;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;

/**
 * What settings gave in some canals.
 *
 * @param trials trials whose values can be together
 * @param impossible trials whose values contradict each other
 * @param stopped trials that stopped
 * @param overTravel trials past the foramen
 * @param early trials that stopped early
 * @param refused trials that refused
 * @param millis bench times, ms
 * @param errors stop errors of the trials that stopped, µm
 * @param spreadError standard error of the standard deviation of one stop error, times √n, mm
 */
public record Measured(
    long trials,
    long impossible,
    long stopped,
    long overTravel,
    long early,
    long refused,
    Moments millis,
    Moments errors,
    double spreadError) {

  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  static Measured of(CanalSums sums, int of) {
    long stopped = sums.count(of, CanalSums.Sum.STOPPED);
    long trials = sums.count(of, CanalSums.Sum.TRIALS);
    Moments errors =
        new Moments(
            stopped, sums.get(of, CanalSums.Sum.ERROR), sums.get(of, CanalSums.Sum.ERROR_2));
    return new Measured(
        trials,
        sums.count(of, CanalSums.Sum.IMPOSSIBLE),
        stopped,
        sums.count(of, CanalSums.Sum.OVER_TRAVEL),
        sums.count(of, CanalSums.Sum.EARLY),
        sums.count(of, CanalSums.Sum.REFUSED),
        new Moments(
            trials, sums.get(of, CanalSums.Sum.MILLIS), sums.get(of, CanalSums.Sum.MILLIS_2)),
        errors,
        spreadError(sums, of, stopped));
  }

  /**
   * √n times the standard error of a standard deviation s, for any distribution with a fourth
   * moment: √(m4 − s⁴) / 2 s, by the delta method from var(s²) = (m4 − s⁴) / n. mm.
   */
  private static double spreadError(CanalSums sums, int of, long n) {
    if (n < 2) {
      return Double.NaN;
    }
    BigDecimal count = BigDecimal.valueOf(n);
    BigDecimal m = mean(sums.get(of, CanalSums.Sum.ERROR), count);
    BigDecimal a2 = mean(sums.get(of, CanalSums.Sum.ERROR_2), count);
    BigDecimal a3 = mean(sums.get(of, CanalSums.Sum.ERROR_3), count);
    BigDecimal a4 = mean(sums.get(of, CanalSums.Sum.ERROR_4), count);
    BigDecimal m2 = a2.subtract(m.pow(2));
    BigDecimal m4 =
        a4.subtract(a3.multiply(m).multiply(BigDecimal.valueOf(4)))
            .add(a2.multiply(m.pow(2)).multiply(BigDecimal.valueOf(6)))
            .subtract(m.pow(4).multiply(BigDecimal.valueOf(3)));
    double variance = m2.doubleValue();
    double rest = m4.doubleValue() - variance * variance;
    return variance > 0 ? Math.sqrt(Math.max(0, rest)) / (2 * Math.sqrt(variance)) / 1e3 : 0;
  }

  private static BigDecimal mean(BigInteger sum, BigDecimal count) {
    return new BigDecimal(sum).divide(count, MathContext.DECIMAL128);
  }

  /**
   * A measure.
   *
   * @param measure which
   * @return a share, s or mm; NaN without trials that have it
   */
  public double value(TuneTarget.Measure measure) {
    return switch (measure) {
      case OVER_TRAVEL, EARLY_STOP, REFUSAL -> share(measure).estimate().orElse(Double.NaN);
      case TIME -> millis.mean().orElse(Double.NaN) / 1e3;
      case STOP_ERROR_SPREAD -> errors.standardDeviation().orElse(Double.NaN) / 1e3;
    };
  }

  /**
   * A share as a count.
   *
   * @param measure one that is a share
   * @return count and trials
   */
  public Proportion share(TuneTarget.Measure measure) {
    return new Proportion(
        switch (measure) {
          case OVER_TRAVEL -> overTravel;
          case EARLY_STOP -> early;
          case REFUSAL -> refused;
          case TIME, STOP_ERROR_SPREAD ->
              throw new IllegalArgumentException(measure.key() + " is not a share");
        },
        trials);
  }

  /** Standard error of a measure that is not a share, if it were measured in that many canals. */
  double error(TuneTarget.Measure measure, double canals) {
    return switch (measure) {
      case OVER_TRAVEL, EARLY_STOP, REFUSAL ->
          throw new IllegalArgumentException(measure.key() + " is a share");
      case TIME -> millis.standardDeviation().orElse(Double.NaN) / 1e3 / Math.sqrt(canals);
      case STOP_ERROR_SPREAD ->
          spreadError / Math.sqrt(Math.max(1, canals * stopped / Math.max(1, trials)));
    };
  }

  /**
   * The two-sided interval of a measure: exact for a share (Clopper and Pearson), Student's for the
   * mean time, and that of a large sample for the spread.
   *
   * @param measure which
   * @param confidence two-sided confidence
   * @return empty without trials that have it
   */
  public Optional<Interval> interval(TuneTarget.Measure measure, double confidence) {
    return switch (measure) {
      case OVER_TRAVEL, EARLY_STOP, REFUSAL -> share(measure).clopperPearson(confidence);
      case TIME ->
          trials == 0
              ? Optional.empty()
              : Optional.of(
                  millis
                      .meanInterval(confidence)
                      .map(i -> new Interval(i.low() / 1e3, i.high() / 1e3))
                      .orElseGet(() -> new Interval(value(measure), value(measure))));
      case STOP_ERROR_SPREAD -> {
        double s = value(measure);
        double half =
            NORMAL.inverseSurvivalProbability((1 - confidence) / 2)
                * error(measure, (double) trials);
        yield Double.isNaN(s + half)
            ? Optional.empty()
            : Optional.of(new Interval(Math.max(0, s - half), s + half));
      }
    };
  }
}
