package org.stopwell.harness.assess;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.LongStream;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * Tries an estimator on a population that was not used for learning, in closed loop with motor and
 * hand. Even members are teeth by the network of the training, odd ones by turns by two others.
 */
public final class Assessment {
  /** Seed of the population unless told otherwise. */
  public static final long SEED = 910_001;

  private final Population population;
  private final long seed;
  private final int trials;
  private final Map<String, String> sense;

  /**
   * An assessment.
   *
   * @param seed seed of the population
   * @param sideCanals whether some of its canals have a side canal
   * @param trials trials per condition, half of them by networks other than that of the training
   * @param sense values of the section {@code sense} that differ from their defaults
   */
  public Assessment(long seed, boolean sideCanals, int trials, Map<String, String> sense) {
    this.seed = seed;
    this.trials = trials;
    this.sense = Map.copyOf(sense);
    Population plain = new Population(seed);
    population = sideCanals ? plain.withSideCanals() : plain;
  }

  /** What came of every trial of one estimator in one condition, by member; told after each. */
  List<Outcome> run(Estimator estimator, Condition condition, Runnable done) {
    return LongStream.range(0, trials)
        .parallel()
        .mapToObj(
            i -> {
              Outcome outcome = one(estimator, condition, i);
              done.run();
              return outcome;
            })
        .toList();
  }

  private Outcome one(Estimator estimator, Condition condition, long index) {
    try {
      Map<String, Map<String, String>> overrides = overrides(index);
      Scene scene = population.member(index, condition.fill, overrides);
      Visit visit = new Visit(estimator.settings(scene, sense));
      if (condition.learned) {
        // the other canal of this condition is of the same network, as many members on as there are
        // trials, twice
        long before = condition.another ? index + 2L * trials : index;
        visit.work(population.member(before, Fill.HALF_WET, overrides), Stage.LENGTH);
        RandomStream random = RandomStream.of(RandomStream.trialSeed(seed, index), "second visit");
        scene = SecondVisit.of(population, index, condition.fill, overrides, random);
      }
      return visit.work(scene, condition.learned ? Stage.SHAPE : Stage.LENGTH);
    } catch (SettingsException e) {
      throw new IllegalStateException("member " + index + ": " + e.getMessage(), e);
    }
  }

  private static Map<String, Map<String, String>> overrides(long index) {
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    // a file that starts in the fluid of the chamber would have to be withdrawn first
    all.put("hand", Map.of("start_above_mm", "6"));
    all.put("canal", Map.of("kind", Network.of(index).kind));
    return all;
  }
}
