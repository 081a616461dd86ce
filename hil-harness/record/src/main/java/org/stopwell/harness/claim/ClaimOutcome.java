package org.stopwell.harness.claim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

/**
 * The result of one claim.
 *
 * <p>A claim holds only if its bound on the analysed trials meets the limit, and still meets it if
 * every missing planned trial counts as a miss. So a rig that fails cannot win a claim, and never
 * counts as a failure of the controller.
 *
 * @param claim the claim
 * @param verdict {@code PASS} when it holds, {@code FAIL} when the trials contradict it, {@code
 *     RIG_FAULT} when only the rig's faults stand between it and {@code PASS}, else {@code
 *     UNDECIDED}
 * @param counted trials that counted, out of all analysed; of no use for a bias
 * @param missing planned trials that say nothing
 * @param interval the bounds that decide, each with the claim's confidence: of the share, or of the
 *     mean in µm; empty where they cannot be given
 * @param basis what the outcome rests on
 * @param withheld why the bench may not decide, empty when it may
 */
public record ClaimOutcome(
    Claim claim,
    Verdict verdict,
    Proportion counted,
    int missing,
    Optional<Interval> interval,
    Basis basis,
    Optional<Withheld> withheld) {

  /**
   * Decides a claim on trials that each have their own canal.
   *
   * @param claim the claim
   * @param conditions every condition of the plan
   * @param trials every trial that was run
   * @return the outcome
   */
  public static ClaimOutcome of(
      Claim claim, List<ConditionSummary> conditions, List<TrialResult> trials) {
    return of(claim, conditions, trials, Repeats.NONE);
  }

  /**
   * Decides a claim on the trials.
   *
   * @param claim the claim
   * @param conditions every condition of the plan
   * @param trials every trial that was run
   * @param repeats which of them share a canal: then each canal counts as one number
   * @return the outcome
   */
  public static ClaimOutcome of(
      Claim claim, List<ConditionSummary> conditions, List<TrialResult> trials, Repeats repeats) {
    List<ConditionSummary> spoken = spokenOf(claim, conditions);
    Map<String, Condition> conditionOf =
        spoken.stream()
            .map(ConditionSummary::condition)
            .collect(Collectors.toMap(Condition::name, c -> c, (one, same) -> one));
    List<TrialResult> own =
        trials.stream().filter(t -> conditionOf.containsKey(t.condition())).toList();
    List<TrialResult> analysed =
        own.stream().filter(t -> ConditionSummary.isAnalysed(t.verdict())).toList();
    // The canal of every planned trial that says nothing.
    List<String> silent = repeats.any() ? silent(spoken, own, repeats) : List.of();
    int missing = spoken.stream().mapToInt(ConditionSummary::missing).sum();
    boolean rigFaults = spoken.stream().anyMatch(c -> !c.rigFaults().isEmpty());
    Verdict missingMean = rigFaults ? Verdict.RIG_FAULT : Verdict.UNDECIDED;
    ClaimOutcome outcome =
        claim.endpoint() == Claim.Endpoint.BIAS
            ? bias(claim, analysed, missing, missingMean, repeats, silent)
            : share(claim, conditionOf, analysed, missing, missingMean, repeats, silent);
    return analysed.stream()
        .flatMap(t -> Withheld.from(t).stream())
        .findFirst()
        .map(outcome::undecided)
        .orElse(outcome);
  }

  /** The numbers of a bench that may not decide, without a decision. */
  private ClaimOutcome undecided(Withheld cause) {
    return new ClaimOutcome(
        claim, Verdict.UNDECIDED, counted, missing, interval, basis, Optional.of(cause));
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
    boolean asked = claim.endpoint() == Claim.Endpoint.OVER_TRAVEL && !claim.conditions().isEmpty();
    return named && (asked || claim.endpoint().isAbout(condition.condition().expectation()));
  }

  /**
   * Whether a trial counts towards the number that a claim is about.
   *
   * @param claim the claim
   * @param condition one of its conditions
   * @param trial an analysed trial of that condition
   * @return true for a hit of "at least" and for a miss of "at most"
   */
  public static boolean counts(Claim claim, Condition condition, TrialResult trial) {
    return switch (claim.endpoint()) {
      case WITHIN ->
          ConditionSummary.isWithin(trial, claim.withinMicrons())
              && !Withheld.GUARD_BAND.holds(trial);
      case OVER_TRAVEL -> condition.isOverTravel(trial);
      case REFUSED -> trial.verdict() == Verdict.PASS;
      case BIAS -> trial.stopped();
    };
  }

  /** Whether a claim on a share already weighs this trial as one that went against it. */
  static boolean weighsAgainst(Claim claim, Condition condition, TrialResult trial) {
    return switch (claim.endpoint()) {
      case WITHIN, REFUSED -> !counts(claim, condition, trial);
      case OVER_TRAVEL -> counts(claim, condition, trial);
      case BIAS -> false;
    };
  }

  private static List<String> silent(
      List<ConditionSummary> spoken, List<TrialResult> own, Repeats repeats) {
    List<String> canals = new ArrayList<>();
    own.stream()
        .filter(t -> !ConditionSummary.isAnalysed(t.verdict()))
        .forEach(t -> canals.add(repeats.canal(t)));
    for (ConditionSummary c : spoken) {
      for (int n = c.run(); n < c.condition().plannedTrials(); n++) {
        canals.add(repeats.canal(c.condition().name(), n));
      }
    }
    return canals;
  }

  private static ClaimOutcome share(
      Claim claim,
      Map<String, Condition> conditionOf,
      List<TrialResult> analysed,
      int missing,
      Verdict missingMean,
      Repeats repeats,
      List<String> silent) {
    boolean atMost = claim.endpoint() == Claim.Endpoint.OVER_TRAVEL;
    Predicate<TrialResult> hit =
        t -> counts(claim, Objects.requireNonNull(conditionOf.get(t.condition())), t);
    Proportion seen = new Proportion(analysed.stream().filter(hit).count(), analysed.size());
    boolean planned = conditionOf.values().stream().anyMatch(c -> c.overTravelBelowMicrons() < 0);
    if (analysed.isEmpty()) {
      Basis basis = new Basis.Share(claim.confidence(), planned, Optional.empty());
      return new ClaimOutcome(
          claim, missingMean, seen, missing, Optional.empty(), basis, Optional.empty());
    }
    ShareBounds bounds;
    ShareBounds worst;
    Optional<Basis.Clustering> clustering = Optional.empty();
    if (repeats.any()) {
      Map<String, Proportion> byCanal = new TreeMap<>();
      analysed.forEach(t -> add(byCanal, repeats.canal(t), hit.test(t)));
      bounds = ShareBounds.ofCanals(byCanal.values(), claim.confidence());
      clustering = Optional.of(repeats.clustering(byCanal.size()));
      silent.forEach(canal -> add(byCanal, canal, atMost));
      worst = ShareBounds.ofCanals(byCanal.values(), claim.confidence());
    } else {
      bounds = ShareBounds.of(seen, claim.confidence());
      worst =
          ShareBounds.of(
              new Proportion(seen.count() + (atMost ? missing : 0), seen.trials() + missing),
              claim.confidence());
    }
    Verdict verdict =
        !bounds.meets(claim)
            ? bounds.contradicts(claim) ? Verdict.FAIL : Verdict.UNDECIDED
            : worst.meets(claim) ? Verdict.PASS : missingMean;
    return new ClaimOutcome(
        claim,
        verdict,
        seen,
        missing,
        Optional.of(new Interval(bounds.low(), bounds.high())),
        new Basis.Share(claim.confidence(), planned, clustering),
        Optional.empty());
  }

  private static void add(Map<String, Proportion> byCanal, String canal, boolean counts) {
    byCanal.merge(
        canal,
        new Proportion(counts ? 1 : 0, 1),
        (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials()));
  }

  /** Two one-sided tests: the interval of confidence 2c − 1 lies within the margin. */
  private static ClaimOutcome bias(
      Claim claim,
      List<TrialResult> analysed,
      int missing,
      Verdict missingMean,
      Repeats repeats,
      List<String> silent) {
    Map<String, Moments> byCanal = new TreeMap<>();
    analysed.stream()
        .filter(TrialResult::stopped)
        .forEach(
            t ->
                byCanal.merge(
                    repeats.canal(t), Moments.of(t.stopErrorMicrons(), 1), Moments::plus));
    Moments errors = byCanal.values().stream().reduce(Moments.NONE, Moments::plus);
    Interval margin = new Interval(-claim.withinMicrons(), claim.withinMicrons());
    double confidence = 2 * claim.confidence() - 1;
    Optional<Interval> seen = mean(byCanal, confidence, repeats);
    // Against the claim: every missing trial as far off as the worst one, all to the same side.
    long worst =
        analysed.stream()
            .filter(TrialResult::stopped)
            .mapToLong(t -> Math.abs((long) t.stopErrorMicrons()))
            .reduce(claim.withinMicrons(), Math::max);
    List<String> places = repeats.any() ? silent : Collections.nCopies(missing, "");
    boolean survives =
        missing == 0
            || LongStream.of(worst, -worst)
                .allMatch(
                    w -> {
                      Map<String, Moments> all = new TreeMap<>(byCanal);
                      places.forEach(c -> all.merge(c, Moments.of(w, 1), Moments::plus));
                      return mean(all, confidence, repeats).filter(margin::contains).isPresent();
                    });
    Verdict verdict =
        seen.isEmpty()
            ? analysed.isEmpty() ? missingMean : Verdict.UNDECIDED
            : margin.contains(seen.get())
                ? survives ? Verdict.PASS : missingMean
                : margin.isApartFrom(seen.get()) ? Verdict.FAIL : Verdict.UNDECIDED;
    Optional<Basis.Clustering> clustering =
        repeats.any() ? Optional.of(repeats.clustering(byCanal.size())) : Optional.empty();
    OptionalDouble mean = repeats.any() ? ClusteredMean.mean(byCanal.values()) : errors.mean();
    return new ClaimOutcome(
        claim,
        verdict,
        new Proportion(errors.count(), analysed.size()),
        missing,
        seen,
        new Basis.Mean(confidence, errors.count(), mean, clustering),
        Optional.empty());
  }

  private static Optional<Interval> mean(
      Map<String, Moments> byCanal, double confidence, Repeats repeats) {
    return repeats.any()
        ? ClusteredMean.interval(byCanal.values(), confidence)
        : byCanal.values().stream().reduce(Moments.NONE, Moments::plus).meanInterval(confidence);
  }
}
