package org.stopwell.harness.fault;

import java.util.List;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.fault.FaultPlan;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.time.Pace;

/** Puts one fault into the sound trial of the shipped plan of faults. */
final class Strikes {
  private static final long MS = 1_000_000;

  private final Plan plan;
  private final TrialSpec sound;

  /**
   * A trial that was struck, with what came of it.
   *
   * @param outcome what came of it
   * @param onsetNs when the fault struck
   * @param firstTurnNs when the motor was first commanded to turn
   */
  record Struck(FaultOutcome outcome, long onsetNs, long firstTurnNs) {}

  Strikes(Plan plan) {
    this.plan = plan;
    this.sound = spec("none");
  }

  /** The trial of a condition. */
  TrialSpec spec(String condition) {
    for (int i = 0; i < plan.trials(); i++) {
      if (plan.trial(i).condition().equals(condition)) {
        return plan.trial(i);
      }
    }
    throw new IllegalArgumentException(condition);
  }

  /** The sound trial on a bench, with one fault. */
  Struck on(Bench bench, PlannedFault fault) throws Exception {
    FaultyBench faulty =
        new FaultyBench(
            bench, new FaultPlan(Math.max(0, fault.seed()), List.of(fault.injection())));
    try (faulty) {
      faulty.open();
      TraceRecorder trace = new TraceRecorder();
      TrialResult result =
          new TrialRunner(faulty, plan.settings().controller())
              .run(sound, trace, () -> faulty.pace(Pace.lockstep(MS)), () -> false)
              .orElseThrow();
      long onset = faulty.onsetNs(fault.injection());
      return new Struck(
          FaultOutcome.of(fault, sound, result, trace.bytes(), onset),
          onset,
          firstTurn(trace.bytes()));
    }
  }

  private static long firstTurn(byte[] trace) {
    TraceReader reader = new TraceReader(trace);
    while (reader.next()) {
      if (reader.out.drive.turns()) {
        return reader.nowNs;
      }
    }
    return Long.MAX_VALUE;
  }
}
