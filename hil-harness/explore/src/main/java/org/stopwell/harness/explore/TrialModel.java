package org.stopwell.harness.explore;

import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.PlanPoint;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.Outcome;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.random.RandomStream;

/** Trials of a space on the virtual bench. */
public final class TrialModel implements Evaluation.Model {
  private final Space space;
  private final PlanPoint points;
  private final long periodNs;

  /**
   * The trials of a space.
   *
   * @param space the space
   * @param periodNs control period, ns
   */
  public TrialModel(Space space, long periodNs) {
    this.space = space;
    this.points = new PlanPoint(space);
    this.periodNs = periodNs;
  }

  long periodNs() {
    return periodNs;
  }

  /** Seed of the plan of one trial, which draws everything that is not a factor. */
  static long seed(long seed, long rest) {
    return RandomStream.trialSeed(RandomStream.trialSeed(seed, -1), rest) >>> 1;
  }

  @Override
  public Evaluation at(long[] values, long rest) {
    PlanPoint.Point point;
    try {
      point = points.at(values, seed(space.head().seed(), rest));
    } catch (SettingsException e) {
      return Evaluation.IMPOSSIBLE;
    }
    TrialSpec spec = point.spec();
    TrialResult result = run(point);
    Outcome outcome = space.head().outcome();
    return new Evaluation(
        true,
        outcome.of(spec, result),
        outcome.badness(spec, result),
        result.stopped(),
        Outcome.isOverTravel(spec, result),
        Outcome.isEarly(spec, result),
        result.refused(),
        result.stopErrorMicrons(),
        result.deepestMicrons(),
        Outcome.millis(result));
  }

  private TrialResult run(PlanPoint.Point point) {
    TrialResult result =
        Trials.simulate(
                periodNs,
                point.controller(),
                space.plan().policies(),
                point.spec(),
                null,
                () -> false)
            .orElseThrow();
    if (PolicyFailure.isIn(result)) {
      throw new BrokenPolicyException(result.message());
    }
    return result;
  }

  /** The trial as a plan that {@code run} runs. */
  String text(long[] values, long rest, java.util.Map<String, String> settings) {
    return points.text(values, seed(space.head().seed(), rest), settings);
  }
}
