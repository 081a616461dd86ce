package org.stopwell.harness.assess;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * What an assessment tries.
 *
 * @param seed seed of the population
 * @param trials trials per estimator and condition
 * @param sense values of the section {@code sense} that differ from their defaults
 * @param conditions the conditions to try; empty for all of them
 * @param estimators the estimators to try; empty for all of them
 */
public record AssessmentChoice(
    long seed,
    int trials,
    Map<String, String> sense,
    List<CanalCondition> conditions,
    List<Estimator> estimators) {
  /** Seed of the population unless another is given. */
  public static final long SEED = 910_001;

  /** One estimator in one condition. */
  record Pairing(Estimator estimator, CanalCondition condition) {}

  /** Copies the lists. */
  public AssessmentChoice {
    sense = Map.copyOf(sense);
    conditions = List.copyOf(conditions);
    estimators = List.copyOf(estimators);
  }

  /**
   * The number of trials in all.
   *
   * @return trials of all estimators and conditions
   */
  public int allTrials() {
    return Math.multiplyExact(pairings().size(), trials);
  }

  /** Every chosen estimator in every chosen condition that it can be tried in. */
  List<Pairing> pairings() {
    return Arrays.stream(CanalCondition.values())
        .filter(condition -> conditions.isEmpty() || conditions.contains(condition))
        .flatMap(this::pairings)
        .toList();
  }

  private Stream<Pairing> pairings(CanalCondition condition) {
    return Arrays.stream(Estimator.values())
        .filter(estimator -> estimators.isEmpty() || estimators.contains(estimator))
        .filter(estimator -> estimator.tries(condition))
        .map(estimator -> new Pairing(estimator, condition));
  }
}
