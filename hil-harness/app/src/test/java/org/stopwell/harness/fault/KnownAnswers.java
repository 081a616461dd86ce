package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.stopwell.harness.fault.Demonstration.Came;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.protocol.Exclusion;
import org.stopwell.harness.stats.Sentinels;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.FaultPlan;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * Worn switches and drift look like another canal in one trial. Known-answer trials find them: ten
 * on a sound bench say what is usual, and the multirule judges those that follow.
 */
final class KnownAnswers {
  private static final long MS = 1_000_000;
  private static final long SEED = 4242;
  private static final int TRIALS = 10;

  private KnownAnswers() {}

  /** The first known-answer trial that the multirule does not believe, of ten at most. */
  static Came with(FaultKind fault, double strength) throws Exception {
    Plan network = TestPlans.quick(2 * TRIALS);
    List<TrialSpec> specs = new ArrayList<>();
    for (int i = 0; i < network.trials(); i++) {
      if (network.trial(i).condition().equals("sound")) {
        specs.add(network.trial(i));
      }
    }
    double[] known = new double[TRIALS];
    for (int i = 0; i < TRIALS; i++) {
      known[i] = stopError(network, specs.get(i), new VirtualBench(MS));
    }
    double mean = Arrays.stream(known).average().orElseThrow();
    double sd =
        Math.sqrt(Arrays.stream(known).map(k -> (k - mean) * (k - mean)).sum() / (TRIALS - 1));
    List<Sentinels.Measured> measured = new ArrayList<>();
    for (int i = 0; i < TRIALS; i++) {
      FaultPlan worn =
          new FaultPlan(SEED, List.of(new Injection(fault, 0, Long.MAX_VALUE, strength)));
      measured.add(
          new Sentinels.Measured(
              i,
              stopError(
                  network, specs.get(TRIALS + i), new FaultyBench(new VirtualBench(MS), worn))));
    }
    Sentinels rig = new Sentinels(mean, Math.max(sd, 1));
    for (Sentinels.Point point : rig.judge(measured)) {
      if (point.broken().isPresent()) {
        return new Came(
            Verdict.RIG_FAULT.name(),
            Exclusion.BAD_SENTINEL.name(),
            Demonstration.AS_PLANNED,
            "known-answer trial " + (point.trial() + 1) + ": " + rig.text(point.broken().get()));
      }
    }
    throw new AssertionError("none of ten known-answer trials is out: " + measured);
  }

  private static double stopError(Plan plan, TrialSpec spec, Bench bench) throws Exception {
    try (bench) {
      bench.open();
      TrialResult result =
          new TrialRunner(bench, plan.settings().controller())
              .run(spec, null, () -> Pace.lockstep(MS), () -> false)
              .orElseThrow();
      assertTrue(result.stopped(), result.message());
      return result.stopErrorMicrons();
    }
  }
}
