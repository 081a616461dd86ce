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
 * @param conditions the conditions that it is about, and what each of them alone says
 */
public record ClaimOutcome(
    Claim claim,
    Verdict verdict,
    Proportion counted,
    int missing,
    Optional<Interval> interval,
    Basis basis,
    Optional<Withheld> withheld,
    ByCondition conditions) {

  /** An outcome whose conditions are not looked at one by one. */
  ClaimOutcome(
      Claim claim,
      Verdict verdict,
      Proportion counted,
      int missing,
      Optional<Interval> interval,
      Basis basis) {
    this(claim, verdict, counted, missing, interval, basis, Optional.empty(), ByCondition.UNKNOWN);
  }

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
   * Decides a claim on the trials. A claim on each condition is decided by Holm's step-down over
   * its conditions, any other by all their trials together.
   *
   * @param claim the claim
   * @param conditions every condition of the plan
   * @param trials every trial that was run
   * @param repeats which of them share a canal: then each canal counts as one number
   * @return the outcome
   */
  public static ClaimOutcome of(
      Claim claim, List<ConditionSummary> conditions, List<TrialResult> trials, Repeats repeats) {
    return together(claim, conditions, trials, repeats)
        .with(ByCondition.of(claim, conditions, trials, repeats));
  }

  /**
   * The same outcome beside what each condition alone says.
   *
   * @param alone what the conditions say
   * @return with the verdict over the conditions where the claim is on each of them
   */
  public ClaimOutcome with(ByCondition alone) {
    boolean each = claim.each() && alone.names().size() > 1 && withheld.isEmpty();
    return new ClaimOutcome(
        claim,
        each ? alone.verdict() : verdict,
        counted,
        missing,
        interval,
        basis,
        withheld,
        alone);
  }

  /** Decides a claim on the trials of all its conditions together. */
  static ClaimOutcome together(
      Claim claim, List<ConditionSummary> conditions, List<TrialResult> trials, Repeats repeats) {
    List<ConditionSummary> spoken = spokenOf(claim, conditions);
    Map<String, Condition> conditionOf =
        spoken.stream()
            .map(ConditionSummary::condition)
            .collect(Collectors.toMap(Condition::name, c -> c, (one, same) -> one));
    List<TrialResult> own =
        trials.stream().filter(t -> conditionOf.containsKey(t.condition())).toList();
    List<TrialResult> analysed =
        own.stream()
            .filter(t -> ConditionSummary.isAnalysed(t.verdict()))
            .filter(t -> isAbout(claim, Objects.requireNonNull(conditionOf.get(t.condition())), t))
            .toList();
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
        claim,
        Verdict.UNDECIDED,
        counted,
        missing,
        interval,
        basis,
        Optional.of(cause),
        conditions);
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
   * Whether an analysed trial says anything about a claim.
   *
   * @param claim the claim
   * @param condition one of its conditions
   * @param trial an analysed trial of that condition
   * @return false for over-travel of a trial that was not driven and did not go past, and for a
   *     stop within a band where the trial was refused as it may be
   */
  public static boolean isAbout(Claim claim, Condition condition, TrialResult trial) {
    return switch (claim.endpoint()) {
      case OVER_TRAVEL -> condition.isAtRisk(trial);
      case OVERRUN -> condition.isAtRiskOfOverrun(trial);
      case WITHIN -> trial.rested() || !condition.expectation().mayRefuse();
      case REFUSED, BIAS -> true;
    };
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
      case OVERRUN -> condition.isOverrun(trial);
      case REFUSED -> trial.verdict() == Verdict.PASS;
      case BIAS -> trial.rested();
    };
  }

  /**
   * Whether a claim already weighs this trial as one that went against it: a share counts it as a
   * miss, and a mean bounds the share of refusals.
   */
  static boolean weighsAgainst(Claim claim, Condition condition, TrialResult trial) {
    return switch (claim.endpoint()) {
      case WITHIN, REFUSED -> !counts(claim, condition, trial);
      case OVER_TRAVEL, OVERRUN -> counts(claim, condition, trial);
      case BIAS -> trial.refused() || trial.neverStarted();
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
    boolean atMost = claim.endpoint().isAtMost();
    Predicate<TrialResult> hit =
        t -> counts(claim, Objects.requireNonNull(conditionOf.get(t.condition())), t);
    Proportion seen = new Proportion(analysed.stream().filter(hit).count(), analysed.size());
    boolean planned = conditionOf.values().stream().anyMatch(c -> c.overTravelBelowMicrons() < 0);
    if (analysed.isEmpty()) {
      Basis basis = new Basis.Share(claim.confidence(), planned, Optional.empty());
      return new ClaimOutcome(claim, missingMean, seen, missing, Optional.empty(), basis);
    }
    Map<String, Proportion> byCanal = byCanal(analysed, hit, repeats);
    Optional<Basis.Clustering> clustering =
        repeats.any() ? Optional.of(repeats.clustering(byCanal.size())) : Optional.empty();
    ShareBounds bounds = bounds(byCanal, claim.confidence(), repeats);
    Verdict verdict =
        !bounds.meets(claim)
            ? bounds.contradicts(claim) ? Verdict.FAIL : Verdict.UNDECIDED
            : bounds(with(byCanal, missing, silent, atMost), claim.confidence(), repeats)
                    .meets(claim)
                ? Verdict.PASS
                : missingMean;
    return new ClaimOutcome(
        claim,
        verdict,
        seen,
        missing,
        Optional.of(new Interval(bounds.low(), bounds.high())),
        new Basis.Share(claim.confidence(), planned, clustering));
  }

  /** The hits of each canal; one entry in all where trials do not share canals. */
  private static Map<String, Proportion> byCanal(
      List<TrialResult> analysed, Predicate<TrialResult> hit, Repeats repeats) {
    Map<String, Proportion> byCanal = new TreeMap<>();
    analysed.forEach(t -> add(byCanal, repeats.canal(t), hit.test(t)));
    return byCanal;
  }

  /** The same with every missing trial in its canal, as a hit or as a miss. */
  private static Map<String, Proportion> with(
      Map<String, Proportion> byCanal, int missing, List<String> silent, boolean hits) {
    Map<String, Proportion> all = new TreeMap<>(byCanal);
    silent.forEach(canal -> add(all, canal, hits));
    if (silent.isEmpty()) {
      all.merge("", new Proportion(hits ? missing : 0, missing), ClaimOutcome::sum);
    }
    return all;
  }

  private static ShareBounds bounds(
      Map<String, Proportion> byCanal, double confidence, Repeats repeats) {
    return repeats.any()
        ? ShareBounds.ofCanals(byCanal.values(), confidence)
        : ShareBounds.of(
            byCanal.values().stream().reduce(new Proportion(0, 0), ClaimOutcome::sum), confidence);
  }

  private static Proportion sum(Proportion a, Proportion b) {
    return new Proportion(a.count() + b.count(), a.trials() + b.trials());
  }

  private static void add(Map<String, Proportion> byCanal, String canal, boolean counts) {
    byCanal.merge(canal, new Proportion(counts ? 1 : 0, 1), ClaimOutcome::sum);
  }

  /**
   * Two one-sided tests: the interval of confidence 2c − 1 lies within the margin. And since a
   * trial without a stop has no error, the share of such trials must be shown to be small.
   */
  private static ClaimOutcome bias(
      Claim claim,
      List<TrialResult> analysed,
      int missing,
      Verdict missingMean,
      Repeats repeats,
      List<String> silent) {
    Map<String, Moments> byCanal = new TreeMap<>();
    analysed.stream()
        .filter(TrialResult::rested)
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
            .filter(TrialResult::rested)
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
    Verdict ofMean =
        seen.isEmpty()
            ? analysed.isEmpty() ? missingMean : Verdict.UNDECIDED
            : margin.contains(seen.get())
                ? survives ? Verdict.PASS : missingMean
                : margin.isApartFrom(seen.get()) ? Verdict.FAIL : Verdict.UNDECIDED;
    Optional<Basis.Clustering> clustering =
        repeats.any() ? Optional.of(repeats.clustering(byCanal.size())) : Optional.empty();
    OptionalDouble mean = repeats.any() ? ClusteredMean.mean(byCanal.values()) : errors.mean();
    Basis.Unstopped unstopped =
        unstopped(claim, analysed, missing, missingMean, repeats, silent)
            .with(atWorst(analysed, byCanal, confidence, repeats));
    return new ClaimOutcome(
        claim,
        both(ofMean, unstopped.verdict()),
        new Proportion(errors.count(), analysed.size()),
        missing,
        seen,
        new Basis.Mean(confidence, errors.count(), mean, clustering, unstopped));
  }

  private static Verdict both(Verdict one, Verdict other) {
    return one == Verdict.FAIL || other == Verdict.FAIL
        ? Verdict.FAIL
        : one == Verdict.PASS
            ? other
            : other == Verdict.PASS || one == other ? one : Verdict.UNDECIDED;
  }

  private static Basis.Unstopped unstopped(
      Claim claim,
      List<TrialResult> analysed,
      int missing,
      Verdict missingMean,
      Repeats repeats,
      List<String> silent) {
    double limit = claim.refusedAtMost();
    Map<String, Proportion> byCanal = byCanal(analysed, t -> !t.rested(), repeats);
    Proportion counted = byCanal.values().stream().reduce(new Proportion(0, 0), ClaimOutcome::sum);
    if (analysed.isEmpty()) {
      return new Basis.Unstopped(counted, claim.confidence(), 1, missingMean, Optional.empty());
    }
    ShareBounds bounds = bounds(byCanal, claim.confidence(), repeats);
    ShareBounds worst = bounds(with(byCanal, missing, silent, true), claim.confidence(), repeats);
    return new Basis.Unstopped(
        counted,
        claim.confidence(),
        bounds.high(),
        bounds.high() > limit
            ? bounds.low() > limit ? Verdict.FAIL : Verdict.UNDECIDED
            : worst.high() <= limit ? Verdict.PASS : missingMean,
        Optional.empty());
  }

  /** What the interval of the mean would be with every trial without a stop at the worst error. */
  private static Optional<Interval> atWorst(
      List<TrialResult> analysed,
      Map<String, Moments> byCanal,
      double confidence,
      Repeats repeats) {
    List<TrialResult> without = analysed.stream().filter(t -> !t.rested()).toList();
    long worst =
        analysed.stream()
            .filter(TrialResult::rested)
            .mapToLong(t -> Math.abs((long) t.stopErrorMicrons()))
            .max()
            .orElse(0);
    List<Interval> sides = new ArrayList<>();
    for (long error : new long[] {-worst, worst}) {
      Map<String, Moments> all = new TreeMap<>(byCanal);
      without.forEach(t -> all.merge(repeats.canal(t), Moments.of(error, 1), Moments::plus));
      mean(all, confidence, repeats).ifPresent(sides::add);
    }
    return without.isEmpty() || sides.size() < 2
        ? Optional.empty()
        : Optional.of(new Interval(sides.get(0).low(), sides.get(1).high()));
  }

  private static Optional<Interval> mean(
      Map<String, Moments> byCanal, double confidence, Repeats repeats) {
    return repeats.any()
        ? ClusteredMean.interval(byCanal.values(), confidence)
        : byCanal.values().stream().reduce(Moments.NONE, Moments::plus).meanInterval(confidence);
  }
}
