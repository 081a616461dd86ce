package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** An outside locator on the virtual bench, judged by where the file really is. */
class LocatorTrialsTest {
  private static final long MS = 1_000_000;
  private static final int[] STEPS_MICRONS = {10, 50, 100, 200, 500};
  private static final int[] RATES_HZ = {2, 5, 10, 20, 50};
  private static final int STANDOFF_MICRONS = 500;
  private static final double FEED_MM_S = 0.6;

  @Test
  void theShippedPlanStopsShortOfTheForamen() throws Exception {
    Plan plan = Plan.read(Source.of(TestPlans.file("locator")));
    for (int i = 0; i < plan.trials(); i += plan.head().trials()) {
      TrialResult result = run(plan, i);
      assertEquals(Verdict.PASS, result.verdict(), result.message());
      assertTrue(result.deepestMicrons() > 0, result.message());
    }
  }

  /** The least standoff is one step and one update of feed: below it the settings are refused. */
  @Test
  void overTravelStaysBelowOneStepAndOneUpdateOfFeedOrTheSettingsAreRefused() throws Exception {
    List<String> refused = new ArrayList<>();
    for (int step : STEPS_MICRONS) {
      for (int rate : RATES_HZ) {
        double bound = step + FEED_MM_S * 1000 / rate;
        if (bound > STANDOFF_MICRONS) {
          PlanException e = assertThrows(PlanException.class, () -> plan(step, rate));
          assertTrue(String.valueOf(e.getMessage()).contains("stages.length.standoff_mm"), "" + e);
          refused.add(step + " um at " + rate + " Hz");
          continue;
        }
        TrialResult result = run(plan(step, rate), 0);
        String what = step + " um at " + rate + " Hz: " + result.message();
        System.out.println(what + "; deepest " + result.deepestMicrons() + " um");
        assertTrue(result.stopped(), what);
        assertEquals("STANDOFF_REACHED", result.reason().name(), what);
        assertTrue(STANDOFF_MICRONS - result.deepestMicrons() <= bound, what);
        assertTrue(result.deepestMicrons() > 0, what);
        // and not too early: half a step, the noise, one update, and a step of the motor's answer
        assertTrue(result.remainingMicrons() - STANDOFF_MICRONS <= bound + step + 150, what);
      }
    }
    assertEquals(
        List.of(
            "500 um at 2 Hz",
            "500 um at 5 Hz",
            "500 um at 10 Hz",
            "500 um at 20 Hz",
            "500 um at 50 Hz"),
        refused);
  }

  private static TrialResult run(Plan plan, int trial) throws Exception {
    try (Bench bench = new VirtualBench(MS)) {
      bench.open();
      return new TrialRunner(bench, plan.settings().controller())
          .run(plan.trial(trial), null, () -> Pace.lockstep(MS), () -> false)
          .orElseThrow();
    }
  }

  private static Plan plan(int stepMicrons, int hertz) throws PlanException {
    String settings =
        """
        settings: 1
        name: locator
        file: {size: 25}
        sense:
          policy: locator
          locator_step_mm: %s
          locator_rate_hz: %d
          locator_feed_mm_s: %s
        guard: {signal_age_ms: %d}
        stages:
          length: {standoff_mm: 0.5, learn_coast: false}
        """
            .formatted(stepMicrons / 1000.0, hertz, FEED_MM_S, Math.max(60, 1500 / hertz));
    String plan =
        String.format(
            Locale.ROOT,
            """
            plan: 1
            name: grid
            settings: settings.yaml
            stage: length
            seed: %d
            trials: 1
            time_limit_s: 40
            scene:
              canal: {length_mm: 10}
              fluid: {level_mm: 8}
              # without tremor: the limits below are those of the display alone
              hand: {feed_mm_per_s: %s, passive_mm: 5, tremor_um: 0}
            """,
            stepMicrons + hertz,
            FEED_MM_S);
    return Plan.read(new Source("grid.yaml", plan), new Source("settings.yaml", settings));
  }
}
