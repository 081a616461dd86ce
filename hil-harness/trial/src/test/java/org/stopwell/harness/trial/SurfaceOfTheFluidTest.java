package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * While a pecking tip dips in and out of the fluid, the ratio of two magnitudes goes through every
 * value; only the magnitude itself shows that the tip is not in the canal's fluid yet.
 */
class SurfaceOfTheFluidTest {
  private static final long PERIOD_NS = 1_000_000;

  @Test
  void aTipThatDipsIntoTheSurfaceIsNeverTakenForOneAtTheStandoff() throws Exception {
    Source settings =
        Source.of(TestPlans.file("first-stop").resolveSibling("../settings/reference-canal.yaml"));
    // The motor may start as soon as the tip touches the fluid: the widest gate that can be set.
    String wide =
        settings
            .text()
            .replace("enter_kohm: 22", "enter_kohm: 100")
            .replace("unwetted_kohm: 28", "unwetted_kohm: 150");
    String pecking =
        """
        plan: 1
        name: surface
        settings: wide.yaml
        stage: length
        seed: 5
        trials: 12
        time_limit_s: 60
        scene:
          fluid: {level_mm: 8}
          hand: {motion: pecking, feed_mm_per_s: 0.6}
        vary:
          canal:
            foramen_diameter_mm: {from: 0.35, to: 0.6}
        """;
    Plan plan = Plan.read(new Source("surface.yaml", pecking), new Source("wide.yaml", wide));
    for (int index = 0; index < plan.trials(); index++) {
      TraceRecorder trace = new TraceRecorder();
      try (VirtualBench bench = new VirtualBench(PERIOD_NS)) {
        bench.open();
        new TrialRunner(bench, plan.settings().controller())
            .run(plan.trial(index), trace, () -> Pace.lockstep(PERIOD_NS), () -> false);
      }
      TraceReader steps = new TraceReader(trace.bytes());
      while (steps.next()) {
        boolean surelyNear =
            steps.out.readingPresent
                && steps.out.trust == Trust.SURE
                && steps.out.remainingMicrons < 2_000;
        int wrongBy =
            surelyNear ? Math.max(0, steps.truth.remainingMicrons - steps.out.remainingMicrons) : 0;
        assertEquals(
            0, wrongBy / 2_000, "trial " + index + " at " + steps.nowNs + " ns, µm: " + wrongBy);
      }
    }
  }
}
