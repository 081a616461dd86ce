package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

class BenchSectionTest {
  private static final int UNCERTAINTY_MICRONS = 100;

  @Test
  void aStopThatTheRigSpoiledNeitherConformsNorDoesNot() {
    RunHeader header = SampleCampaign.header(4);
    List<TrialResult> trials = SampleCampaign.trials(4);
    List<TrialResult> late =
        trials.stream().map(t -> t.with(Verdict.RIG_FAULT, "LATE", "A step came late.")).toList();
    long stops =
        trials.stream().filter(t -> t.stopped() && t.verdict() != Verdict.RIG_FAULT).count();

    assertTrue(stops > 0);
    assertEquals(
        stops, Arrays.stream(BenchSection.zones(header, trials, UNCERTAINTY_MICRONS)).sum());
    assertEquals(0, Arrays.stream(BenchSection.zones(header, late, UNCERTAINTY_MICRONS)).sum());
  }
}
