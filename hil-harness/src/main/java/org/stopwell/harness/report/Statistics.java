package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.ToLongFunction;
import java.util.stream.LongStream;
import org.stopwell.harness.plan.StatisticsReader;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Agreement;
import org.stopwell.harness.stats.Anytime;
import org.stopwell.harness.stats.CampaignSummary;
import org.stopwell.harness.stats.Claim;
import org.stopwell.harness.stats.ClaimOutcome;
import org.stopwell.harness.stats.Clusters;
import org.stopwell.harness.stats.ConditionSummary;
import org.stopwell.harness.stats.Equivalence;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.MixedModel;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.OneWay;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.stats.ToleranceInterval;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;

/** The statistics that the plan asks for: each with its number, its method and its source. */
final class Statistics {
  /** 1.96: 95 % of a normal distribution lie within so many standard deviations. */
  private static final double Z95 = 1.959963984540054;

  private final StatisticsChoice choice;
  private final CampaignSummary summary;
  private final List<TrialResult> trials;

  /** Analysed stops of conditions that expect one. */
  private final List<TrialResult> stops;

  private final Moments errors;

  Statistics(RunHeader header, CampaignSummary summary, List<TrialResult> trials) {
    this.choice = StatisticsReader.of(header.planYaml());
    this.summary = summary;
    this.trials = trials;
    this.stops =
        trials.stream()
            .filter(t -> t.stopped() && ConditionSummary.isAnalysed(t.verdict()))
            .filter(t -> t.expectation() == Expectation.STOP)
            .toList();
    this.errors = moments(stops, TrialResult::stopErrorMicrons);
  }

  /** What a reader of the head must know, where the plan names groups. */
  Optional<String> caution() {
    return choice.groups().isEmpty()
        ? Optional.empty()
        : Optional.of(
            "Trials repeat levels of "
                + String.join(" and ", choice.groups())
                + ". The intervals and claims above take them as independent; those under “What the"
                + " stops say together” do not.");
  }

  void write(Markup out, String label) {
    boolean asked =
        choice.coverage()
            || choice.precision()
            || choice.agreement()
            || choice.sequential()
            || choice.marginMicrons() > 0;
    if (!asked || summary.conditions().stream().noneMatch(ConditionSummary::expectsStop)) {
      return;
    }
    ReportPage.section(out, "statistics-section", "What the stops say together");
    out.element(
        "p",
        "All stops of all conditions that expect one"
            + label
            + ". Each number stands with its method; where the data cannot carry it, it is not"
            + " given.");
    out.start("dl", "class", "findings");
    if (choice.coverage()) {
      coverage(out);
    }
    if (choice.precision()) {
      precision(out);
    }
    if (!choice.groups().isEmpty()) {
      clusters(out);
    }
    if (choice.agreement()) {
      agreement(out);
    }
    if (choice.marginMicrons() > 0) {
      equivalence(out);
    }
    if (choice.sequential()) {
      sequential(out);
    }
    out.end().end();
  }

  private void coverage(Markup out) {
    String part = Numbers.plainPercent(choice.share());
    String name = "Where " + part + " of stops lie";
    String with = " with " + Numbers.plainPercent(choice.confidence()) + " confidence";
    if (!choice.groups().isEmpty()) {
      String group = choice.groups().get(0);
      Optional<Interval> over =
          ToleranceInterval.overGroups(
              moments(t -> choice.level(t.condition(), group)),
              choice.share(),
              choice.confidence());
      finding(
          out,
          name,
          Numbers.millimetres(over),
          over.isEmpty()
              ? "There must be two levels of " + group + ", repeats, and stops that differ."
              : "Tolerance interval for one stop on a level of "
                  + group
                  + " drawn anew,"
                  + with
                  + ", if both spreads are normal: mean ± k s_R, k of as many stops as there are levels"
                  + " (ISO 16269-6), which is careful where repeats differ too.");
      return;
    }
    Optional<Interval> normal =
        ToleranceInterval.twoSided(errors, choice.share(), choice.confidence());
    open(out, name);
    Recomputation.number(
        out,
        Numbers.millimetres(normal),
        Recomputation.of("tolerance", Recomputation.STOP, choice.share(), choice.confidence()));
    how(
        out,
        normal.isEmpty()
            ? tooFew()
            : "Two-sided tolerance interval, mean ± "
                + decimals(
                    3,
                    ToleranceInterval.twoSidedFactor(
                        errors.count(), choice.share(), choice.confidence()))
                + " standard deviations for "
                + errors.count()
                + " stops,"
                + with
                + ", if stop errors are normal and independent (ISO 16269-6; Odeh 1978).");
    if (errors.count() >= 2) {
      double low = stops.stream().mapToInt(TrialResult::stopErrorMicrons).min().orElseThrow();
      double high = stops.stream().mapToInt(TrialResult::stopErrorMicrons).max().orElseThrow();
      finding(
          out,
          "Least and greatest",
          Numbers.millimetres(Optional.of(new Interval(low, high))),
          "They hold "
              + part
              + " of all stops with "
              + Numbers.percent(OptionalDouble.of(rangeConfidence(errors.count(), choice.share())))
              + " confidence, whatever the distribution, if they are independent (Wilks 1941, Annals"
              + " of Mathematical Statistics 12, 91).");
    }
  }

  /** 1 − n pⁿ⁻¹ + (n − 1) pⁿ. */
  private static double rangeConfidence(long n, double share) {
    return 1 - n * Math.pow(share, n - 1.0) + (n - 1.0) * Math.pow(share, (double) n);
  }

  private void precision(Markup out) {
    if (choice.groups().isEmpty()) {
      Optional<OneWay> split = OneWay.of(moments(TrialResult::condition));
      finding(
          out,
          "Repeatability s_r",
          split.isEmpty()
              ? millimetres(errors.standardDeviation().orElse(Double.NaN))
              : millimetres(split.get().repeatability())
                  + ", "
                  + Numbers.plainPercent(choice.confidence())
                  + " interval "
                  + plain(split.get().repeatabilityInterval(choice.confidence())),
          split.isEmpty()
              ? "One condition: its standard deviation."
              : "Standard deviation within one condition (one-way analysis of variance, ISO 5725-2)"
                  + " with its exact interval. What differs from trial to trial, such as canals drawn"
                  + " anew, is part of it.");
      return;
    }
    Optional<MixedModel> fit = fit();
    String groups = String.join(", ", choice.groups());
    if (fit.isEmpty()) {
      finding(
          out,
          "Spread by " + groups,
          Numbers.NOT_ESTIMABLE,
          "There must be two levels of each, fewer levels than stops, at most "
              + MixedModel.MOST_LEVELS
              + " levels in all, and stops that differ.");
      return;
    }
    MixedModel model = fit.get();
    finding(
        out,
        "Bias",
        Numbers.signedMillimetres(model.mean())
            + ", standard error "
            + millimetres(model.meanError()),
        "Mean over levels of "
            + groups
            + " drawn anew (trueness). Mixed model with random intercepts, fixed means of the other"
            + " factors, by restricted maximum likelihood (Bates and others 2015, Journal of"
            + " Statistical Software 67(1)); t with "
            + Words.count(model.freedom(), "degree of freedom", "degrees of freedom")
            + ".");
    for (int i = 0; i < choice.groups().size(); i++) {
      finding(
          out,
          "Between levels of " + choice.groups().get(i),
          millimetres(model.deviations().get(i)),
          "Standard deviation between levels: "
              + Numbers.percent(OptionalDouble.of(model.share(i)))
              + " of the variance (intraclass correlation).");
    }
    finding(
        out,
        "Repeatability s_r",
        millimetres(model.residual()),
        "Standard deviation within a level of each.");
    finding(
        out,
        "Reproducibility s_R",
        millimetres(model.total()),
        "Standard deviation of one stop with levels drawn anew: all of the above together.");
  }

  private Optional<MixedModel> fit() {
    double[] numbers = stops.stream().mapToDouble(TrialResult::stopErrorMicrons).toArray();
    List<int[]> factors = new ArrayList<>();
    for (String group : choice.groups()) {
      factors.add(places(t -> choice.level(t.condition(), group)));
    }
    return MixedModel.fit(numbers, factors, places(t -> choice.fixed(t.condition())));
  }

  private int[] places(Function<TrialResult, String> word) {
    Map<String, Integer> place = new LinkedHashMap<>();
    return stops.stream()
        .mapToInt(t -> place.computeIfAbsent(word.apply(t), w -> place.size()))
        .toArray();
  }

  private void clusters(Markup out) {
    String group = choice.groups().get(0);
    clustered(out, "Within tolerance, by " + group, ConditionSummary::within, group, false);
    clustered(out, "Past the foramen, by " + group, ConditionSummary::overTravel, group, true);
  }

  private void clustered(
      Markup out,
      String name,
      Function<ConditionSummary, Proportion> of,
      String group,
      boolean upper) {
    Map<String, Proportion> byLevel = new LinkedHashMap<>();
    summary.conditions().stream()
        .filter(ConditionSummary::expectsStop)
        .forEach(
            c ->
                byLevel.merge(
                    choice.level(c.condition().name(), group),
                    of.apply(c),
                    (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials())));
    Optional<Clusters> clusters = Clusters.of(List.copyOf(byLevel.values()));
    double c = choice.confidence();
    finding(
        out,
        name,
        clusters.isEmpty()
            ? Numbers.NOT_ESTIMABLE
            : Headline.counted(clusters.get().total())
                + (upper
                    ? "; at most "
                        + Numbers.upperPercent(
                            OptionalDouble.of(clusters.get().interval(2 * c - 1).high()))
                    : "; " + Numbers.percent(Optional.of(clusters.get().interval(c)))),
        clusters.isEmpty()
            ? "There must be two levels of " + group + " with trials."
            : "Repeats on one level are not so many canals: the trials are worth "
                + decimals(1, clusters.get().effectiveTrials())
                + " independent ones. Exact interval on that number (Korn and Graubard 1998, Survey"
                + " Methodology 24, 193)"
                + (clusters.get().total().count() == 0
                        || clusters.get().total().count() == clusters.get().total().trials()
                    ? "; all trials being alike, each level counts as one."
                    : "."));
  }

  private void agreement(Markup out) {
    List<TrialResult> split = stops.stream().filter(ChainChart::isSplit).toList();
    ToLongFunction<TrialResult> difference =
        t -> -(long) t.chain().senseMicrons() - t.chain().filterMicrons();
    boolean grouped = !choice.groups().isEmpty();
    Optional<Agreement> agreement =
        grouped
            ? Agreement.ofRepeats(
                grouped(split, t -> choice.level(t.condition(), choice.groups().get(0))).stream()
                    .map(g -> moments(g, difference))
                    .toList())
            : Agreement.ofPairs(moments(split, difference));
    if (agreement.isEmpty()) {
      finding(
          out,
          "Reading against truth",
          Numbers.NOT_ESTIMABLE,
          split.isEmpty()
              ? "No stop has a truth recorded at its decision."
              : "There must be two stops that differ.");
      return;
    }
    Agreement a = agreement.get();
    double c = choice.confidence();
    finding(
        out,
        "Reading against truth",
        "bias "
            + Numbers.signedMillimetres(a.bias())
            + ", limits "
            + Numbers.millimetres(Optional.of(a.limits(Z95))),
        "Reading minus truth at the decision to stop, "
            + Words.count(split.size(), "stop")
            + "; limits of agreement that hold 95 % of differences if normal (Bland and Altman 1986"
            + (grouped ? ", repeats by " + choice.groups().get(0) + " as in 1999" : "")
            + "). "
            + Numbers.plainPercent(c)
            + " intervals: bias "
            + Numbers.millimetres(Optional.of(a.biasInterval(c)))
            + ", lower limit "
            + Numbers.millimetres(Optional.of(a.lowerLimitInterval(Z95, c)))
            + ", upper limit "
            + Numbers.millimetres(Optional.of(a.upperLimitInterval(Z95, c)))
            + ".");
  }

  private void equivalence(Markup out) {
    String margin = Numbers.plainMillimetres(choice.marginMicrons());
    boolean grouped = !choice.groups().isEmpty();
    Optional<Equivalence> test =
        grouped
            ? fit().filter(m -> m.meanError() > 0).map(m -> m.ofMean(choice.marginMicrons()))
            : Equivalence.ofMean(errors, choice.marginMicrons());
    double alpha = 1 - choice.confidence();
    finding(
        out,
        "Mean within ±" + margin,
        test.isEmpty()
            ? Numbers.NOT_ESTIMABLE
            : (test.get().isEquivalent(alpha) ? "shown" : "not shown")
                + ": "
                + Numbers.plainPercent(1 - 2 * alpha)
                + " interval "
                + Numbers.millimetres(Optional.of(test.get().interval(alpha))),
        test.isEmpty()
            ? grouped ? "The spread by groups is not estimable." : tooFew()
            : "Two one-sided t tests (Schuirmann 1987) at "
                + Numbers.plainPercent(alpha)
                + (grouped ? ", of the mean over levels drawn anew" : "")
                + ": not later than the margin, p "
                + probability(test.get().lowerP())
                + "; not earlier, p "
                + probability(test.get().upperP())
                + ". Each alone is a test of non-inferiority to that side.");
  }

  private void sequential(Markup out) {
    for (ClaimOutcome outcome : summary.claims()) {
      Claim claim = outcome.claim();
      if (claim.endpoint() == Claim.Endpoint.BIAS) {
        continue;
      }
      boolean atMost = claim.endpoint() == Claim.Endpoint.OVER_TRAVEL;
      Proportion seen = outcome.counted();
      finding(
          out,
          "At every look: " + Words.endpoint(claim.endpoint()),
          seen.trials() == 0
              ? Numbers.NOT_ESTIMABLE
              : atMost
                  ? "at most " + Numbers.upperPercent(Anytime.upperBound(seen, claim.confidence()))
                  : "at least "
                      + Numbers.lowerPercent(Anytime.lowerBound(seen, claim.confidence())),
          "Bound that holds at every number of trials at once, so that one may look after each and"
              + " stop (Robbins 1970). Against a limit of "
              + Numbers.plainPercent(claim.share())
              + firstShown(claim)
              + ".");
    }
  }

  /** After which trial the claim was first shown, had one looked after each. */
  private String firstShown(Claim claim) {
    List<String> names =
        ClaimOutcome.spokenOf(claim, summary.conditions()).stream()
            .map(c -> c.condition().name())
            .toList();
    boolean atMost = claim.endpoint() == Claim.Endpoint.OVER_TRAVEL;
    double limit = atMost ? 1 - claim.share() : claim.share();
    if (!(limit > 0 && limit < 1)) {
      return "";
    }
    long good = 0;
    long all = 0;
    for (TrialResult t : trials) {
      if (ConditionSummary.isAnalysed(t.verdict()) && names.contains(t.condition())) {
        all++;
        good += ClaimOutcome.counts(claim, t) != atMost ? 1 : 0;
        if (good > all * limit
            && Anytime.logEvidenceAbove(new Proportion(good, all), limit)
                >= -Math.log(1 - claim.confidence())) {
          return " it was first met after " + Words.count(all, "such trial");
        }
      }
    }
    return " it was not met at any look";
  }

  private List<Moments> moments(Function<TrialResult, String> group) {
    return grouped(stops, group).stream()
        .map(g -> moments(g, t -> (long) t.stopErrorMicrons()))
        .toList();
  }

  private static List<List<TrialResult>> grouped(
      List<TrialResult> trials, Function<TrialResult, String> group) {
    Map<String, List<TrialResult>> groups = new LinkedHashMap<>();
    trials.forEach(t -> groups.computeIfAbsent(group.apply(t), g -> new ArrayList<>()).add(t));
    return List.copyOf(groups.values());
  }

  private static Moments moments(List<TrialResult> trials, ToLongFunction<TrialResult> of) {
    return Moments.of(LongStream.of(trials.stream().mapToLong(of).toArray()));
  }

  private String tooFew() {
    return errors.count() < 2
        ? "Fewer than two stops."
        : "All stops are equal: the resolution of the bench, not a spread.";
  }

  /** Opens a finding; its number follows. */
  private static void open(Markup out, String name) {
    out.start("div").element("dt", Words.tied(name)).start("dd");
  }

  /** Closes the number of a finding and says how it was come by. */
  private static void how(Markup out, String how) {
    out.end().element("dd", Words.tied(how)).end();
  }

  private static void finding(Markup out, String name, String result, String how) {
    open(out, name);
    out.text(Words.tied(result));
    how(out, how);
  }

  private static String millimetres(double microns) {
    return Double.isNaN(microns)
        ? Numbers.NOT_ESTIMABLE
        : Numbers.millimetres(OptionalDouble.of(microns));
  }

  /** An interval of lengths that have no sign. */
  private static String plain(Optional<Interval> microns) {
    return Numbers.millimetres(microns).replace("+", "");
  }

  private static String decimals(int decimals, double value) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }

  private static String probability(double p) {
    return p < 0.0001 ? "< 0.0001" : decimals(4, p);
  }
}
