package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.function.DoubleSupplier;
import java.util.function.IntToDoubleFunction;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** A table of how many trials claims need, and of the power of a number of trials. */
public final class TrialSizes {
  /** Fewest trials that a curve shows. */
  private static final int FEW = 20;

  private final Map<String, Object> sizes = new LinkedHashMap<>();
  private final List<SizeCurve> curves = new ArrayList<>();
  private final double confidence;
  private final double power;
  private final int perCanal;
  private final double correlation;
  private final double lost;
  private final @Nullable Integer trials;
  private final Supplier<DoubleSupplier> streams;

  /**
   * An empty table.
   *
   * @param confidence one-sided confidence
   * @param power wanted chance of showing a true claim
   * @param perCanal trials in each canal
   * @param correlation intraclass correlation of one canal, 0 to 1
   * @param lost share of trials that the rig spoils, 0 to 1
   * @param trials number of trials whose power is wanted too; null for none
   * @param streams gives the same random numbers from 0 to 1 anew, for simulations
   */
  public TrialSizes(
      double confidence,
      double power,
      int perCanal,
      double correlation,
      double lost,
      @Nullable Integer trials,
      Supplier<DoubleSupplier> streams) {
    this.streams = streams;
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
   * How the numbers come about, for pictures.
   *
   * @return one curve for each question that has one: a simulated power has none
   */
  public List<SizeCurve> curves() {
    return List.copyOf(curves);
  }

  /**
   * At least this share.
   *
   * @param claimed the share, 0 to 1
   * @param truth the true share that is expected; null for none
   * @param confidences one-sided confidence of each look of a group-sequential rule; of the one at
   *     the end for a fixed number of trials
   * @param cap most trials of a campaign that is looked at after every trial; null for none
   */
  public void share(
      double claimed, @Nullable Double truth, List<Double> confidences, @Nullable Integer cap) {
    if (perCanal == 1) {
      for (int misses = 0; misses <= 3; misses++) {
        add(
            "share with " + misses + (misses == 1 ? " miss" : " misses"),
            SampleSize.trialsForShare(claimed, confidence, misses));
      }
    } else {
      int canals = CanalSize.withoutMiss(claimed, confidence);
      sizes.put("canals without a miss", canals);
      sizes.put("trials in these canals", canals * (long) perCanal);
    }
    if (truth == null) {
      if (perCanal == 1) {
        curves.add(
            overTrials(
                "Share that is shown without a miss",
                "share that is shown, %",
                SampleSize.trialsForShare(claimed, confidence, 0),
                n -> new Proportion(n, n).lowerBound(confidence).orElse(0),
                claimed,
                "The lower bound of the share after so many trials without a miss. A miss needs"
                    + " more trials; the table lists up to 3."));
      }
      return;
    }
    double expected = truth * (1 - lost);
    String looking = confidences.size() == 1 ? "" : " in " + confidences.size() + " looks";
    if (perCanal == 1) {
      OptionalInt needed = SampleSize.trialsForShare(claimed, confidences, expected, power);
      add("share with power " + power + looking, needed);
      power(
          "Power of the claim on a share",
          needed,
          n -> SampleSize.powerOfShare(n, claimed, confidences, expected));
    } else {
      CanalCounts counts = CanalCounts.betaBinomial(perCanal, truth, correlation).lost(lost);
      OptionalInt canals = CanalSize.least(counts, claimed, confidences, power, streams);
      add("canals with power " + power + looking, canals);
      if (canals.isPresent()) {
        sizes.put("trials in so many canals", canals.getAsInt() * (long) perCanal);
        simulated(canals.getAsInt(), counts, claimed, confidences);
      }
      if (trials != null && trials >= perCanal) {
        simulated(trials / perCanal, counts, claimed, confidences);
      }
    }
    if (cap != null) {
      Sprt.Behaviour anytime = Anytime.behaviour(claimed, confidence, expected, cap);
      sizes.put("looking after every trial, mean trials", rounded(anytime.meanTrials(), 1));
      sizes.put("looking after every trial, power", rounded(anytime.accept(), 4));
      add(
          "looking after every trial, trials with power " + power,
          Anytime.leastCap(claimed, confidence, expected, power, cap));
    }
  }

  private void simulated(int canals, CanalCounts counts, double claimed, List<Double> confidences) {
    int campaigns = CanalSize.CAMPAIGNS;
    double found =
        CanalSize.power(canals, counts, claimed, confidences, campaigns, streams.get())
            .estimate()
            .orElseThrow();
    String of = "power of " + canals + " canals";
    sizes.put(of, rounded(found, 4));
    sizes.put(of + ", standard error", rounded(Math.sqrt(found * (1 - found) / campaigns), 4));
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
    OptionalInt needed =
        SampleSize.trialsForTolerance(share, confidence, band, deviation, bias, power);
    add("tolerance interval within band with power " + power, spare(needed));
    power(
        "Power of the tolerance interval",
        needed,
        n -> SampleSize.powerOfTolerance(n, share, confidence, band, deviation, bias));
  }

  /**
   * A mean within a margin.
   *
   * @param margin the margin
   * @param deviation expected standard deviation, in the same unit
   * @param bias expected mean, in the same unit
   */
  public void mean(double margin, double deviation, double bias) {
    double each = SampleSize.deviationOfCanal(deviation, perCanal, correlation);
    String of = perCanal == 1 ? "mean within margin" : "canals for mean within margin";
    OptionalInt needed = SampleSize.trialsForBias(margin, each, bias, confidence, power, lost);
    add(of + " with power " + power, needed);
    if (perCanal > 1 && needed.isPresent()) {
      sizes.put("trials in so many canals", needed.getAsInt() * (long) perCanal);
    }
    if (perCanal == 1) {
      power(
          "Power of the claim on the mean",
          needed,
          n -> SampleSize.powerOfBias(n, margin, each, bias, confidence));
    }
  }

  /**
   * Limits of agreement.
   *
   * @param width wanted half width of the interval of a limit
   * @param deviation expected standard deviation, in the same unit
   */
  public void limits(double width, double deviation) {
    add(
        "pairs for limits of agreement",
        spare(SampleSize.pairsForLimits(width, deviation, confidence)));
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
    OptionalInt fixed = spare(SampleSize.trialsForShift(difference, deviation, alpha, power));
    add("shift per arm with power " + power, fixed);
    if (looks > 1) {
      double most = SampleSize.inflation(GroupSequential.of(looks, alpha, 0), power);
      add(
          "shift per arm, at most, in " + looks + " looks",
          fixed.isEmpty() ? fixed : OptionalInt.of((int) Math.ceil(fixed.getAsInt() * most)));
    }
    power(
        "Power of the comparison of two means",
        SampleSize.trialsForShift(difference, deviation, alpha, power),
        n -> SampleSize.powerOfShift(n, difference, deviation, alpha));
  }

  /**
   * A sequential test of a share of misses.
   *
   * @param good share that it accepts
   * @param bad share that it rejects
   * @param cap most trials
   */
  public void sequential(double good, double bad, int cap) {
    Sprt test = new Sprt(good, bad, 1 - power, 1 - confidence, cap);
    // A spoiled trial counts as a miss.
    double misses = 1 - (1 - good) * (1 - lost);
    add("sequential test, trials with power " + power, test.leastCap(misses, power));
    curves.add(
        new SizeCurve(
            "Sequential test: probability that it accepts",
            "true share of misses",
            "probability that it accepts, %",
            0,
            Math.min(1, 2 * bad),
            false,
            share -> test.behaviour(share).accept(),
            power,
            OptionalInt.empty(),
            "Over the true share of misses. The test must accept a share of "
                + good
                + " and reject one of "
                + bad
                + "."));
    for (double truth : new double[] {good, bad}) {
      Sprt.Behaviour found = test.behaviour(truth);
      String of = "sequential test at " + truth + " misses: ";
      sizes.put(of + "mean trials", rounded(found.meanTrials(), 1));
      sizes.put(of + "accepts", rounded(found.accept(), 4));
      sizes.put(of + "undecided at the cap", rounded(found.undecided(), 4));
    }
  }

  private void power(String title, OptionalInt needed, IntToDoubleFunction of) {
    if (trials != null) {
      sizes.put("power of " + trials + " trials", rounded(of.applyAsDouble(trials), 4));
    }
    curves.add(
        overTrials(
            title,
            "power, %",
            needed,
            of,
            power,
            "Power: the probability that a true claim is shown. It can fall by a little from one"
                + " number to the next where one more trial allows no further miss."));
  }

  private SizeCurve overTrials(
      String title,
      String up,
      OptionalInt needed,
      IntToDoubleFunction of,
      double wanted,
      String caption) {
    int shown = Math.max(needed.orElse(FEW), trials == null ? FEW : trials);
    return new SizeCurve(
        title,
        "number of trials",
        up,
        2,
        1.5 * shown,
        true,
        n -> of.applyAsDouble((int) n),
        wanted,
        needed,
        caption);
  }

  private static BigDecimal rounded(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
  }

  private void add(String what, OptionalInt needed) {
    sizes.put(
        what,
        needed.isPresent()
            ? (Object) needed.getAsInt()
            : "above the largest number that can be planned");
  }

  /** More trials where the method leaves out those that the rig spoils. */
  private OptionalInt spare(OptionalInt trials) {
    return trials.isPresent()
        ? OptionalInt.of((int) Math.ceil(trials.getAsInt() / (1 - lost) - 1e-9))
        : trials;
  }
}
