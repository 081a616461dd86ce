package org.stopwell.harness.stats;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

/**
 * What the trials say about one claim.
 *
 * <p>A claim holds only when its bound on the analysed trials meets the limit, and still would if
 * every planned trial that is missing had gone against it. So a rig that fails cannot win a claim,
 * and is never counted as a failure of the controller either.
 *
 * @param claim the claim
 * @param verdict {@code PASS} when it holds, {@code FAIL} when the trials contradict it, {@code
 *     RIG_FAULT} when only the rig's faults stand between it and {@code PASS}, else {@code
 *     UNDECIDED}
 * @param counted trials that counted, out of all analysed; of no use for a bias
 * @param missing planned trials that say nothing
 * @param meaning the outcome in one sentence with its numbers
 */
public record ClaimOutcome(
    Claim claim, Verdict verdict, Proportion counted, int missing, String meaning) {

  /**
   * Holds a claim against the trials.
   *
   * @param claim the claim
   * @param conditions every condition of the plan
   * @param trials every trial that was run
   * @return the outcome
   */
  public static ClaimOutcome of(
      Claim claim, List<ConditionSummary> conditions, List<TrialResult> trials) {
    List<ConditionSummary> spoken = spokenOf(claim, conditions);
    List<TrialResult> analysed =
        trials.stream()
            .filter(t -> ConditionSummary.isAnalysed(t.verdict()))
            .filter(t -> spoken.stream().anyMatch(c -> c.condition().name().equals(t.condition())))
            .toList();
    int missing = spoken.stream().mapToInt(ConditionSummary::missing).sum();
    boolean rigFaults = spoken.stream().anyMatch(c -> !c.rigFaults().isEmpty());
    Verdict missingMean = rigFaults ? Verdict.RIG_FAULT : Verdict.UNDECIDED;
    ClaimOutcome outcome =
        claim.endpoint() == Claim.Endpoint.BIAS
            ? bias(claim, spoken, analysed, missing, missingMean)
            : share(claim, analysed, missing, missingMean);
    return analysed.stream()
        .flatMap(t -> Withheld.from(t).stream())
        .findFirst()
        .map(outcome::withheld)
        .orElse(outcome);
  }

  /** The numbers of a bench that may not decide, without a decision. */
  private ClaimOutcome withheld(Withheld cause) {
    return new ClaimOutcome(
        claim,
        Verdict.UNDECIDED,
        counted,
        missing,
        cause + ": " + cause.sentence() + " " + meaning);
  }

  /**
   * The conditions that a claim is about.
   *
   * @param claim the claim
   * @param conditions every condition of the plan
   * @return those it names, or all that it can speak about
   */
  public static List<ConditionSummary> spokenOf(Claim claim, List<ConditionSummary> conditions) {
    return conditions.stream().filter(c -> speaksAbout(claim, c)).toList();
  }

  /**
   * Whether a claim is about the trials of a condition. A file that is never driven hardly goes
   * past the foramen: canals to be refused would only fill up the denominator of over-travel,
   * unless the claim names them.
   */
  static boolean speaksAbout(Claim claim, ConditionSummary condition) {
    boolean named =
        claim.conditions().isEmpty() || claim.conditions().contains(condition.condition().name());
    Expectation expectation = condition.condition().expectation();
    return named
        && switch (claim.endpoint()) {
          case WITHIN, BIAS -> expectation == Expectation.STOP;
          case REFUSED -> expectation == Expectation.REFUSE;
          case OVER_TRAVEL -> expectation == Expectation.STOP || !claim.conditions().isEmpty();
        };
  }

  /**
   * Whether a trial counts towards the number that a claim is about.
   *
   * @param claim the claim
   * @param trial an analysed trial of its conditions
   * @return true for a hit of "at least" and for a miss of "at most"
   */
  public static boolean counts(Claim claim, TrialResult trial) {
    return switch (claim.endpoint()) {
      case WITHIN ->
          ConditionSummary.isWithin(trial, claim.withinMicrons())
              && !Withheld.GUARD_BAND.holds(trial);
      case OVER_TRAVEL -> ConditionSummary.isOverTravel(trial);
      case REFUSED -> trial.verdict() == Verdict.PASS;
      case BIAS -> trial.stopped();
    };
  }

  /** Whether a claim on a share already weighs this trial as one that went against it. */
  static boolean weighsAgainst(Claim claim, TrialResult trial) {
    return switch (claim.endpoint()) {
      case WITHIN, REFUSED -> !counts(claim, trial);
      case OVER_TRAVEL -> counts(claim, trial);
      case BIAS -> false;
    };
  }

  private static ClaimOutcome share(
      Claim claim, List<TrialResult> analysed, int missing, Verdict missingMean) {
    Proportion seen =
        new Proportion(analysed.stream().filter(t -> counts(claim, t)).count(), analysed.size());
    boolean atMost = claim.endpoint() == Claim.Endpoint.OVER_TRAVEL;
    Proportion worst =
        new Proportion(seen.count() + (atMost ? missing : 0), seen.trials() + missing);
    Verdict verdict =
        analysed.isEmpty()
            ? missingMean
            : !meets(claim, seen)
                ? contradicts(claim, seen) ? Verdict.FAIL : Verdict.UNDECIDED
                : meets(claim, worst) ? Verdict.PASS : missingMean;
    String bound =
        atMost
            ? "at most " + Numbers.upperPercent(seen.upperBound(claim.confidence()))
            : "at least " + Numbers.lowerPercent(seen.lowerBound(claim.confidence()));
    String meaning =
        analysed.isEmpty()
            ? "No trial was analysed: " + Numbers.NOT_ESTIMABLE + "."
            : seen.count()
                + " of "
                + seen.trials()
                + " trials; with "
                + Numbers.plainPercent(claim.confidence())
                + " confidence "
                + bound
                + ", against a limit of "
                + Numbers.plainPercent(claim.share())
                + "."
                + missingSentence(missing, verdict);
    return new ClaimOutcome(claim, verdict, seen, missing, meaning);
  }

  private static boolean meets(Claim claim, Proportion p) {
    return claim.endpoint() == Claim.Endpoint.OVER_TRAVEL
        ? atMost(p.upperBound(claim.confidence()), claim.share())
        : atLeast(p.lowerBound(claim.confidence()), claim.share());
  }

  private static boolean contradicts(Claim claim, Proportion p) {
    return claim.endpoint() == Claim.Endpoint.OVER_TRAVEL
        ? !atMost(p.lowerBound(claim.confidence()), claim.share())
        : !atLeast(p.upperBound(claim.confidence()), claim.share());
  }

  /** Two one-sided tests: the interval of confidence 2c − 1 lies within the margin. */
  private static ClaimOutcome bias(
      Claim claim,
      List<ConditionSummary> spoken,
      List<TrialResult> analysed,
      int missing,
      Verdict missingMean) {
    Moments errors =
        spoken.stream().map(ConditionSummary::stopErrors).reduce(Moments.NONE, Moments::plus);
    Interval margin = new Interval(-claim.withinMicrons(), claim.withinMicrons());
    Optional<Interval> seen = errors.meanInterval(2 * claim.confidence() - 1);
    // Against the claim: every missing trial as far off as the worst one, all to the same side.
    long worst =
        analysed.stream()
            .filter(TrialResult::stopped)
            .mapToLong(t -> Math.abs((long) t.stopErrorMicrons()))
            .reduce(claim.withinMicrons(), Math::max);
    boolean survives =
        missing == 0
            || (lies(errors.plus(Moments.of(worst, missing)), claim, margin)
                && lies(errors.plus(Moments.of(-worst, missing)), claim, margin));
    Verdict verdict =
        seen.isEmpty()
            ? analysed.isEmpty() ? missingMean : Verdict.UNDECIDED
            : margin.contains(seen.get())
                ? survives ? Verdict.PASS : missingMean
                : margin.isApartFrom(seen.get()) ? Verdict.FAIL : Verdict.UNDECIDED;
    String meaning =
        seen.isEmpty()
            ? "The spread of " + errors.count() + " stops is " + Numbers.NOT_ESTIMABLE + "."
            : "Mean "
                + Numbers.signedMillimetres(errors.mean())
                + " over "
                + errors.count()
                + " stops; "
                + Numbers.plainPercent(2 * claim.confidence() - 1)
                + " interval "
                + Numbers.millimetres(seen)
                + ", against a margin of ±"
                + Numbers.plainMillimetres(claim.withinMicrons())
                + "."
                + missingSentence(missing, verdict);
    Proportion stopped = new Proportion(errors.count(), analysed.size());
    return new ClaimOutcome(claim, verdict, stopped, missing, meaning);
  }

  private static boolean lies(Moments errors, Claim claim, Interval margin) {
    return errors.meanInterval(2 * claim.confidence() - 1).filter(margin::contains).isPresent();
  }

  private static String missingSentence(int missing, Verdict verdict) {
    if (missing == 0) {
      return "";
    }
    String trials = missing == 1 ? " 1 planned trial is" : " " + missing + " planned trials are";
    return switch (verdict) {
      case PASS -> trials + " missing; the claim would hold even had they all gone against it.";
      case RIG_FAULT, UNDECIDED -> trials + " missing and could decide it.";
      default -> trials + " missing.";
    };
  }

  private static boolean atLeast(OptionalDouble bound, double limit) {
    return bound.isPresent() && bound.getAsDouble() >= limit;
  }

  private static boolean atMost(OptionalDouble bound, double limit) {
    return bound.isPresent() && bound.getAsDouble() <= limit;
  }
}
