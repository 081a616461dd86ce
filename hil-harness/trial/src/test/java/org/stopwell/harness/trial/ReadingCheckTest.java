package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** A reading that no sound bench gives ends the trial as a fault of the rig, named by itself. */
class ReadingCheckTest {
  private static final long MS = 1_000_000;

  @Test
  void aSequenceThatGoesBackIsRefused() throws Exception {
    TrialResult result = with(in -> in.sampleSequence -= 20);
    assertEquals("RIG_FAULT READING_ORDER", result.verdict() + " " + result.code());
    assertTrue(result.message().contains("comes after sample"), result.message());
  }

  @Test
  void aTimeThatRunsBackwardIsRefused() throws Exception {
    TrialResult result = with(in -> in.sampleTimeNs -= 200 * MS);
    assertEquals("RIG_FAULT READING_ORDER", result.verdict() + " " + result.code());
    assertTrue(result.message().contains("at most 5 ms"), result.message());
  }

  @Test
  void aNegativeResistanceIsRefused() throws Exception {
    TrialResult result = with(in -> in.zRealMilliOhms[0] = -in.zRealMilliOhms[0]);
    assertEquals("RIG_FAULT NEGATIVE_RESISTANCE", result.verdict() + " " + result.code());
  }

  @Test
  void aSoundBenchIsRefusedNothing() throws Exception {
    TrialResult result = with(in -> {});
    assertEquals("PASS AT_STANDOFF", result.verdict() + " " + result.code(), result.message());
  }

  /** A sound trial of the plan of faults, whose readings are changed after 5 s. */
  private static TrialResult with(Consumer<ControllerInput> change) throws Exception {
    Plan plan = Plan.read(Source.of(TestPlans.file("faults")));
    int sound = 0;
    while (!plan.trial(sound).faults().isEmpty()) {
      sound++;
    }
    TrialSpec spec = plan.trial(sound);
    try (ForwardingBench bench = new Changed(change)) {
      bench.open();
      return new TrialRunner(bench, plan.controller(spec))
          .run(spec, null, () -> Pace.lockstep(MS), () -> false)
          .orElseThrow();
    }
  }

  private static final class Changed extends ForwardingBench {
    private final Consumer<ControllerInput> change;

    Changed(Consumer<ControllerInput> change) {
      super(new VirtualBench(MS));
      this.change = change;
    }

    @Override
    public void exchange(long nowNs, ControllerOutput out, ControllerInput in)
        throws BenchException {
      super.exchange(nowNs, out, in);
      if (nowNs > 5_000 * MS) {
        change.accept(in);
      }
    }
  }
}
