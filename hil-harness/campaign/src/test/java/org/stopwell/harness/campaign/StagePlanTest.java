package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.firmware.TwoBoards;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** The shipped plans whose file is fed by a stage: on the model, and on both boards as binaries. */
class StagePlanTest {
  private static final long MS = 1_000_000;

  private static Plan plan(String name) throws Exception {
    return Plan.read(Source.of(TestPlans.file(name)));
  }

  @ParameterizedTest
  @ValueSource(strings = {"stage-feed", "network-feed"})
  void onTheModelEveryFeedStopsAtTheStandoff(String name) throws Exception {
    Plan plan = plan(name);
    try (Bench bench = new VirtualBench(MS)) {
      bench.open();
      for (int i = 0; i < 6; i++) {
        TrialResult result = trial(plan, bench, i, MS);
        assertEquals(Verdict.PASS, result.verdict(), result.condition() + ": " + result.message());
      }
    }
  }

  /**
   * By a resistance that falls, and by the ratio at two frequencies of a network that is switched;
   * as fast as on the model, however busy the machine is.
   */
  @ParameterizedTest
  @ValueSource(strings = {"stage-feed", "network-feed"})
  void onBothBoardsTheStageReallyFeedsAndStopsAtTheStandoff(String name) throws Exception {
    Plan plan = plan(name);
    int quick = 0;
    while (!plan.trial(quick).condition().equals("quick")) {
      quick++;
    }
    TrialResult result = onBoards(plan, quick);
    // A host that got no processor for 0.1 s lost the link: the rig's fault, which says nothing.
    for (int again = 0; again < 4 && result.verdict() == Verdict.RIG_FAULT; again++) {
      result = onBoards(plan, quick);
    }
    assertEquals(Verdict.PASS, result.verdict(), result.message());
    assertTrue(result.remainingMicrons() > 300, "short of the foramen: " + result);
    long laterNs = result.stopTimeNs() - onTheModel(plan, quick).stopTimeNs();
    assertTrue(Math.abs(laterNs) < 300 * MS, "the feed of the plan: " + laterNs + " ns later");
  }

  private static TrialResult onBoards(Plan plan, int index) throws Exception {
    try (TwoBoards boards = TwoBoards.patient(10);
        Bench bench = boards.paced()) {
      bench.open();
      TrialResult result = trial(plan, bench, index, bench.describe().periodNs());
      if (result.verdict() != Verdict.RIG_FAULT) {
        int stood = boards.drive.carriageMicrons();
        boards.drive.pass(200);
        assertEquals(stood, boards.drive.carriageMicrons(), "the stage stands with the motor");
      }
      return result;
    }
  }

  private static TrialResult onTheModel(Plan plan, int index) throws Exception {
    try (Bench bench = new VirtualBench(MS)) {
      bench.open();
      return trial(plan, bench, index, MS);
    }
  }

  private static TrialResult trial(Plan plan, Bench bench, int index, long periodNs) {
    return Trials.run(
            bench,
            plan.settings().controller(),
            plan.policies(),
            plan.trial(index),
            null,
            () -> Pace.lockstep(periodNs),
            () -> false)
        .orElseThrow();
  }
}
