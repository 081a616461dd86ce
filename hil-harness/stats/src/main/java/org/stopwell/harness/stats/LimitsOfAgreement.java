package org.stopwell.harness.stats;

import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Limits of agreement between two ways of measuring the same (Bland and Altman, Lancet 1986; i:
 * 307; repeated measures: Statistical Methods in Medical Research 8, 1999, 135).
 *
 * @param bias mean difference
 * @param deviation standard deviation of one difference
 * @param subjects independent subjects behind it
 * @param limitError standard error of a limit
 */
public record LimitsOfAgreement(double bias, double deviation, long subjects, double limitError) {
  /**
   * Agreement from one pair per subject.
   *
   * @param differences first minus second, one per subject
   * @return the agreement, empty with fewer than two or all equal
   */
  public static Optional<LimitsOfAgreement> ofPairs(Moments differences) {
    double s = differences.standardDeviation().orElse(0);
    return s > 0
        ? Optional.of(
            new LimitsOfAgreement(
                differences.mean().orElseThrow(),
                s,
                differences.count(),
                s * Math.sqrt(3.0 / differences.count())))
        : Optional.empty();
  }

  /**
   * Agreement from several pairs per subject, the true value being free to vary: the variance of
   * one difference is that between subjects plus that within, from the one-way analysis of the
   * differences. The error of the limits is the one of as many independent pairs as there are
   * subjects, which never understates it.
   *
   * @param differences first minus second, grouped by subject
   * @return the agreement, empty when the spread cannot be split
   */
  public static Optional<LimitsOfAgreement> ofRepeats(List<Moments> differences) {
    Moments all = differences.stream().reduce(Moments.NONE, Moments::plus);
    return OneWay.of(differences)
        .filter(split -> split.reproducibility() > 0)
        .map(
            split ->
                new LimitsOfAgreement(
                    all.mean().orElseThrow(),
                    split.reproducibility(),
                    split.groups(),
                    split.reproducibility() * Math.sqrt(3.0 / split.groups())));
  }

  /**
   * The limits of agreement.
   *
   * @param z how many standard deviations to each side, 1.96 for 95 % of differences
   * @return bias ± z s
   */
  public Interval limits(double z) {
    return new Interval(bias - z * deviation, bias + z * deviation);
  }

  /**
   * The interval of the bias.
   *
   * @param confidence two-sided confidence
   * @return bias ± t s / √n
   */
  public Interval biasInterval(double confidence) {
    return around(bias, deviation / Math.sqrt((double) subjects), confidence);
  }

  /**
   * The interval of the lower limit.
   *
   * @param z how many standard deviations the limit lies from the bias
   * @param confidence two-sided confidence
   * @return limit ± t √(3 s²/n)
   */
  public Interval lowerLimitInterval(double z, double confidence) {
    return around(limits(z).low(), limitError, confidence);
  }

  /**
   * The interval of the upper limit.
   *
   * @param z how many standard deviations the limit lies from the bias
   * @param confidence two-sided confidence
   * @return limit ± t √(3 s²/n)
   */
  public Interval upperLimitInterval(double z, double confidence) {
    return around(limits(z).high(), limitError, confidence);
  }

  private Interval around(double centre, double error, double confidence) {
    double t = TDistribution.of(subjects - 1.0).inverseSurvivalProbability((1 - confidence) / 2);
    return new Interval(centre - t * error, centre + t * error);
  }
}
