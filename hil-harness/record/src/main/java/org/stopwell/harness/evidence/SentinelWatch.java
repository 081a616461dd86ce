package org.stopwell.harness.evidence;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.RunFile.Note;
import org.stopwell.harness.stats.Sentinels;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Judges known-answer trials as they come, in run order. */
public final class SentinelWatch {
  private final SentinelRule rule;
  private final List<Sentinels.Measured> measured = new ArrayList<>();
  private List<Sentinels.Point> points = List.of();

  /**
   * A watch without trials.
   *
   * @param rule what the sentinels must give
   */
  public SentinelWatch(SentinelRule rule) {
    this.rule = rule;
  }

  /**
   * The bad sentinel at which a campaign waits: its newest trial, without a service since.
   *
   * @param protocol its protocol
   * @param results the trials so far, in any order
   * @param notes the notes of its run file
   * @return empty when the campaign may go on
   */
  public static Optional<BadSentinel> waiting(
      Protocol protocol, List<TrialResult> results, List<Note> notes) {
    if (protocol.sentinels().filter(SentinelRule::stops).isEmpty()) {
      return Optional.empty();
    }
    SentinelWatch watch = new SentinelWatch(protocol.sentinels().get());
    Optional<BadSentinel> newest = Optional.empty();
    for (TrialResult trial :
        results.stream().sorted(Comparator.comparingInt(TrialResult::index)).toList()) {
      newest = watch.add(trial);
    }
    List<Service> services = Service.of(notes);
    return newest.filter(bad -> services.stream().noneMatch(s -> s.trial() == bad.trial().index()));
  }

  /**
   * Takes the next trial in run order.
   *
   * @param trial a trial under test, or a sentinel
   * @return what is wrong, when it is a sentinel that broke a rule
   */
  public Optional<BadSentinel> add(TrialResult trial) {
    if (!trial.condition().equals(SentinelRule.CONDITION)) {
      return Optional.empty();
    }
    int firstUnproven = measured.isEmpty() ? 0 : measured.get(measured.size() - 1).trial() + 1;
    // One that did not come to rest by a decision is as far off as can be.
    boolean known = trial.stopped() && trial.verdict() != Verdict.RIG_FAULT;
    double value = known ? trial.remainingMicrons() : Double.POSITIVE_INFINITY;
    measured.add(new Sentinels.Measured(trial.index(), value));
    points = rule.limits().judge(measured);
    Sentinels.Point newest = points.get(points.size() - 1);
    return newest.broken().map(r -> new BadSentinel(rule, trial, firstUnproven, newest.z(), r));
  }

  /**
   * Every sentinel so far.
   *
   * @return judged, in run order
   */
  public List<Sentinels.Point> points() {
    return points;
  }
}
