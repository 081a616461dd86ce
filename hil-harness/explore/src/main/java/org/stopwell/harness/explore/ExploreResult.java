package org.stopwell.harness.explore;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.Outcome;

/**
 * The answer of an exploration. It is computed from the summary alone, so that it is the same for
 * every engine.
 *
 * @param space the space
 * @param build the build that ran the trials
 * @param planned trials of the design
 * @param counts how many trials of each kind
 * @param mean mean of the outcome; NaN without trials that have it
 * @param deviation its standard deviation
 * @param histogram counts of the outcome in bins of one width
 * @param factors the factors, and last the rest: everything that is drawn and is not a factor
 * @param surface the fitted surface
 * @param settings keys of the factors of the settings, as the points of the front state them
 * @param points the points of the settings that were compared
 * @param worst the worst trials, the worst first
 * @param problems why an answer is missing, a sentence each; none where all is well
 */
public record ExploreResult(
    Space space,
    String build,
    long planned,
    Counts counts,
    double mean,
    double deviation,
    Bins histogram,
    List<FactorResult> factors,
    Optional<Surface> surface,
    List<String> settings,
    List<ParetoFront.Point> points,
    List<Worst> worst,
    List<String> problems) {

  /** Name of everything that is drawn and is not a factor. */
  public static final String REST = "the rest (canal, noise, tremor)";

  /** Share of complete rows below which indices are not given. */
  private static final double FEWEST_COMPLETE = 0.5;

  /**
   * How many trials of each kind.
   *
   * @param trials trials
   * @param impossible trials whose values contradict each other
   * @param withOutcome trials that have the outcome
   * @param stopped trials that stopped
   * @param overTravel trials past the foramen
   * @param early trials that stopped early
   * @param refused trials that refused
   * @param incomplete rows of a sensitivity study in which a trial lacks the outcome
   * @param rows rows of a sensitivity study
   */
  public record Counts(
      long trials,
      long impossible,
      long withOutcome,
      long stopped,
      long overTravel,
      long early,
      long refused,
      long incomplete,
      long rows) {}

  /**
   * Counts in bins.
   *
   * @param low lower edge of the first
   * @param width width of each
   * @param counts of each
   */
  public record Bins(long low, long width, List<Long> counts) {
    /** Takes a copy. */
    public Bins {
      counts = List.copyOf(counts);
    }
  }

  /**
   * A factor and what it does.
   *
   * @param key its key
   * @param spread how it was spread
   * @param index its sensitivity indices
   * @param effect its elementary effects
   */
  public record FactorResult(
      String key,
      String spread,
      Optional<SobolIndices.Index> index,
      Optional<MorrisEffects.Effect> effect) {}

  /**
   * One of the worst trials.
   *
   * @param trial its number
   * @param badness how bad it is, in the unit of the outcome
   * @param values its factors as people write them
   */
  public record Worst(long trial, long badness, List<String> values) {
    /** Takes a copy. */
    public Worst {
      values = List.copyOf(values);
    }
  }

  /** Takes copies. */
  public ExploreResult {
    factors = List.copyOf(factors);
    settings = List.copyOf(settings);
    points = List.copyOf(points);
    worst = List.copyOf(worst);
    problems = List.copyOf(problems);
  }

  /**
   * The answer so far.
   *
   * @param work the work
   * @param finished what is finished of it
   * @return the answer
   */
  public static ExploreResult of(ExploreWork work, Finished<ExploreSummary> finished) {
    Space space = work.space();
    ExploreSummary kept = finished.summary();
    Counts counts = counts(kept, finished.units().size(), space);
    double[] moments = moments(kept);
    List<String> problems = new ArrayList<>();
    boolean estimable = estimable(space, counts, moments[1], problems);
    List<SobolIndices.Index> indices = List.of();
    List<MorrisEffects.Effect> effects = List.of();
    int rows = space.factors().size() + 1;
    if (estimable && space.head().design() == Space.Design.SOBOL) {
      indices = SobolIndices.of(kept.sensitivity, rows);
    } else if (estimable && space.head().design() == Space.Design.MORRIS) {
      effects = MorrisEffects.of(kept.sensitivity, rows);
    }
    List<FactorResult> factors = new ArrayList<>();
    for (int i = 0; i < rows; i++) {
      boolean rest = i == rows - 1;
      factors.add(
          new FactorResult(
              rest ? REST : space.factors().get(i).key(),
              rest ? "drawn" : space.factors().get(i).spread(),
              i < indices.size() ? Optional.of(indices.get(i)) : Optional.empty(),
              i < effects.size() ? Optional.of(effects.get(i)) : Optional.empty()));
    }
    List<Factor> settings =
        work.design().places() > 0
            ? space.factors().stream().filter(Factor::isOfSettings).toList()
            : List.of();
    long[] histogram = kept.histogram.counts();
    return new ExploreResult(
        space,
        work.build(),
        work.trials(),
        counts,
        moments[0],
        moments[1],
        new Bins(
            kept.histogram.place().low(),
            kept.histogram.place().width(),
            java.util.Arrays.stream(histogram).boxed().toList()),
        factors,
        estimable && space.head().design() != Space.Design.MORRIS
            ? Optional.ofNullable(Surface.of(kept.surface, space.factors().size()))
            : Optional.empty(),
        settings.stream().map(Factor::key).toList(),
        ParetoFront.of(kept, place -> placed(work, place)),
        worst(work, kept),
        problems);
  }

  private static List<String> placed(ExploreWork work, int place) {
    List<Factor> factors = work.space().factors();
    long[] values = new long[factors.size()];
    work.design().placed(place, values);
    List<String> texts = new ArrayList<>();
    for (int i = 0; i < values.length; i++) {
      if (factors.get(i).isOfSettings()) {
        texts.add(factors.get(i).text(values[i]));
      }
    }
    return texts;
  }

  private static List<Worst> worst(ExploreWork work, ExploreSummary kept) {
    List<Factor> factors = work.space().factors();
    List<Worst> worst = new ArrayList<>();
    for (WorstCases.Case one : kept.worst.cases()) {
      long[] values = work.values(one.trial());
      List<String> texts = new ArrayList<>();
      for (int i = 0; i < values.length; i++) {
        texts.add(factors.get(i).text(values[i]));
      }
      worst.add(new Worst(one.trial(), one.badness(), texts));
    }
    return worst;
  }

  private static Counts counts(ExploreSummary kept, long units, Space space) {
    boolean rows =
        space.head().design() == Space.Design.SOBOL || space.head().design() == Space.Design.MORRIS;
    return new Counts(
        kept.counted(ExploreSummary.Count.TRIALS),
        kept.counted(ExploreSummary.Count.IMPOSSIBLE),
        kept.counted(ExploreSummary.Count.WITH_OUTCOME),
        kept.counted(ExploreSummary.Count.STOPPED),
        kept.counted(ExploreSummary.Count.OVER_TRAVEL),
        kept.counted(ExploreSummary.Count.EARLY),
        kept.counted(ExploreSummary.Count.REFUSED),
        kept.counted(ExploreSummary.Count.INCOMPLETE),
        rows ? units : 0);
  }

  /** Mean and standard deviation. */
  private static double[] moments(ExploreSummary kept) {
    BigInteger n = BigInteger.valueOf(kept.counted(ExploreSummary.Count.WITH_OUTCOME));
    if (n.signum() == 0) {
      return new double[] {Double.NaN, Double.NaN};
    }
    BigInteger sum = kept.moments.exact(0);
    BigInteger spread = n.multiply(kept.moments.exact(1)).subtract(sum.multiply(sum));
    BigInteger of = n.multiply(n.subtract(BigInteger.ONE)).max(BigInteger.ONE);
    return new double[] {divide(sum, n), Math.sqrt(divide(spread, of))};
  }

  private static double divide(BigInteger a, BigInteger b) {
    return new BigDecimal(a).divide(new BigDecimal(b), MathContext.DECIMAL128).doubleValue();
  }

  private static boolean estimable(
      Space space, Counts counts, double deviation, List<String> problems) {
    Outcome outcome = space.head().outcome();
    if (counts.trials() == 0) {
      problems.add("No trial is finished yet.");
      return false;
    }
    if (counts.withOutcome() == 0) {
      problems.add(
          (outcome == Outcome.STOP_ERROR
                  ? "The stop error cannot be estimated: none of "
                      + counts.trials()
                      + " trials stopped; "
                      + counts.refused()
                      + " refused. "
                  : "The outcome cannot be estimated: none of "
                      + counts.trials()
                      + " trials has it. ")
              + "Explore outcome refusal, or narrow the factors.");
      return false;
    }
    if (!(deviation > 0)) {
      problems.add(
          "Nothing varies: all "
              + counts.withOutcome()
              + " trials have the same "
              + outcome.words()
              + ". Widen the factors, or run more trials.");
      return false;
    }
    long complete = counts.rows() - counts.incomplete();
    if (counts.rows() > 0 && complete < FEWEST_COMPLETE * counts.rows()) {
      problems.add(
          "Sensitivity cannot be estimated: only "
              + complete
              + " of "
              + counts.rows()
              + " rows are complete, because "
              + (counts.trials() - counts.withOutcome())
              + " of "
              + counts.trials()
              + " trials have no "
              + outcome.words()
              + "; at least half are needed. Explore outcome refusal first, then narrow the factors"
              + " to where the file stops.");
      return false;
    }
    return true;
  }

  /**
   * For machines.
   *
   * @return the values of a JSON object
   */
  public Map<String, Object> values() {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("space", space.head().name());
    all.put("plan", space.plan().head().name());
    all.put("condition", space.condition().name());
    all.put("simulated", true);
    all.put("build", build);
    all.put("seed", space.head().seed());
    all.put("design", space.head().design().key());
    all.put("outcome", space.head().outcome().name().toLowerCase(Locale.ROOT));
    all.put("unit", space.head().outcome().unit());
    all.put("trials_planned", planned);
    all.put("trials", counts.trials);
    all.put("impossible", counts.impossible);
    all.put("with_outcome", counts.withOutcome);
    all.put("stopped", counts.stopped);
    all.put("over_travel", counts.overTravel);
    all.put("early_stop", counts.early);
    all.put("refused", counts.refused);
    if (counts.rows > 0) {
      all.put("rows", counts.rows);
      all.put("rows_incomplete", counts.incomplete);
    }
    put(all, "mean", mean);
    put(all, "standard_deviation", deviation);
    List<Map<String, Object>> list = new ArrayList<>();
    for (FactorResult factor : factors) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("factor", factor.key);
      one.put("spread", factor.spread);
      factor.index.ifPresent(
          i -> {
            one.put("first", i.first());
            one.put("first_low_95", i.firstInterval().low());
            one.put("first_high_95", i.firstInterval().high());
            one.put("total", i.total());
            one.put("total_low_95", i.totalInterval().low());
            one.put("total_high_95", i.totalInterval().high());
          });
      factor.effect.ifPresent(
          e -> {
            one.put("effects", e.count());
            put(one, "mu_star", e.meanAbsolute());
            put(one, "mu", e.mean());
            put(one, "sigma", e.spread());
          });
      list.add(one);
    }
    all.put("factors", list);
    surface.ifPresent(
        s -> {
          all.put("surface_error", s.error());
          all.put("surface_explained", s.explained());
        });
    List<Map<String, Object>> front = new ArrayList<>();
    for (ParetoFront.Point point : points) {
      Map<String, Object> one = new LinkedHashMap<>();
      for (int i = 0; i < settings.size(); i++) {
        one.put(settings.get(i), point.values().get(i));
      }
      one.put("trials", point.overTravel().trials());
      one.put("over_travel", point.overTravel().count());
      one.put("early_stop", point.early().count());
      one.put("refused", point.refused().count());
      one.put("seconds", point.seconds());
      one.put("on_front", point.onFront());
      front.add(one);
    }
    if (!front.isEmpty()) {
      all.put("points", front);
    }
    List<Map<String, Object>> bad = new ArrayList<>();
    for (Worst w : worst) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("trial", w.trial);
      one.put("badness", w.badness);
      one.put("values", w.values);
      bad.add(one);
    }
    all.put("worst", bad);
    all.put("problems", problems);
    return all;
  }

  /** A number that JSON has a word for. */
  private static void put(Map<String, Object> into, String key, double value) {
    if (Double.isFinite(value)) {
      into.put(key, value);
    }
  }
}
