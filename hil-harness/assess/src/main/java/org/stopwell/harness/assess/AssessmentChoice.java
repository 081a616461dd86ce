package org.stopwell.harness.assess;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * What an assessment tries.
 *
 * @param seed seed of the population
 * @param lateralCanals whether some canals have a lateral canal
 * @param trials trials per estimator and condition
 * @param sense values of the section {@code sense} that differ from their defaults
 * @param conditions words of {@link #allConditions}; empty for all of them
 * @param estimators words of {@link #allEstimators}; empty for all of them
 */
public record AssessmentChoice(
    long seed,
    boolean lateralCanals,
    int trials,
    Map<String, String> sense,
    List<String> conditions,
    List<String> estimators) {
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
   * The words for the conditions.
   *
   * @return one word for each
   */
  public static List<String> allConditions() {
    return Arrays.stream(CanalCondition.values()).map(CanalCondition::key).toList();
  }

  /**
   * The words for the estimators.
   *
   * @return one word for each
   */
  public static List<String> allEstimators() {
    return Arrays.stream(Estimator.values()).map(Estimator::words).toList();
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
        .filter(condition -> conditions.isEmpty() || conditions.contains(condition.key()))
        .flatMap(this::pairings)
        .toList();
  }

  private Stream<Pairing> pairings(CanalCondition condition) {
    return Arrays.stream(Estimator.values())
        .filter(estimator -> estimators.isEmpty() || estimators.contains(estimator.words()))
        .filter(estimator -> estimator.tries(condition))
        .map(estimator -> new Pairing(estimator, condition));
  }
}
