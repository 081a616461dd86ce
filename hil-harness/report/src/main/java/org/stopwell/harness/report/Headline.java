package org.stopwell.harness.report;

import java.util.List;
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
  private Headline() {}

  static void write(Markup out, CampaignSummary summary) {
    out.start("section", "aria-label", "Verdict");
    out.start("div", "class", "verdict " + summary.verdict().name());
    out.element("span", Words.verdict(summary.verdict()), "class", "word");
    out.element("p", ClaimWords.meaning(summary));
    out.end();
    if (!summary.claims().isEmpty()) {
      out.start("ul", "class", "claims", "aria-label", "Claims");
      for (int i = 0; i < summary.claims().size(); i++) {
        claim(out, summary.claims().get(i), i);
      }
      out.end();
    }
    out.end();
    facts(out, summary);
  }

  private static void claim(Markup out, ClaimOutcome outcome, int number) {
    String word = Words.claimVerdict(outcome.verdict());
    out.start("li", "class", outcome.verdict().name());
    out.element("span", word, "class", "word", "data-is", "claim-verdict " + number);
    out.element("p", Words.tied(ClaimWords.sentence(outcome.claim())));
    out.start("p");
    Recomputation.prose(out, ClaimWords.meaning(outcome, number)).end();
    out.end();
  }

  private static void facts(Markup out, CampaignSummary summary) {
    List<ConditionSummary> stops =
        summary.conditions().stream().filter(ConditionSummary::expectsStop).toList();
    List<ConditionSummary> refusals =
        summary.conditions().stream().filter(ConditionSummary::expectsRefusal).toList();
    Moments errors = errors(stops);
    Proportion within = sum(stops, ConditionSummary::within);
    Proportion overTravel = sum(stops, ConditionSummary::overTravel);
    String stop = Recomputation.STOP;
    out.start("dl", "class", "facts");
    fact(
        out,
        "Mean stop error (bias)",
        Numbers.signedMillimetres(errors.mean()),
        Recomputation.of("mean", stop));
    out.start("dd").text("95\u00a0% interval ");
    Recomputation.number(
        out,
        Numbers.millimetres(errors.meanInterval(0.95)),
        Recomputation.of("mean-interval", stop, 0.95));
    out.end().end();
    fact(out, "Standard deviation", spread(errors), Recomputation.of("sd", stop));
    out.start("dd");
    Recomputation.number(out, Long.toString(errors.count()), Recomputation.of("stops", stop));
    out.text(
            (errors.count() == 1 ? " stop over " : " stops over ")
                + Words.count(stops.size(), "condition"))
        .end()
        .end();
    fact(out, "Within " + band(stops), counted(within), Recomputation.of("count", stop, "within"));
    out.start("dd");
    Recomputation.number(
        out, Numbers.percent(within.estimate()), Recomputation.of("share", stop, "within"));
    out.text("; exact 95\u00a0% interval ");
    Recomputation.number(
        out,
        Numbers.percent(within.clopperPearson(0.95)),
        Recomputation.of("interval", stop, "within", 0.95));
    out.end().end();
    fact(out, Words.past(stops), counted(overTravel), Recomputation.of("count", stop, "over"));
    out.start("dd").text("with 95\u00a0% confidence at most ");
    Recomputation.number(
        out,
        Numbers.upperPercent(overTravel.upperBound(0.95)),
        Recomputation.of("upper", stop, "over", 0.95));
    if (!refusals.isEmpty()) {
      out.text("; of those to be refused, ");
      Recomputation.number(
          out,
          counted(sum(refusals, ConditionSummary::overTravel)),
          Recomputation.of("count", Recomputation.REFUSE, "over"));
    }
    out.end().end();
    out.end();
  }

  /** Opens a fact: its name and its number; what else there is to say is for the caller. */
  private static void fact(Markup out, String name, String value, String what) {
    out.start("div").element("dt", Words.tied(name)).start("dd");
    Recomputation.number(out, value, what).end();
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
    long count = conditions.stream().map(of).mapToLong(Proportion::count).sum();
    long all = conditions.stream().map(of).mapToLong(Proportion::trials).sum();
    return new Proportion(count, all);
  }

  static String band(List<ConditionSummary> stops) {
    List<Integer> widths =
        stops.stream().map(c -> c.condition().toleranceMicrons()).distinct().sorted().toList();
    return widths.size() == 1
        ? "±" + Numbers.plainMillimetres(widths.get(0))
        : "the tolerance band";
  }
}
