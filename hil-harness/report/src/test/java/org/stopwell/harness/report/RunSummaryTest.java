package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.TrialResult;

/** What a campaign says in the end, in words that hold when there is nothing to measure. */
class RunSummaryTest {
  @Test
  void aConditionThatTheRigSpoiledHasNoMeanAndSaysWhy() {
    String said = said(SampleRun.rigFault(0, "LINK"), SampleRun.rigFault(1, "LINK"));
    assertTrue(said.contains("the rig spoiled every trial, so no stop was measured"), said);
    assertFalse(said.contains("mean"), said);
    assertTrue(said.contains("2 invalid: LINK"), said);
  }

  @Test
  void oneStopAmongRigFaultsHasAMeanAndNoSpread() {
    String said = said(SampleRun.rigFault(0, "LINK"), SampleRun.stop(1, 12));
    assertTrue(said.contains("mean +0.012 mm, SD not estimable"), said);
    assertFalse(said.contains("no stop was measured"), said);
  }

  private static String said(TrialResult... trials) {
    StringBuilder said = new StringBuilder();
    new RunSummary(Evidence.of(SampleRun.header(trials.length, 1), List.of(trials)), Path.of("run"))
        .print(line -> said.append(line).append("\n"));
    return said.toString();
  }
}
