package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.trial.Outcome;

/**
 * A checked space of an exploration: a plan, the values in it that change, how they are placed, and
 * what is asked.
 *
 * @param source the file
 * @param plan the plan whose trials are explored
 * @param condition the condition of the plan
 * @param head the plain values
 * @param factors the values that change, in the order of the file
 * @param correlations correlation of the normal scores of the factors; empty when all are
 *     independent
 * @param points the points of design {@code list}: a value of every factor in base units; else
 *     empty
 * @param target what settings are tuned for; empty for a space that is only explored
 */
public record Space(
    Source source,
    Plan plan,
    PlannedCondition condition,
    Head head,
    List<Factor> factors,
    List<List<Double>> correlations,
    List<List<Long>> points,
    Optional<TuneTarget> target) {

  /** How points are placed. */
  public enum Design {
    /** Sobol's sequence in the arrangement for sensitivity indices (Saltelli et al. 2010). */
    SOBOL,
    /** Trajectories that change one factor after the other (Morris 1991). */
    MORRIS,
    /** Every factor evenly filled whatever the number of trials. */
    LATIN_HYPERCUBE,
    /** Independent random points. */
    RANDOM,
    /** Every level of every factor with every level of every other. */
    GRID,
    /** The points of the file. */
    LIST;

    /**
     * Its word in files.
     *
     * @return such as {@code latin-hypercube}
     */
    public String key() {
      return name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
    }
  }

  /**
   * The plain values of a space.
   *
   * @param name what it is called
   * @param purpose why it is explored
   * @param outcome what is asked of every trial
   * @param design how points are placed
   * @param seed seed of the exploration
   * @param trials trials at most
   * @param repeats trials at each point of the settings, each in another canal
   * @param levels values of a factor in a grid
   */
  public record Head(
      String name,
      String purpose,
      Outcome outcome,
      Design design,
      long seed,
      long trials,
      int repeats,
      int levels) {}

  /** Copies the lists. */
  public Space {
    factors = List.copyOf(factors);
    correlations = correlations.stream().map(List::copyOf).toList();
    points = points.stream().map(List::copyOf).toList();
  }

  /**
   * A space without a target.
   *
   * @param source the file
   * @param plan the plan whose trials are explored
   * @param condition the condition of the plan
   * @param head the plain values
   * @param factors the values that change, in the order of the file
   * @param correlations correlation of the normal scores of the factors
   * @param points the points of design {@code list}
   */
  public Space(
      Source source,
      Plan plan,
      PlannedCondition condition,
      Head head,
      List<Factor> factors,
      List<List<Double>> correlations,
      List<List<Long>> points) {
    this(source, plan, condition, head, factors, correlations, points, Optional.empty());
  }

  /**
   * Reads and checks a space, its plan and its settings.
   *
   * @param source the file
   * @param policies the policies that the settings may name
   * @return the space
   * @throws PlanException with every mistake
   */
  public static Space read(Source source, Policies policies) throws PlanException {
    return new SpaceReader(source, policies, null).read();
  }

  /**
   * The space with everything that it names, as texts, so that it can be read on another machine.
   *
   * @param name file of the space
   * @param text its text
   * @param planName file of the plan
   * @param plan its text
   * @param settingsName settings file of the plan
   * @param settings all settings files in one text
   * @param weights texts of weights that the settings name, by name
   */
  public record Texts(
      String name,
      String text,
      String planName,
      String plan,
      String settingsName,
      String settings,
      Map<String, String> weights) {
    /** Takes a copy. */
    public Texts {
      weights = Map.copyOf(weights);
    }
  }

  /**
   * The texts of this space.
   *
   * @return what {@link #read(Texts, Policies)} reads
   */
  public Texts texts() {
    Map<String, String> weights = new LinkedHashMap<>();
    for (WeightsSource one : WeightsSource.of(plan)) {
      if (!one.text().isEmpty()) {
        weights.put(one.name(), one.text());
      }
    }
    return new Texts(
        source.name(),
        source.text(),
        plan.source().name(),
        plan.source().text(),
        plan.settings().source().name(),
        plan.settingsText(),
        weights);
  }

  /**
   * Reads a space from texts, without a file.
   *
   * @param texts the texts of a space
   * @param policies the policies that the settings may name
   * @return the space
   * @throws PlanException with every mistake
   */
  public static Space read(Texts texts, Policies policies) throws PlanException {
    Plan plan =
        Plan.read(
            new Source(texts.planName(), texts.plan()),
            new Source(texts.settingsName(), texts.settings(), texts.weights()),
            policies);
    return new SpaceReader(new Source(texts.name(), texts.text()), policies, plan).read();
  }

  /**
   * The same space with another seed and another number of trials.
   *
   * @param seed seed of the exploration
   * @param trials trials at most
   * @return the changed space
   */
  public Space with(long seed, long trials) {
    Head h = head;
    return new Space(
        source,
        plan,
        condition,
        new Head(h.name, h.purpose, h.outcome, h.design, seed, trials, h.repeats, h.levels),
        factors,
        correlations,
        points,
        target);
  }

  /**
   * The same space with another target.
   *
   * @param other the other target
   * @return the changed space
   */
  public Space with(TuneTarget other) {
    return new Space(
        source, plan, condition, head, factors, correlations, points, Optional.of(other));
  }
}
