package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;

/** What a reader must take away: the verdict, each claim, and four numbers. */
final class Headline {
  record ClaimLine(String verdict, Prose word, Prose sentence, Prose meaning) {}

  record Fact(Prose name, Prose value, Prose note) {}

  private Headline() {}

  static Optional<Content> of(Report report) {
    CampaignSummary summary = report.summary();
    List<ClaimLine> claims = new ArrayList<>();
    for (int i = 0; i < summary.claims().size(); i++) {
      ClaimOutcome outcome = summary.claims().get(i);
      claims.add(
          new ClaimLine(
              outcome.verdict().name(),
              new Prose().number(Words.claimVerdict(outcome.verdict()), "claim-verdict " + i),
              Prose.of(ClaimWords.sentence(outcome)),
              ClaimWords.meaning(outcome, i)));
    }
    String word = Words.verdict(summary.verdict());
    String meaning = ClaimWords.meaning(summary);
    List<Prose> cautions = ClaimWords.hidden(summary);
    List<Fact> facts = facts(report);
    return Optional.of(
        Html.template(
            t ->
                JteverdictGenerated.render(
                    t,
                    Html.NONE,
                    summary.verdict().name(),
                    word,
                    meaning,
                    cautions,
                    claims,
                    facts)));
  }

  private static List<Fact> facts(Report report) {
    CampaignSummary summary = report.summary();
    List<ConditionSummary> stops =
        summary.conditions().stream().filter(ConditionSummary::expectsStop).toList();
    if (stops.isEmpty()) {
      return List.of(); // the table of what the controller knew has the numbers
    }
    List<ConditionSummary> refusals =
        summary.conditions().stream().filter(ConditionSummary::expectsRefusal).toList();
    Intervals intervals = Intervals.of(report, stops);
    Moments errors = errors(stops);
    Proportion within = sum(stops, ConditionSummary::within);
    Proportion without = new Proportion(within.trials() - errors.count(), within.trials());
    Proportion overTravel = sum(stops, ConditionSummary::overTravel);
    String stop = Recomputation.STOP;
    Prose past =
        Prose.of("of the driven trials; with 95 % confidence at most ")
            .number(
                Numbers.upperPercent(intervals.overTravelAtMost(0.95)),
                Recomputation.is("upper", stop, "over", 0.95));
    Proportion drivenAllTheSame = sum(refusals, ConditionSummary::overTravel);
    if (drivenAllTheSame.trials() > 0) {
      past.text("; of those driven that must be refused, ")
          .number(
              counted(drivenAllTheSame), Recomputation.is("count", Recomputation.REFUSE, "over"));
    }
    return List.of(
        fact(
            "Mean stop error (bias)",
            Numbers.signedMillimetres(errors.mean()),
            Recomputation.is("mean", stop),
            Prose.of("95 % interval ")
                .number(
                    Numbers.millimetres(intervals.mean(0.95)),
                    Recomputation.is("mean-interval", stop, 0.95))
                .text("; ")
                .number(counted(without), Recomputation.is("count", stop, "without"))
                .text(" trials have no stop")),
        fact(
            "Standard deviation",
            spread(errors),
            Recomputation.is("sd", stop),
            new Prose()
                .number(Long.toString(errors.count()), Recomputation.is("stops", stop))
                .text(
                    (errors.count() == 1 ? " stop in " : " stops in ")
                        + Words.count(stops.size(), "condition"))),
        fact(
            "Within " + band(stops),
            counted(within),
            Recomputation.is("count", stop, "within"),
            new Prose()
                .number(
                    Numbers.percent(within.estimate()), Recomputation.is("share", stop, "within"))
                .text(
                    report.evidence().repeats().any()
                        ? "; 95 % interval "
                        : "; exact 95 % interval ")
                .number(
                    Numbers.percent(intervals.within(0.95)),
                    Recomputation.is("interval", stop, "within", 0.95))),
        fact(
            Words.past(stops), counted(overTravel), Recomputation.is("count", stop, "over"), past));
  }

  private static Fact fact(String name, String value, String is, Prose note) {
    return new Fact(Prose.of(name), new Prose().number(value, is), note);
  }

  /** A spread of nothing but equal numbers is the resolution of the bench, not an estimate. */
  static String spread(Moments errors) {
    OptionalDouble s = errors.standardDeviation();
    return errors.count() > 1 && s.orElse(0) == 0 ? "0 (all equal)" : Numbers.millimetres(s);
  }

  /** Such as {@code 59 of 60}. */
  static String counted(Proportion p) {
    return p.count() + " of " + p.trials();
  }

  static Moments errors(List<ConditionSummary> conditions) {
    return conditions.stream()
        .map(ConditionSummary::stopErrors)
        .reduce(Moments.NONE, Moments::plus);
  }

  static Proportion sum(
      List<ConditionSummary> conditions, Function<ConditionSummary, Proportion> of) {
    return sum(conditions.stream().map(of).toList());
  }

  static Proportion sum(List<Proportion> parts) {
    return new Proportion(
        parts.stream().mapToLong(Proportion::count).sum(),
        parts.stream().mapToLong(Proportion::trials).sum());
  }

  static String band(List<ConditionSummary> stops) {
    List<Integer> widths =
        stops.stream().map(c -> c.condition().toleranceMicrons()).distinct().sorted().toList();
    return widths.size() == 1
        ? "±" + Numbers.plainMillimetres(widths.get(0))
        : "the tolerance band";
  }
}
