package org.stopwell.harness.evidence;

import java.util.List;
import java.util.Optional;
import org.stopwell.harness.protocol.Exclusion;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.stats.Sentinels;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * Applies the exclusion rules, one trial after the other in run order. No rule depends on the
 * result of a trial: only on faults of the bench, its lateness and the sentinels.
 */
final class Exclusions {
  private final Protocol protocol;
  private final Optional<SentinelWatch> sentinels;
  private int afterFault;

  /**
   * The ruling on one trial at its end; a later sentinel can reverse it.
   *
   * @param rule the rule that excludes it, empty when none does so far
   * @param sentinel how it stands, when it is a sentinel
   */
  record Ruling(Optional<Exclusion> rule, Optional<Sentinels.Point> sentinel) {
    boolean counts() {
      return rule.isEmpty() && sentinel.isEmpty();
    }
  }

  Exclusions(Protocol protocol) {
    this.protocol = protocol;
    this.sentinels = protocol.sentinels().map(SentinelWatch::new);
  }

  Ruling add(TrialResult trial) {
    if (sentinels.isPresent() && trial.condition().equals(SentinelRule.CONDITION)) {
      sentinels.get().add(trial);
      List<Sentinels.Point> judged = points();
      return new Ruling(Optional.empty(), Optional.of(judged.get(judged.size() - 1)));
    }
    Optional<Exclusion> rule = rule(trial);
    afterFault =
        trial.verdict() == Verdict.RIG_FAULT
            ? protocol.afterRigFault()
            : Math.max(0, afterFault - 1);
    return new Ruling(rule, Optional.empty());
  }

  /** Every sentinel so far, judged. */
  List<Sentinels.Point> points() {
    return sentinels.map(SentinelWatch::points).orElse(List.of());
  }

  private Optional<Exclusion> rule(TrialResult trial) {
    if (trial.verdict() == Verdict.RIG_FAULT) {
      return Optional.of(Exclusion.BENCH_FAULT);
    }
    if (trial.verdict() == Verdict.SAFETY_STOP) {
      return Optional.of(Exclusion.SAFETY_STOP);
    }
    if (afterFault > 0) {
      return Optional.of(Exclusion.AFTER_RIG_FAULT);
    }
    return protocol.lateStepNs() > 0 && trial.worstLatenessNs() > protocol.lateStepNs()
        ? Optional.of(Exclusion.LATE_STEP)
        : Optional.empty();
  }
}
