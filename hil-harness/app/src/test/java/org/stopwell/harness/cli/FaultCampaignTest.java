package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;

/** A campaign with faults on purpose, from the plan to the report. */
class FaultCampaignTest {
  @TempDir Path directory;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @Test
  void aCampaignWithFaultsIsLabelledJudgedByWhatIsStatedAndDoneAgainExactly() throws Exception {
    Path run = directory.resolve("run");
    Path plan = plan("cause: SATURATED");
    assertEquals(0, stopwell("run " + plan + " --out " + run), out.toString() + err);
    assertTrue(out.toString().contains("1 of 1 as the plan expects"), out.toString());
    try (RunFile file = RunFile.load(run)) {
      assertEquals("virtual with faults", file.header().bench().kind());
      TrialResult result = file.results().get(0);
      assertEquals("AS_EXPECTED", result.code());
      assertTrue(
          result.message().contains("Result without the expectation of the plan: RIG_FAULT"),
          result.message());
    }
    String page = Files.readString(run.resolve("report.html")).replace('\u00a0', ' ');
    assertTrue(page.contains("virtual with faults"), "the label");
    assertTrue(page.contains("RIG_FAULT SATURATED, rest within 40 ms"), "the table of results");
    assertEquals(0, stopwell("replay " + run), out.toString() + err);
    assertEquals(0, stopwell("verify " + run), out.toString() + err);
  }

  @Test
  void whatIsNotAsStatedFailsAndSaysWhatIsDifferent() throws Exception {
    Path run = directory.resolve("run");
    assertEquals(1, stopwell("run " + plan("cause: FROZEN") + " --out " + run), err.toString());
    try (RunFile file = RunFile.load(run)) {
      TrialResult result = file.results().get(0);
      assertEquals("NOT_AS_EXPECTED", result.code());
      assertTrue(result.message().contains("the plan expects cause FROZEN"), result.message());
    }
  }

  @Test
  void anInterruptedCampaignWithFaultsGoesOn() throws Exception {
    Path run = directory.resolve("run");
    Path plan = plan("cause: SATURATED");
    org.stopwell.harness.campaign.StopRequest.clear(directory);
    Files.createDirectories(run);
    org.stopwell.harness.campaign.StopRequest.make(run);
    assertEquals(5, stopwell("run " + plan + " --out " + run), out.toString() + err);
    assertEquals(0, stopwell("resume " + run), out.toString() + err);
  }

  private Path plan(String cause) throws Exception {
    String text =
        """
        plan: 1
        name: one-fault
        settings: %s
        stage: length
        seed: 3
        trials: 1
        time_limit_s: 14
        scene:
          canal: {length_mm: 10}
          fluid: {level_mm: 8}
          hand: {feed_mm_per_s: 1, passive_mm: 7}
        faults:
          - {kind: saturated, since: turn, at_ms: 1500, expect: rig_fault, %s, within_ms: 40}
        """
            .formatted(
                TestPlans.file("first-stop")
                    .resolveSibling("../settings/reference-canal.yaml")
                    .normalize(),
                cause);
    return Files.writeString(directory.resolve("one-fault.yaml"), text);
  }

  private int stopwell(String line) {
    return Main.run(line.split(" ", -1), new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
