package org.stopwell.harness.evidence;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Exclusion;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Sentinels;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * A run evaluated by the rules of its protocol: sentinels separated, excluded trials marked, levels
 * coded, the claim of the stopping rule decided. It depends only on header and trials, so it is
 * reproducible; the run file keeps every trial unchanged.
 *
 * @param header the header, with coded conditions while blinded, and with the trials that were due
 *     when the stopping rule ended the campaign; {@link RunHeader#isCoded} says which
 * @param trials the trials under test in run order; an excluded one is a {@code RIG_FAULT} with the
 *     rule as its code
 * @param sentinels the known-answer trials, judged
 * @param excluded how many trials each rule excludes
 * @param decision result of the stopping rule before the last trial
 * @param path how the stopping rule came to its result, empty without a rule
 * @param repeats which of the trials under test share a canal
 * @param summary what the campaign says: every condition, every claim, one verdict
 */
public record Evidence(
    RunHeader header,
    List<TrialResult> trials,
    List<Sentinels.Point> sentinels,
    Map<Exclusion, Integer> excluded,
    Optional<Decision> decision,
    Optional<StoppingPath> path,
    Repeats repeats,
    CampaignSummary summary) {

  /** Takes copies. */
  public Evidence {
    trials = List.copyOf(trials);
    sentinels = List.copyOf(sentinels);
    excluded = Map.copyOf(excluded);
  }

  /**
   * Weighs a run as it lies on the disk.
   *
   * @param run its run file
   * @param directory its run directory, which says whether it was unblinded
   * @return what counts
   * @throws RunFileException when the run file cannot be read
   */
  public static Evidence of(RunFile run, Path directory) throws RunFileException {
    return of(run.header(), run.results(), ConditionNames.shown(run.header(), directory));
  }

  /**
   * Evaluates a run; a blinded run stays blinded.
   *
   * @param header what the campaign was
   * @param results its trials, in any order
   * @return what counts
   */
  public static Evidence of(RunHeader header, List<TrialResult> results) {
    return of(header, results, ConditionNames.blinded(header));
  }

  /**
   * Evaluates a run.
   *
   * @param stored what the campaign was, as the run file holds it
   * @param results its trials, in any order
   * @param names the names that the conditions go by
   * @return what counts
   */
  private static Evidence of(RunHeader stored, List<TrialResult> results, ConditionNames names) {
    RunHeader header = names.of(stored);
    List<TrialResult> ordered =
        names.of(results).stream().sorted(Comparator.comparingInt(TrialResult::index)).toList();
    Protocol protocol = header.protocol();
    Exclusions exclusions = new Exclusions(protocol);
    Map<Exclusion, Integer> counts = new EnumMap<>(Exclusion.class);
    List<TrialResult> tests = new ArrayList<>();
    List<Optional<Exclusion>> rules = new ArrayList<>();
    Optional<Repeats> known =
        header
            .design()
            .analysis()
            .map(a -> Repeats.of(protocol, a))
            .map(r -> header.origin().imported() ? r.ofTeeth() : r);
    Optional<StoppingWatch> watch =
        known.flatMap(r -> StoppingWatch.of(protocol, header.conditions(), header.claims(), r));
    Optional<Decision> decision = Optional.empty();
    for (TrialResult trial : ordered) {
      Exclusions.Ruling ruling = exclusions.add(trial);
      if (ruling.sentinel().isEmpty()) {
        tests.add(trial);
        rules.add(ruling.rule());
      }
      if (watch.isPresent()) {
        decision = watch.get().add(trial);
      }
    }
    List<int[]> unproven = Sentinels.invalid(exclusions.points());
    List<TrialResult> marked = new ArrayList<>();
    for (int i = 0; i < tests.size(); i++) {
      TrialResult trial = tests.get(i);
      Optional<Exclusion> rule =
          rules
              .get(i)
              .or(
                  () ->
                      unproven.stream()
                              .anyMatch(s -> s[0] <= trial.index() && trial.index() <= s[1])
                          ? Optional.of(Exclusion.BAD_SENTINEL)
                          : Optional.empty());
      rule.ifPresent(r -> counts.merge(r, 1, Integer::sum));
      marked.add(rule.map(r -> marked(trial, r)).orElse(trial));
    }
    Map<Claim.Endpoint, ClaimOutcome> decided = new EnumMap<>(Claim.Endpoint.class);
    watch.ifPresent(w -> decided.put(w.end().claim().endpoint(), w.end()));
    boolean early = decision.isPresent();
    List<Condition> conditions =
        header.conditions().stream().map(c -> early ? due(c, tests) : c).toList();
    Repeats repeats = known.orElse(Repeats.NONE).over(marked);
    // Trials of an unknown choice may share canals; no claim on them can be decided.
    List<Claim> claims = known.isPresent() ? header.claims() : List.of();
    CampaignSummary summary = CampaignSummary.of(conditions, claims, marked, decided, repeats);
    return new Evidence(
        conditions.equals(header.conditions()) ? header : header.with(conditions),
        marked,
        exclusions.points(),
        counts,
        decision,
        watch.map(StoppingWatch::path),
        repeats,
        known.isPresent() || header.claims().isEmpty() ? summary : summary.withoutStatistics());
  }

  /**
   * Every trial that was run, for export: the excluded ones marked, the sentinels among them.
   *
   * @param results the trials that this was made from, under the same names
   * @return one row each, in their order
   */
  public List<TrialResult> rows(List<TrialResult> results) {
    Map<Integer, TrialResult> marked = new HashMap<>();
    trials.forEach(t -> marked.put(t.index(), t));
    return results.stream().map(t -> marked.getOrDefault(t.index(), t)).toList();
  }

  /** A trial that the rig spoiled keeps its own code. */
  private static TrialResult marked(TrialResult trial, Exclusion rule) {
    return switch (rule) {
      case BENCH_FAULT, SAFETY_STOP -> trial;
      case BAD_SENTINEL, AFTER_RIG_FAULT, LATE_STEP ->
          trial.with(Verdict.RIG_FAULT, rule.name(), rule.text());
    };
  }

  /**
   * The trials due in a condition when the stopping rule ended the campaign: those that were run.
   */
  private static Condition due(Condition c, List<TrialResult> tests) {
    return new Condition(
        c.name(),
        c.expectation(),
        (int) tests.stream().filter(t -> t.condition().equals(c.name())).count(),
        c.standoffMicrons(),
        c.toleranceMicrons());
  }
}
