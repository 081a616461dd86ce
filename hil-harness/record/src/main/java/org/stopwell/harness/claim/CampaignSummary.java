package org.stopwell.harness.claim;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.DutException;

/**
 * The result of a campaign: every condition, every claim, one verdict.
 *
 * @param conditions the conditions in plan order
 * @param claims the claims in plan order
 * @param verdict one of five
 * @param reason why it is that verdict
 */
public record CampaignSummary(
    List<ConditionSummary> conditions,
    List<ClaimOutcome> claims,
    Verdict verdict,
    VerdictReason reason) {

  /**
   * Sums up a campaign. The order of the trials does not matter.
   *
   * @param conditions every condition of the plan
   * @param claims every claim of the plan; without claims every trial must do what is expected
   * @param trials every trial that was run
   * @return the summary
   * @throws IllegalArgumentException when a trial belongs to no condition
   */
  public static CampaignSummary of(
      List<Condition> conditions, List<Claim> claims, List<TrialResult> trials) {
    return of(conditions, claims, trials, Map.of(), Repeats.NONE);
  }

  /**
   * Sums up a campaign whose stopping rule decides some of its claims.
   *
   * @param conditions every condition of the plan
   * @param claims every claim of the plan
   * @param trials every trial that was run
   * @param decided outcomes that take the place of those on the trials there are, by endpoint
   * @param repeats which trials share a canal
   * @return the summary
   * @throws IllegalArgumentException when a trial belongs to no condition
   */
  public static CampaignSummary of(
      List<Condition> conditions,
      List<Claim> claims,
      List<TrialResult> trials,
      Map<Claim.Endpoint, ClaimOutcome> decided,
      Repeats repeats) {
    Map<String, List<TrialResult>> byCondition = new LinkedHashMap<>();
    conditions.forEach(c -> byCondition.put(c.name(), new ArrayList<>()));
    for (TrialResult trial : trials) {
      List<TrialResult> own = byCondition.get(trial.condition());
      if (own == null) {
        throw new IllegalArgumentException(
            "trial " + trial.index() + " is of condition " + trial.condition() + ", not planned");
      }
      own.add(trial);
    }
    List<ConditionSummary> summaries = new ArrayList<>();
    conditions.forEach(
        c -> summaries.add(ConditionSummary.of(c, byCondition.getOrDefault(c.name(), List.of()))));
    List<ClaimOutcome> outcomes =
        claims.stream()
            .map(
                c -> {
                  ClaimOutcome early = decided.get(c.endpoint());
                  return early == null
                      ? ClaimOutcome.of(c, summaries, trials, repeats)
                      : early.with(ByCondition.of(c, summaries, trials, repeats));
                })
            .toList();
    return decide(summaries, outcomes, trials);
  }

  /**
   * Trials that the plan asks for.
   *
   * @return sum over all conditions
   */
  public int planned() {
    return conditions.stream().mapToInt(c -> c.condition().plannedTrials()).sum();
  }

  /**
   * Trials that were run.
   *
   * @return sum over all conditions
   */
  public int run() {
    return conditions.stream().mapToInt(ConditionSummary::run).sum();
  }

  /**
   * Trials that count for the controller.
   *
   * @return sum over all conditions
   */
  public int analysed() {
    return conditions.stream().mapToInt(ConditionSummary::analysed).sum();
  }

  /**
   * Trials that the emergency stop or a safety limit ended.
   *
   * @return sum over all conditions
   */
  public int safetyStops() {
    return conditions.stream().mapToInt(ConditionSummary::safetyStops).sum();
  }

  /**
   * Trials that the bench spoiled.
   *
   * @return how many, by cause code
   */
  public SortedMap<String, Integer> rigFaults() {
    SortedMap<String, Integer> all = new TreeMap<>();
    conditions.forEach(c -> c.rigFaults().forEach((code, n) -> all.merge(code, n, Integer::sum)));
    return all;
  }

  private static CampaignSummary decide(
      List<ConditionSummary> conditions, List<ClaimOutcome> claims, List<TrialResult> trials) {
    CampaignSummary undecided =
        new CampaignSummary(
            conditions,
            claims,
            Verdict.UNDECIDED,
            VerdictReason.of(VerdictReason.Kind.NO_TRIAL, 0));
    int safetyStops = undecided.safetyStops();
    if (safetyStops > 0) {
      return undecided.with(Verdict.SAFETY_STOP, VerdictReason.Kind.SAFETY_STOPS, safetyStops);
    }
    Optional<Withheld> withheld =
        trials.stream().flatMap(t -> Withheld.from(t).stream()).findFirst();
    if (withheld.isPresent()) {
      return new CampaignSummary(
          conditions,
          claims,
          Verdict.UNDECIDED,
          new VerdictReason(VerdictReason.Kind.WITHHELD, trials.size(), withheld));
    }
    long contradicted = claims.stream().filter(c -> c.verdict() == Verdict.FAIL).count();
    if (contradicted > 0) {
      return undecided.with(Verdict.FAIL, VerdictReason.Kind.CLAIMS_CONTRADICTED, contradicted);
    }
    long unweighed = trials.stream().filter(t -> isUnweighedFailure(t, conditions, claims)).count();
    if (unweighed > 0) {
      return undecided.with(Verdict.FAIL, VerdictReason.Kind.TRIALS_FAILED, unweighed);
    }
    int missing = conditions.stream().mapToInt(ConditionSummary::missing).sum();
    int rigFaults = undecided.rigFaults().values().stream().mapToInt(Integer::intValue).sum();
    boolean claimsPass = claims.stream().allMatch(c -> c.verdict() == Verdict.PASS);
    if (rigFaults > 0 && (claims.isEmpty() || !claimsPass || hasSilentCondition(conditions))) {
      return undecided.with(Verdict.RIG_FAULT, VerdictReason.Kind.RIG_FAULTS, rigFaults);
    }
    if (trials.isEmpty()) {
      return undecided;
    }
    if (missing > rigFaults) {
      return undecided.with(
          Verdict.UNDECIDED, VerdictReason.Kind.TRIALS_NOT_RUN, missing - rigFaults);
    }
    if (!claimsPass) {
      long open = claims.stream().filter(c -> c.verdict() != Verdict.PASS).count();
      return undecided.with(Verdict.UNDECIDED, VerdictReason.Kind.CLAIMS_OPEN, open);
    }
    int open =
        conditions.stream()
            .filter(c -> c.condition().expectation() != Expectation.COMPARE)
            .mapToInt(ConditionSummary::undecided)
            .sum();
    if (open > 0 && claims.isEmpty()) {
      return undecided.with(Verdict.UNDECIDED, VerdictReason.Kind.TRIALS_OPEN, open);
    }
    return claims.isEmpty()
        ? undecided.with(Verdict.PASS, VerdictReason.Kind.AS_EXPECTED, trials.size())
        : undecided.with(Verdict.PASS, VerdictReason.Kind.CLAIMS_HOLD, claims.size());
  }

  /**
   * The same numbers of a run whose choice of statistics cannot be read. A safety stop stays one.
   *
   * @return the summary, its verdict withheld
   */
  public CampaignSummary withoutStatistics() {
    return verdict == Verdict.SAFETY_STOP
        ? this
        : with(Verdict.UNDECIDED, VerdictReason.Kind.STATISTICS_UNREAD, 0);
  }

  private CampaignSummary with(Verdict newVerdict, VerdictReason.Kind kind, long count) {
    return new CampaignSummary(conditions, claims, newVerdict, VerdictReason.of(kind, count));
  }

  /** A failure is weighed if a claim counts it as a miss or bounds the share of refusals. */
  private static boolean isUnweighedFailure(
      TrialResult trial, List<ConditionSummary> conditions, List<ClaimOutcome> claims) {
    if (PolicyFailure.isIn(trial)
        || (trial.verdict() == Verdict.FAIL && DutException.isCode(trial.code()))) {
      return true; // a program that fails is no share of anything
    }
    return trial.verdict() == Verdict.FAIL
        && trial.expectation() != Expectation.COMPARE
        && conditions.stream()
            .filter(c -> c.condition().name().equals(trial.condition()))
            .noneMatch(
                c ->
                    claims.stream()
                        .map(ClaimOutcome::claim)
                        .anyMatch(
                            claim ->
                                ClaimOutcome.speaksAbout(claim, c)
                                    && ClaimOutcome.weighsAgainst(claim, c.condition(), trial)));
  }

  /** A condition whose every trial was spoiled is not covered by the others. */
  private static boolean hasSilentCondition(List<ConditionSummary> conditions) {
    return conditions.stream().anyMatch(c -> c.run() > 0 && c.analysed() == 0);
  }
}
