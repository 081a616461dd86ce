package org.stopwell.harness.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.BiPredicate;
import java.util.stream.Collectors;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * The conditions of a claim, and what the trials of each condition alone say about it.
 *
 * <p>Which conditions meet the claim, and which contradict it, follows from the step-down of Holm
 * (Scandinavian Journal of Statistics 6, 1979, 65): with the confidence of the claim, no condition
 * is named wrongly.
 *
 * @param planned how many conditions the plan has
 * @param names the conditions that the claim is about, in the order of the plan
 * @param mayRefuse whether a refusal is as expected as a stop in one of them
 * @param depthLimit whether the file must rest at a depth limit in all of them
 * @param alone the outcome of each of them alone, with the confidence of the claim; empty where the
 *     claim is about one condition
 * @param holding those shown to meet the claim
 * @param contradicted those shown not to meet it
 * @param verdict of the claim that each of them meets it
 */
public record ByCondition(
    int planned,
    List<String> names,
    boolean mayRefuse,
    boolean depthLimit,
    List<ClaimOutcome> alone,
    List<String> holding,
    List<String> contradicted,
    Verdict verdict) {
  /** Conditions that nobody looked at. */
  static final ByCondition UNKNOWN =
      new ByCondition(
          0, List.of(), false, false, List.of(), List.of(), List.of(), Verdict.UNDECIDED);

  /** Takes copies. */
  public ByCondition {
    names = List.copyOf(names);
    alone = List.copyOf(alone);
    holding = List.copyOf(holding);
    contradicted = List.copyOf(contradicted);
  }

  /**
   * Looks at the conditions of a claim one by one.
   *
   * @param claim the claim
   * @param conditions every condition of the plan
   * @param trials every trial that was run
   * @param repeats which of them share a canal
   * @return what each condition says
   */
  public static ByCondition of(
      Claim claim, List<ConditionSummary> conditions, List<TrialResult> trials, Repeats repeats) {
    List<ConditionSummary> spoken = ClaimOutcome.spokenOf(claim, conditions);
    List<String> names = spoken.stream().map(c -> c.condition().name()).toList();
    boolean mayRefuse = spoken.stream().anyMatch(ConditionSummary::mayRefuse);
    boolean depthLimit =
        !spoken.isEmpty()
            && spoken.stream()
                .allMatch(c -> c.condition().expectation() == Expectation.DEPTH_LIMIT);
    if (names.size() < 2) {
      return new ByCondition(
          conditions.size(),
          names,
          mayRefuse,
          depthLimit,
          List.of(),
          List.of(),
          List.of(),
          Verdict.UNDECIDED);
    }
    Map<String, List<TrialResult>> own =
        trials.stream().collect(Collectors.groupingBy(TrialResult::condition));
    Alone alone = new Alone(claim, conditions, own, repeats);
    List<String> holding = stepDown(names, claim, alone, Verdict.PASS);
    List<String> contradicted = stepDown(names, claim, alone, Verdict.FAIL);
    List<String> open = names.stream().filter(n -> !holding.contains(n)).toList();
    // The rig alone is to blame where good trials in place of the spoiled ones would do.
    boolean spoiled =
        open.stream()
            .allMatch(
                n ->
                    alone.at(n, strict(claim.confidence(), open.size())).verdict()
                        == Verdict.RIG_FAULT);
    return new ByCondition(
        conditions.size(),
        names,
        mayRefuse,
        depthLimit,
        names.stream().map(n -> alone.at(n, claim.confidence())).toList(),
        holding,
        contradicted,
        !contradicted.isEmpty()
            ? Verdict.FAIL
            : open.isEmpty() ? Verdict.PASS : spoiled ? Verdict.RIG_FAULT : Verdict.UNDECIDED);
  }

  /** One condition with some confidence. */
  private record Alone(
      Claim claim,
      List<ConditionSummary> conditions,
      Map<String, List<TrialResult>> trials,
      Repeats repeats) {
    ClaimOutcome at(String name, double confidence) {
      List<ConditionSummary> own =
          conditions.stream().filter(c -> c.condition().name().equals(name)).toList();
      return ClaimOutcome.together(
          claim.in(name).with(confidence), own, trials.getOrDefault(name, List.of()), repeats);
    }
  }

  private static List<String> stepDown(
      List<String> names, Claim claim, Alone alone, Verdict verdict) {
    return stepDown(
        names, claim.confidence(), (name, strict) -> alone.at(name, strict).verdict() == verdict);
  }

  /**
   * Holm's step-down on bounds in place of p values: what is shown with the confidence that is left
   * for so many is set aside, and fewer are left to share the rest. It ends with the same set as in
   * the order of the p values.
   */
  static List<String> stepDown(
      List<String> names, double confidence, BiPredicate<String, Double> shown) {
    List<String> left = new ArrayList<>(names);
    int before;
    do {
      before = left.size();
      double strict = strict(confidence, before);
      left.removeIf(name -> shown.test(name, strict));
    } while (!left.isEmpty() && left.size() < before);
    return names.stream().filter(n -> !left.contains(n)).toList();
  }

  private static double strict(double confidence, int count) {
    return 1 - (1 - confidence) / Math.max(1, count);
  }

  /**
   * The outcome of one condition.
   *
   * @param name one of the names
   * @return its outcome alone
   */
  public ClaimOutcome alone(String name) {
    return Objects.requireNonNull(alone.get(names.indexOf(name)));
  }

  /**
   * The conditions that a claim on all of them together hides: those that contradict it, and those
   * whose mean stop error lies outside of the margin.
   *
   * @param outcome the claim on all of them together
   * @return their names, none where the claim itself is contradicted
   */
  public List<String> hidden(ClaimOutcome outcome) {
    return outcome.verdict() == Verdict.FAIL || outcome.claim().each() || alone.isEmpty()
        ? List.of()
        : names.stream().filter(n -> contradicted.contains(n) || isOutside(alone(n))).toList();
  }

  private static boolean isOutside(ClaimOutcome outcome) {
    return outcome.basis() instanceof Basis.Mean mean
        && mean.mean().isPresent()
        && Math.abs(mean.mean().getAsDouble()) > outcome.claim().withinMicrons();
  }
}
