package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.claim.Basis;
import org.stopwell.harness.claim.ByCondition;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.VerdictReason;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

/** Claims, their outcomes and the verdict of a campaign in plain sentences. */
public final class ClaimWords {
  private ClaimWords() {}

  /**
   * A claim in one sentence.
   *
   * @param outcome the outcome of the claim, which knows its conditions
   * @return a sentence with its numbers, its units and the conditions that it is about
   */
  public static String sentence(ClaimOutcome outcome) {
    Claim claim = outcome.claim();
    boolean mayRefuse = outcome.conditions().mayRefuse();
    String tail =
        over(claim, outcome.conditions())
            + ", with "
            + Numbers.plainPercent(claim.confidence())
            + " confidence"
            + (claim.each() && outcome.conditions().names().size() > 1
                ? " for all of them together."
                : ".");
    return switch (claim.endpoint()) {
      case WITHIN ->
          (mayRefuse ? "Of the trials that stop or must stop, at least " : "At least ")
              + Numbers.plainPercent(claim.share())
              + (mayRefuse ? " stop within ±" : " of trials stop within ±")
              + Numbers.plainMillimetres(claim.withinMicrons())
              + (outcome.conditions().depthLimit() ? " of the depth limit" : " of the standoff")
              + tail;
      case OVER_TRAVEL ->
          (mayRefuse
                  ? "Of the driven trials that must or may stop, at most "
                  : "Of the driven trials that must stop, at most ")
              + Numbers.plainPercent(claim.share())
              + " go past the foramen"
              + tail;
      case OVERRUN ->
          "Of the driven trials that must rest at a depth limit, at most "
              + Numbers.plainPercent(claim.share())
              + " go past it by more than the tolerance"
              + tail;
      case REFUSED ->
          "At least "
              + Numbers.plainPercent(claim.share())
              + " of trials without a valid reading are refused"
              + tail;
      case BIAS ->
          "The mean stop error lies within ±"
              + Numbers.plainMillimetres(claim.withinMicrons())
              + tail;
    };
  }

  /** What a claim pools. */
  private static String over(Claim claim, ByCondition conditions) {
    List<String> names = conditions.names();
    if (names.size() < 2) {
      return names.isEmpty() ? "" : ", in condition " + names.get(0);
    }
    String some =
        names.size() == conditions.planned()
            ? "the " + names.size() + " conditions"
            : names.size() + " of the " + conditions.planned() + " conditions";
    return claim.each() ? ", in each of " + some : ", over " + some + " together";
  }

  /**
   * What a claim on several conditions together hides, for the reader of its verdict.
   *
   * @param summary what the campaign says
   * @return one sentence or two for each condition that contradicts such a claim or whose mean lies
   *     outside of the margin
   */
  public static List<String> cautions(CampaignSummary summary) {
    return hidden(summary).stream().map(Prose::plain).toList();
  }

  /** The same, with each number marked. */
  static List<Prose> hidden(CampaignSummary summary) {
    List<String> all = summary.conditions().stream().map(c -> c.condition().name()).toList();
    List<Prose> cautions = new ArrayList<>();
    for (int i = 0; i < summary.claims().size(); i++) {
      ClaimOutcome outcome = summary.claims().get(i);
      for (String name : outcome.conditions().hidden(outcome)) {
        boolean contradicted = outcome.conditions().contradicted().contains(name);
        Prose prose =
            Prose.of(
                "Claim "
                    + (i + 1)
                    + " is about "
                    + outcome.conditions().names().size()
                    + " conditions together. "
                    + (contradicted
                        ? "The trials of condition " + name + " alone contradict it: "
                        : "In condition " + name + " alone the mean lies outside of the margin: "));
        alone(prose, outcome.conditions().alone(name), i + " " + all.indexOf(name));
        cautions.add(prose.text("."));
      }
    }
    return cautions;
  }

  /** The number of a claim in one condition, with its bound and the limit. */
  private static void alone(Prose prose, ClaimOutcome one, String place) {
    Claim claim = one.claim();
    if (one.basis() instanceof Basis.Mean mean) {
      prose
          .text("mean ")
          .number(Numbers.signedMillimetres(mean.mean()), "alone-mean " + place)
          .text(", " + Numbers.plainPercent(mean.confidence()) + " interval ")
          .number(Numbers.millimetres(one.interval()), "alone-interval " + place)
          .text(", against a margin of ±" + Numbers.plainMillimetres(claim.withinMicrons()));
      if (mean.unstopped().verdict() == Verdict.FAIL) {
        prose
            .text("; ")
            .number(Headline.counted(mean.unstopped().counted()), "alone-unstopped " + place)
            .text(" trials without a stop, limit " + Numbers.plainPercent(claim.refusedAtMost()));
      }
      return;
    }
    // Contradicted, so the other bound is the one that lies on the wrong side of the limit.
    boolean atMost = claim.endpoint().isAtMost();
    Interval bounds = one.interval().orElseThrow();
    prose
        .number(Headline.counted(one.counted()), "alone-count " + place)
        .text(" trials, with " + Numbers.plainPercent(claim.confidence()) + " confidence ")
        .text(atMost ? "at least " : "at most ")
        .number(
            atMost
                ? Numbers.lowerPercent(OptionalDouble.of(bounds.low()))
                : Numbers.upperPercent(OptionalDouble.of(bounds.high())),
            "alone-other-bound " + place)
        .text(", against a limit of " + Numbers.plainPercent(claim.share()));
  }

  /**
   * Why a campaign has its verdict, in one sentence.
   *
   * @param summary what the campaign says
   * @return a sentence
   */
  public static String meaning(CampaignSummary summary) {
    VerdictReason reason = summary.reason();
    String trials = Words.count(reason.count(), "trial");
    String claims = reason.count() + " of " + Words.count(summary.claims().size(), "claim");
    return switch (reason.kind()) {
      case NO_TRIAL -> "No trial was run.";
      case SAFETY_STOPS -> "The emergency stop or a safety limit ended " + trials + ".";
      case WITHHELD ->
          withheld(reason.withheld())
              + "Every number is kept, and none decides until the bench is in order.";
      case CLAIMS_CONTRADICTED -> claims + " contradicted.";
      case TRIALS_FAILED -> trials + " failed, and no claim tolerates a failure there.";
      case RIG_FAULTS -> "The rig spoiled " + trials + ": the evidence is incomplete.";
      case TRIALS_NOT_RUN -> trials + " of the plan were not run.";
      case STATISTICS_UNREAD ->
          "The statistics that the plan asks for cannot be read, so no claim is decided.";
      case CLAIMS_OPEN -> claims + " not decided by the trials.";
      case TRIALS_OPEN -> trials + " not decided.";
      case AS_EXPECTED -> "Every analysed trial did what the plan expects.";
      case CLAIMS_HOLD ->
          reason.count() == 1
              ? "The claim holds."
              : reason.count() == 2
                  ? "Both claims hold."
                  : "All " + reason.count() + " claims hold.";
    };
  }

  /**
   * What the trials say about a claim, in plain words with its numbers.
   *
   * @param outcome the outcome of the claim
   * @return one or more sentences
   */
  public static String meaning(ClaimOutcome outcome) {
    return meaning(outcome, 0).plain();
  }

  /** The same, with each number marked for the claim at this place of the plan. */
  static Prose meaning(ClaimOutcome outcome, int place) {
    Prose prose = new Prose().text(withheld(outcome.withheld()));
    if (outcome.claim().each() && outcome.conditions().names().size() > 1) {
      return each(prose, outcome.conditions(), place);
    }
    say(prose, outcome, outcome.basis(), " " + place);
    return prose;
  }

  /** Which conditions meet a claim on each of them. */
  private static Prose each(Prose prose, ByCondition conditions, int place) {
    List<String> holding = conditions.holding();
    List<String> contradicted = conditions.contradicted();
    prose
        .text("Shown in ")
        .number(holding.size() + " of " + conditions.names().size(), "each-holding " + place)
        .text(" conditions");
    if (!contradicted.isEmpty()) {
      prose
          .text(", contradicted in ")
          .number(Integer.toString(contradicted.size()), "each-contradicted " + place)
          .text(" (" + String.join(", ", contradicted) + ")");
    }
    List<String> open =
        conditions.names().stream()
            .filter(n -> !holding.contains(n) && !contradicted.contains(n))
            .toList();
    return prose.text(
        (open.isEmpty() ? "" : ", not decided in " + String.join(", ", open))
            + ". The step-down of Holm (1979) corrects for the number of conditions.");
  }

  private static void say(Prose prose, ClaimOutcome outcome, Basis basis, String place) {
    if (basis instanceof Basis.Look look) {
      prose.text("Look ").number(Integer.toString(look.number()), "claim-look" + place);
      prose.text(" of " + look.looks() + ": ");
      say(prose, outcome, look.seen(), place);
    } else if (basis instanceof Basis.Share share) {
      share(prose, outcome, share, place);
    } else if (basis instanceof Basis.Mean mean) {
      mean(prose, outcome, mean, place);
    } else if (basis instanceof Basis.EveryTrial rule) {
      everyTrial(prose, outcome, rule, place);
    }
  }

  private static void share(Prose prose, ClaimOutcome outcome, Basis.Share share, String place) {
    if (outcome.interval().isEmpty()) {
      prose.text("No trial counts: " + Numbers.NOT_ESTIMABLE + ".");
      return;
    }
    Claim claim = outcome.claim();
    Interval bounds = outcome.interval().get();
    boolean atMost = claim.endpoint().isAtMost();
    prose.number(Headline.counted(outcome.counted()), "claim-count" + place).text(" trials");
    share
        .clustering()
        .ifPresent(
            c -> {
              prose.text(" in ").number(Integer.toString(c.clusters()), "claim-canals" + place);
              prose.text(" " + c.words());
            });
    prose
        .text("; with ")
        .number(Numbers.plainPercent(share.confidence()), "claim-confidence" + place)
        .text(" confidence " + (atMost ? "at most " : "at least "))
        .number(
            atMost
                ? Numbers.upperPercent(OptionalDouble.of(bounds.high()))
                : Numbers.lowerPercent(OptionalDouble.of(bounds.low())),
            "claim-bound" + place)
        .text(", against a limit of " + Numbers.plainPercent(claim.share()) + ".");
    if (atMost && share.plannedBand()) {
      prose.text(
          " Where the plan puts the standoff past the foramen, a trial counts when the file goes past"
              + " its band.");
    }
    share.clustering().ifPresent(c -> prose.text(one(c, "share")));
    prose.text(missing(outcome));
  }

  /** What a canal with repeats counts as. */
  private static String one(Basis.Clustering clustering, String what) {
    return " Each "
        + new Basis.Clustering(1, clustering.group()).words()
        + " counts as one number, the "
        + what
        + " of its trials.";
  }

  private static void mean(Prose prose, ClaimOutcome outcome, Basis.Mean mean, String place) {
    String in = mean.clustering().map(c -> " in " + c.clusters() + " " + c.words()).orElse("");
    long stops = mean.stops();
    if (outcome.interval().isEmpty()) {
      prose.text("The spread of " + Words.count(stops, "stop") + in + " is ");
      if (stops == 0) {
        prose.text(Numbers.NOT_ESTIMABLE);
      } else {
        prose.number(Numbers.NOT_ESTIMABLE, "claim-interval" + place);
      }
      prose.text(".");
      unstopped(prose, outcome.claim(), mean.unstopped(), place);
      return;
    }
    prose
        .text("Mean ")
        .number(Numbers.signedMillimetres(mean.mean()), "claim-mean" + place)
        .text(" over " + Words.count(stops, "stop") + in + "; ")
        .number(Numbers.plainPercent(mean.confidence()), "claim-confidence" + place)
        .text(" interval ")
        .number(Numbers.millimetres(outcome.interval()), "claim-interval" + place)
        .text(
            ", against a margin of ±"
                + Numbers.plainMillimetres(outcome.claim().withinMicrons())
                + ".");
    mean.clustering().ifPresent(c -> prose.text(one(c, "mean")));
    unstopped(prose, outcome.claim(), mean.unstopped(), place);
    prose.text(missing(outcome));
  }

  /** The trials without a stop: their bound, and what they could do to the mean. */
  private static void unstopped(Prose prose, Claim claim, Basis.Unstopped unstopped, String place) {
    if (unstopped.counted().trials() == 0) {
      return;
    }
    prose
        .text(" ")
        .number(Headline.counted(unstopped.counted()), "claim-unstopped" + place)
        .text(" trials have no stop, with ")
        .text(Numbers.plainPercent(unstopped.confidence()) + " confidence at most ")
        .number(
            Numbers.upperPercent(OptionalDouble.of(unstopped.atMost())),
            "claim-unstopped-bound" + place)
        .text(", against a limit of " + Numbers.plainPercent(claim.refusedAtMost()) + ".");
    if (unstopped.worst().isPresent()) {
      prose
          .text(
              " With each of them at the error of the worst stop, to either side, the interval of")
          .text(" the mean would be ")
          .number(Numbers.millimetres(unstopped.worst()), "claim-worst-mean" + place)
          .text(".");
    }
  }

  private static void everyTrial(
      Prose prose, ClaimOutcome outcome, Basis.EveryTrial rule, String place) {
    boolean wald = rule.rule() == StoppingRule.Kind.SPRT;
    String how =
        switch (outcome.verdict()) {
          case PASS ->
              wald ? "accepted by Wald's test" : "the bound that holds at every trial is met";
          case FAIL ->
              wald ? "rejected by Wald's test" : "the bound that holds at every trial is missed";
          case RIG_FAULT ->
              "not decided: the rig spoiled "
                  + Words.count(rule.spoiled(), "trial")
                  + ", without which the claim would be accepted";
          case UNDECIDED, SAFETY_STOP -> "not decided";
        };
    prose
        .number(Headline.counted(outcome.counted()), "claim-count" + place)
        .text(
            " trials, "
                + how
                + " (limit "
                + Numbers.plainPercent(outcome.claim().share())
                + ", at most "
                + rule.cap()
                + " trials).");
  }

  private static String missing(ClaimOutcome outcome) {
    int missing = outcome.missing();
    if (missing == 0) {
      return "";
    }
    String trials =
        " " + Words.count(missing, "planned trial is", "planned trials are") + " missing";
    return trials
        + (outcome.verdict() == Verdict.PASS
            ? "; the claim would hold even if each of them counted against it."
            : outcome.verdict() == Verdict.FAIL ? "." : " and could decide it.");
  }

  private static String withheld(Optional<Withheld> cause) {
    return cause.map(w -> w + ": " + w.sentence() + " ").orElse("");
  }
}
