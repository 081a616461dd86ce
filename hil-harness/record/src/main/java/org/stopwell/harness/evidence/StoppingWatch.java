package org.stopwell.harness.evidence;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.stopwell.harness.claim.Basis;
import org.stopwell.harness.claim.ByCondition;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Exclusion;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.stats.Anytime;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

/**
 * Applies a stopping rule to the trials, one after the other in run order. A trial counts when its
 * exclusions are settled: if there are sentinels, when a good one follows.
 */
public final class StoppingWatch {
  private final StoppingRule rule;
  private final Claim claim;
  private final Repeats repeats;
  private final List<TrialResult> tests = new ArrayList<>();
  private final List<Condition> due;
  private final int planned;
  private final boolean sentinels;
  private final List<Double> confidences;
  private final Exclusions exclusions;
  private final List<TrialResult> pending = new ArrayList<>();
  private final List<TrialResult> settled = new ArrayList<>();
  private final List<TrialResult> spoiled = new ArrayList<>();
  private final List<Integer> against = new ArrayList<>();
  private final List<StoppingPath.Look> looks = new ArrayList<>();
  private Optional<Withheld> withheld = Optional.empty();
  private int hits;
  private Optional<Decision> decision = Optional.empty();

  private StoppingWatch(
      Protocol protocol, Claim claim, Repeats repeats, List<Condition> conditions) {
    this.repeats = repeats;
    this.rule = protocol.stopping();
    this.claim = claim;
    this.due = conditions.stream().filter(c -> claim.endpoint().isAbout(c.expectation())).toList();
    this.planned = due.stream().mapToInt(Condition::plannedTrials).sum();
    this.sentinels = protocol.sentinels().isPresent();
    this.exclusions = new Exclusions(protocol);
    this.confidences =
        rule.kind() == StoppingRule.Kind.GROUP_SEQUENTIAL
            ? rule.confidences(claim.confidence())
            : List.of();
  }

  /**
   * A watch over a campaign.
   *
   * @param protocol its protocol
   * @param conditions its conditions, as planned
   * @param claims its claims
   * @param repeats which of its trials share a canal
   * @return empty where every trial is run
   */
  public static Optional<StoppingWatch> of(
      Protocol protocol, List<Condition> conditions, List<Claim> claims, Repeats repeats) {
    if (protocol.stopping().kind() == StoppingRule.Kind.FIXED) {
      return Optional.empty();
    }
    return claims.stream()
        .filter(c -> c.endpoint() == protocol.stopping().claim())
        .findFirst()
        .map(claim -> new StoppingWatch(protocol, claim, repeats, conditions));
  }

  /**
   * Takes the next trial in run order.
   *
   * @param trial the trial
   * @return what is decided, from the deciding trial on
   */
  public Optional<Decision> add(TrialResult trial) {
    Exclusions.Ruling ruling = exclusions.add(trial);
    boolean sentinel = trial.condition().equals(SentinelRule.CONDITION);
    if (!sentinel) {
      tests.add(trial);
    }
    if (sentinels && sentinel) {
      if (ruling.sentinel().filter(p -> p.broken().isEmpty()).isPresent()) {
        pending.forEach(t -> settle(t, trial.index()));
      } else {
        pending.forEach(this::spoil);
      }
      pending.clear();
    } else if (!sentinel && !ruling.counts() && isAbout(trial)) {
      spoil(trial);
    } else if (ruling.counts() && isAbout(trial)) {
      if (sentinels) {
        pending.add(trial);
      } else {
        settle(trial, trial.index());
      }
    }
    return decision;
  }

  /**
   * The decision when no trial follows.
   *
   * @return the decision taken before, else the outcome at the end
   */
  public ClaimOutcome end() {
    return decision.map(Decision::outcome).orElseGet(this::atEnd);
  }

  /**
   * The course of the decision.
   *
   * @return every trial that counted, and every look; the last look is that of the end
   */
  public StoppingPath path() {
    List<StoppingPath.Look> all = new ArrayList<>(looks);
    if (rule.kind() == StoppingRule.Kind.GROUP_SEQUENTIAL && decision.isEmpty()) {
      all.add(new StoppingPath.Look(against.size(), lastConfidence(), atEnd()));
    }
    return new StoppingPath(rule, claim, planned, against, all);
  }

  private ClaimOutcome atEnd() {
    if (rule.kind() == StoppingRule.Kind.GROUP_SEQUENTIAL) {
      return at(lastConfidence(), rule.looks(), due, withWhatIsMissing());
    }
    int spoiled = spoiled();
    return outcome(spoiled > 0 ? Verdict.RIG_FAULT : Verdict.UNDECIDED, spoiled);
  }

  /**
   * The number of trials that the rig spoiled, if they alone keep the claim open: all were run, and
   * with good trials in their place the claim would be accepted.
   */
  private int spoiled() {
    long run = tests.stream().filter(t -> claim.endpoint().isAbout(t.expectation())).count();
    int about = (int) tests.stream().filter(this::isAbout).count();
    boolean accepted = verdict(about, misses()).filter(v -> v == Verdict.PASS).isPresent();
    return run >= planned && accepted ? about - settled.size() : 0;
  }

  private double lastConfidence() {
    return confidences.get(confidences.size() - 1);
  }

  private void spoil(TrialResult trial) {
    spoiled.add(withoutResult(trial));
  }

  private static TrialResult withoutResult(TrialResult trial) {
    return ConditionSummary.isAnalysed(trial.verdict())
        ? trial.with(Verdict.RIG_FAULT, Exclusion.BAD_SENTINEL.name(), "not counted")
        : trial;
  }

  /** At the end, a trial without a result counts against the claim. */
  private List<TrialResult> withWhatIsMissing() {
    Set<Integer> said = settled.stream().map(TrialResult::index).collect(Collectors.toSet());
    return tests.stream()
        .filter(t -> claim.endpoint().isAbout(t.expectation()))
        .map(t -> said.contains(t.index()) || !isAbout(t) ? t : withoutResult(t))
        .toList();
  }

  private void settle(TrialResult trial, int at) {
    if (decision.isPresent()) {
      return;
    }
    settled.add(trial);
    hits += ClaimOutcome.counts(claim, own(trial), trial) ? 1 : 0;
    against.add(misses());
    withheld = withheld.or(() -> Withheld.from(trial));
    // A bench that may not decide ends no campaign either.
    decision =
        withheld.isPresent()
            ? Optional.empty()
            : decide().map(outcome -> new Decision(at, outcome));
  }

  private Optional<ClaimOutcome> decide() {
    return rule.kind() == StoppingRule.Kind.GROUP_SEQUENTIAL
        ? groupSequential()
        : verdict(settled.size(), misses()).filter(this::survives).map(v -> outcome(v, 0));
  }

  /** A claim is accepted early only where it would be with each spoiled trial as a miss as well. */
  private boolean survives(Verdict verdict) {
    int lost = spoiled.size();
    return verdict != Verdict.PASS
        || verdict(settled.size() + lost, misses() + lost)
            .filter(v -> v == Verdict.PASS)
            .isPresent();
  }

  /** The verdict of a rule that looks after every trial, for a number of trials and misses. */
  private Optional<Verdict> verdict(int trials, int misses) {
    return switch (rule.kind()) {
      case SPRT -> sprt(trials, misses);
      case ANYTIME -> anytime(trials, misses);
      case FIXED, GROUP_SEQUENTIAL -> Optional.empty();
    };
  }

  private Optional<Verdict> sprt(int trials, int misses) {
    return switch (rule.sprt(claim, planned).decide(trials, misses)) {
      case ACCEPT -> Optional.of(Verdict.PASS);
      case REJECT -> Optional.of(Verdict.FAIL);
      case GO_ON, UNDECIDED -> Optional.empty();
    };
  }

  private Optional<Verdict> anytime(int trials, int misses) {
    boolean atMost = claim.endpoint().isAtMost();
    double share = atMost ? 1 - claim.share() : claim.share();
    double enough = -Math.log(1 - claim.confidence());
    if (!(share > 0 && share < 1)) {
      return Optional.empty();
    }
    if (Anytime.logEvidenceAbove(new Proportion(trials - misses, trials), share) >= enough) {
      return Optional.of(Verdict.PASS);
    }
    return Anytime.logEvidenceAbove(new Proportion(misses, trials), 1 - share) >= enough
        ? Optional.of(Verdict.FAIL)
        : Optional.empty();
  }

  private Optional<ClaimOutcome> groupSequential() {
    // The last look is the end of the campaign itself.
    int look = looks.size() + 1;
    if (look >= rule.looks() || (long) settled.size() * rule.looks() < (long) look * planned) {
      return Optional.empty();
    }
    List<TrialResult> whole = inWholeCanals(settled);
    if ((long) whole.size() * rule.looks() < (long) look * planned) {
      return Optional.empty();
    }
    double confidence = confidences.get(look - 1);
    List<TrialResult> run = new ArrayList<>(whole);
    run.addAll(inWholeCanals(spoiled));
    ClaimOutcome seen = at(confidence, look, soFar(run), run);
    looks.add(new StoppingPath.Look(whole.size(), confidence, seen));
    return seen.verdict() == Verdict.PASS || seen.verdict() == Verdict.FAIL
        ? Optional.of(seen)
        : Optional.empty();
  }

  /** A canal counts as one number when the next one has begun: then no trial of it is open. */
  private List<TrialResult> inWholeCanals(List<TrialResult> trials) {
    if (!repeats.canalAfterCanal()) {
      return List.copyOf(trials);
    }
    Repeats known = repeats.over(tests);
    String open = known.canal(settled.get(settled.size() - 1));
    return trials.stream().filter(t -> !known.canal(t).equals(open)).toList();
  }

  /** A look before the end uses the trials that are settled or spoiled; the others are open. */
  private List<Condition> soFar(List<TrialResult> run) {
    return due.stream()
        .map(
            c -> {
              long n = run.stream().filter(t -> t.condition().equals(c.name())).count();
              return new Condition(
                  c.name(), c.expectation(), (int) n, c.standoffMicrons(), c.toleranceMicrons());
            })
        .toList();
  }

  /** The claim at the stricter confidence of one look. */
  private ClaimOutcome at(
      double confidence, int number, List<Condition> conditions, List<TrialResult> trials) {
    Claim strict = claim.with(confidence);
    List<ConditionSummary> summaries =
        conditions.stream()
            .map(
                c ->
                    ConditionSummary.of(
                        c, trials.stream().filter(t -> t.condition().equals(c.name())).toList()))
            .toList();
    ClaimOutcome outcome = ClaimOutcome.of(strict, summaries, trials, repeats.over(tests));
    return new ClaimOutcome(
        claim,
        outcome.verdict(),
        outcome.counted(),
        outcome.missing(),
        outcome.interval(),
        new Basis.Look(number, rule.looks(), outcome.basis()),
        outcome.withheld(),
        outcome.conditions());
  }

  private ClaimOutcome outcome(Verdict verdict, int spoiled) {
    return new ClaimOutcome(
        claim,
        verdict,
        new Proportion(hits, settled.size()),
        0,
        Optional.empty(),
        new Basis.EveryTrial(rule.kind(), planned, spoiled),
        withheld,
        ByCondition.of(claim, List.of(), List.of(), repeats));
  }

  private int misses() {
    return claim.endpoint().isAtMost() ? hits : settled.size() - hits;
  }

  /** Whether a trial can count for the claim; one that the rig spoiled still could have. */
  private boolean isAbout(TrialResult trial) {
    return claim.endpoint().isAbout(trial.expectation())
        && (!ConditionSummary.isAnalysed(trial.verdict())
            || ClaimOutcome.isAbout(claim, own(trial), trial));
  }

  private Condition own(TrialResult trial) {
    return due.stream().filter(c -> c.name().equals(trial.condition())).findFirst().orElseThrow();
  }
}
