package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.LongStream;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.assess.AssessmentChoice.Pairing;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * Tries estimators on a population that was not used for training, in closed loop with motor and
 * hand. The members take the families of the bench in turn.
 */
public final class Assessment {
  private final AssessmentChoice choice;
  private final Population population;
  private final ParameterValues limits;

  /**
   * An assessment that has not run.
   *
   * @param choice what to try
   * @throws SettingsException when a value of the section {@code sense} is wrong
   */
  public Assessment(AssessmentChoice choice) throws SettingsException {
    this.choice = choice;
    population = new Population(choice.seed());
    Scene first = population.member(0, Fill.HALF_WET, Training.FREQUENCIES);
    limits = Estimator.APPROACH.settings(first, choice.sense()).section("sense");
  }

  /**
   * Runs all trials.
   *
   * @param progress receives a line when a condition begins
   * @param done called after every trial, by the thread that ran it
   * @return the result
   */
  public AssessmentResult run(Consumer<String> progress, Runnable done) {
    List<Scorecard> cards = new ArrayList<>();
    List<VisitOutcome> leaks = new ArrayList<>();
    for (Pairing pairing : choice.pairings()) {
      progress.accept(pairing.estimator() + ", " + pairing.condition().words);
      List<VisitOutcome> outcomes = run(pairing.estimator(), pairing.condition(), done);
      for (Family family : Family.ON_THE_BENCH) {
        cards.add(Scorecard.of(pairing, family, family.of(outcomes)));
      }
      if (pairing.estimator() == Estimator.APPROACH && !pairing.condition().learned()) {
        leaks.addAll(Family.TOOTH.of(outcomes));
      }
    }
    return new AssessmentResult(choice, limits, cards, leaks);
  }

  /** The outcomes of all members. */
  List<VisitOutcome> run(Estimator estimator, CanalCondition condition, Runnable done) {
    return LongStream.range(0, choice.trials())
        .parallel()
        .mapToObj(
            i -> {
              VisitOutcome outcome = one(estimator, condition, i);
              done.run();
              return outcome;
            })
        .toList();
  }

  private VisitOutcome one(Estimator estimator, CanalCondition condition, long index) {
    try {
      Map<String, Map<String, String>> overrides = overrides(index);
      Scene scene = population.member(index, condition.fill, overrides);
      Visit visit = new Visit(estimator.settings(scene, choice.sense()));
      if (condition.learned()) {
        // the other canal is four times as many members further on as there are trials: same family
        long before =
            condition == CanalCondition.OTHER_LEARNED ? index + 4L * choice.trials() : index;
        visit.work(population.member(before, Fill.HALF_WET, overrides), Stage.LENGTH);
        RandomStream random =
            RandomStream.of(RandomStream.trialSeed(choice.seed(), index), "second visit");
        scene = SecondVisit.of(population, index, condition.fill, overrides, random);
      }
      return visit.work(scene, condition.learned() ? Stage.SHAPE : Stage.LENGTH);
    } catch (SettingsException e) {
      throw new IllegalStateException("member " + index + ": " + e.getMessage(), e);
    }
  }

  private static Map<String, Map<String, String>> overrides(long index) {
    Map<String, Map<String, String>> all = new HashMap<>(Family.of(index).scene());
    // a file that starts in the fluid of the chamber would have to be withdrawn first
    all.put("hand", Map.of("start_above_mm", "6"));
    return all;
  }
}
