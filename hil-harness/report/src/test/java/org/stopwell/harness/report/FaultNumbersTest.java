package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.fault.FaultOutcome;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/** The table of injected faults, cell by cell. */
class FaultNumbersTest {
  private static final String TABLE =
      "Injected faults (simulated): what the plan expects, and what happened.";

  @Test
  void everyConditionStandsWithWhatWasExpectedAndHowOftenItCame() {
    RunHeader h = SampleRun.header(3, 0);
    PlannedFault jam =
        new PlannedFault(
            new Injection(FaultKind.JAM, 1_000_000, Long.MAX_VALUE, 0),
            1,
            Verdict.FAIL,
            "STALLED",
            40_000_000);
    PlannedFault tried =
        new PlannedFault(new Injection(FaultKind.DRIFT, 0, Long.MAX_VALUE, 0.01), 1, null, "", 0);
    RunHeader header =
        new RunHeader(
            h.planName(),
            h.planYaml(),
            h.settingsYaml(),
            h.build(),
            h.bench(),
            h.campaignSeed(),
            h.conditions(),
            List.of(),
            h.startedAt(),
            h.command(),
            h.protocol(),
            h.registration(),
            new Design(
                Optional.of(StatisticsChoice.DEFAULT),
                List.of(),
                Map.of("half-wet", List.of(jam, tried)),
                Optional.empty(),
                true,
                ""));
    List<TrialResult> trials =
        List.of(
            SampleRun.stop(0, 10).with(Verdict.PASS, FaultOutcome.AS_EXPECTED, "First."),
            SampleRun.stop(1, 10).with(Verdict.FAIL, FaultOutcome.NOT_AS_EXPECTED, "Second."),
            SampleRun.stop(2, 10).with(Verdict.PASS, FaultOutcome.AS_EXPECTED, "Third."));
    ReadPage page = new ReadPage(ReportPage.html(header, trials, Map.of()));
    assertEquals(1, page.rows(TABLE).size());
    assertEquals("jam, drift", page.cell(TABLE, "half-wet", "Fault").main());
    assertEquals(
        "FAIL STALLED, rest within 40 ms; nothing",
        page.cell(TABLE, "half-wet", "Expected").main());
    assertEquals("2 of 3", page.cell(TABLE, "half-wet", "As expected").main());
    assertEquals("First.", page.cell(TABLE, "half-wet", "First trial").main());
  }
}
