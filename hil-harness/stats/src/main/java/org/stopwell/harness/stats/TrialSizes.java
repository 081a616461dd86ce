package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalInt;
import java.util.function.IntToDoubleFunction;
import org.jspecify.annotations.Nullable;

/** A table of how many trials claims need, and of the power of a number of trials. */
public final class TrialSizes {
  private final Map<String, Object> sizes = new LinkedHashMap<>();
  private final double confidence;
  private final double power;
  private final int perCanal;
  private final double correlation;
  private final double lost;
  private final @Nullable Integer trials;

  /**
   * An empty table.
   *
   * @param confidence one-sided confidence
   * @param power wanted chance of showing a true claim
   * @param perCanal trials in each canal
   * @param correlation intraclass correlation of one canal, 0 to 1
   * @param lost share of trials that the rig spoils, 0 to 1
   * @param trials number of trials whose power is wanted too; null for none
   */
  public TrialSizes(
      double confidence,
      double power,
      int perCanal,
      double correlation,
      double lost,
      @Nullable Integer trials) {
    this.confidence = confidence;
    this.power = power;
    this.perCanal = perCanal;
    this.correlation = correlation;
    this.lost = lost;
    this.trials = trials;
  }

  /**
   * What was asked for.
   *
   * @return numbers by what they are, in the order of the questions
   */
  public Map<String, Object> values() {
    return new LinkedHashMap<>(sizes);
  }

  /**
   * At least this share.
   *
   * @param claimed the share, 0 to 1
   * @param truth the true share that is expected; null for none
   * @param cap most trials of a campaign that is looked at after every trial; null for none
   */
  public void share(double claimed, @Nullable Double truth, @Nullable Integer cap) {
    for (int misses = 0; misses <= 3; misses++) {
      add(
          "share with " + misses + (misses == 1 ? " miss" : " misses"),
          SampleSize.trialsForShare(claimed, confidence, misses));
    }
    if (truth == null) {
      return;
    }
    double expected = truth;
    add(
        "share with power " + power,
        SampleSize.trialsForShare(claimed, confidence, expected, power));
    power(n -> SampleSize.powerOfShare(n, claimed, confidence, expected));
    if (cap != null) {
      Sprt.Behaviour anytime = Anytime.behaviour(claimed, confidence, expected, cap);
      sizes.put("looking after every trial, mean trials", rounded(anytime.meanTrials(), 1));
      sizes.put("looking after every trial, power", rounded(anytime.accept(), 4));
    }
  }

  /**
   * A tolerance interval within a band.
   *
   * @param share share of the population in the interval, 0 to 1
   * @param band half width of the band
   * @param deviation expected standard deviation, in the same unit
   * @param bias expected mean, in the same unit
   */
  public void tolerance(double share, double band, double deviation, double bias) {
    add(
        "tolerance interval within band with power " + power,
        SampleSize.trialsForTolerance(share, confidence, band, deviation, bias, power));
    power(n -> SampleSize.powerOfTolerance(n, share, confidence, band, deviation, bias));
  }

  /**
   * A mean within a margin.
   *
   * @param margin the margin
   * @param deviation expected standard deviation, in the same unit
   * @param bias expected mean, in the same unit
   */
  public void mean(double margin, double deviation, double bias) {
    add(
        "mean within margin with power " + power,
        SampleSize.trialsForBias(margin, deviation, bias, confidence, power));
    power(n -> SampleSize.powerOfBias(n, margin, deviation, bias, confidence));
  }

  /**
   * Limits of agreement.
   *
   * @param width wanted half width of the interval of a limit
   * @param deviation expected standard deviation, in the same unit
   */
  public void limits(double width, double deviation) {
    add("pairs for limits of agreement", SampleSize.pairsForLimits(width, deviation, confidence));
  }

  /**
   * A difference of two means.
   *
   * @param difference the difference
   * @param deviation expected standard deviation, in the same unit
   * @param looks how often a campaign is looked at, from 1
   */
  public void shift(double difference, double deviation, int looks) {
    double alpha = 2 * (1 - confidence);
    OptionalInt fixed = SampleSize.trialsForShift(difference, deviation, alpha, power);
    add("shift per arm with power " + power, fixed);
    if (looks > 1) {
      double most = SampleSize.inflation(GroupSequential.of(looks, alpha, 0), power);
      add(
          "shift per arm, at most, in " + looks + " looks",
          fixed.isEmpty() ? fixed : OptionalInt.of((int) Math.ceil(fixed.getAsInt() * most)));
    }
    power(n -> SampleSize.powerOfShift(n, difference, deviation, alpha));
  }

  /**
   * A sequential test of a share of misses.
   *
   * @param good share that it accepts
   * @param bad share that it rejects
   * @param cap most trials
   */
  public void sequential(double good, double bad, int cap) {
    double error = 1 - confidence;
    Sprt test = new Sprt(good, bad, error, error, cap);
    for (double truth : new double[] {good, bad}) {
      Sprt.Behaviour found = test.behaviour(truth);
      String of = "sequential test at " + truth + " misses: ";
      sizes.put(of + "mean trials", rounded(found.meanTrials(), 1));
      sizes.put(of + "accepts", rounded(found.accept(), 4));
      sizes.put(of + "undecided at the cap", rounded(found.undecided(), 4));
    }
  }

  private void power(IntToDoubleFunction of) {
    if (trials != null) {
      sizes.put("power of " + trials + " independent trials", rounded(of.applyAsDouble(trials), 4));
    }
  }

  private static BigDecimal rounded(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
  }

  private void add(String what, OptionalInt independent) {
    sizes.put(
        what,
        independent.isPresent()
            ? SampleSize.planned(independent.getAsInt(), perCanal, correlation, lost)
            : "above the largest number that can be planned");
  }
}
