package org.stopwell.harness.tune;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Parameter;
import org.stopwell.harness.explore.Evaluation;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.trial.Outcome;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.random.RandomStream;

/**
 * A controller in closed form. It stops at {@code caution + spread(gain) · z} mm short of the
 * foramen, z standard normal in each canal, and spread is least at a gain of 0.6. Below 0 is
 * over-travel, above 0.5 mm is an early stop.
 */
final class ToyCanals {
  static final double LEAST_SPREAD = 0.2;
  static final double BEST_GAIN = 0.6;
  private static final double EARLY_MM = 0.5;
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  private ToyCanals() {}

  static double spread(double gain) {
    return LEAST_SPREAD + (gain - BEST_GAIN) * (gain - BEST_GAIN);
  }

  static double overTravel(double caution, double gain) {
    return NORMAL.cumulativeProbability(-caution / spread(gain));
  }

  static double early(double caution, double gain) {
    return NORMAL.survivalProbability((EARLY_MM - caution) / spread(gain));
  }

  /** The caution at which over-travel is that share; it is then the least that keeps the limit. */
  static double caution(double share) {
    return -LEAST_SPREAD * NORMAL.inverseCumulativeProbability(share);
  }

  /** Values are caution and gain in 1e-6. */
  static Evaluation trial(long[] values, long canal) {
    double z =
        NORMAL.inverseCumulativeProbability(
            RandomStream.of(RandomStream.trialSeed(3, canal), "toy").nextDouble());
    double remaining = values[0] / 1e6 + spread(values[1] / 1e6) * z;
    long microns = Math.round(1000 * remaining);
    return new Evaluation(
        true,
        OptionalLong.of(microns),
        0,
        true,
        remaining < 0,
        remaining > EARLY_MM,
        false,
        microns,
        microns,
        10_000 + values[0] / 1_000);
  }

  static Factor factor(String key) {
    Parameter p =
        Parameter.of(key)
            .decimals(6)
            .range("0", "10")
            .initially("0")
            .text("An argument.")
            .source("the toy");
    return new Factor("settings.toy." + key, p, Factor.Shape.EVEN, 0, 1_000_000, List.of(), 0);
  }

  static Space space(int canals, int points, TuneTarget target) throws Exception {
    Plan plan =
        Plan.read(
            Source.of(TestPlans.root().resolve("docs/plans/reference-canal.yaml")),
            Policies.BUILT_IN);
    return new Space(
        new Source("toy.yaml", "toy"),
        plan,
        plan.plannedConditions().get(0),
        new Space.Head(
            "toy",
            "",
            Outcome.EARLY_STOP,
            Space.Design.RANDOM,
            5,
            (long) canals * points,
            canals,
            5),
        List.of(factor("caution"), factor("gain")),
        List.of(),
        List.of(),
        Optional.of(target));
  }

  /** At first the file stops 0.3 mm short, with a spread of 0.36 mm. */
  static Tuning tuning(int canals, int points, TuneTarget target) throws Exception {
    return new Tuning(
        space(canals, points, target),
        ToyCanals::trial,
        "this build",
        new long[] {300_000, 200_000});
  }

  static TuneTarget target(double overTravel, int fresh) {
    return new TuneTarget(
        List.of(new TuneTarget.Limit(TuneTarget.Measure.OVER_TRAVEL, overTravel, 7)),
        TuneTarget.Measure.EARLY_STOP,
        fresh);
  }
}
