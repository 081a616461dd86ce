package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.claim.VerdictReason;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.report.ClaimWords;
import org.stopwell.harness.report.ReportPage;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * Run files of versions 1 to 3 of the format, written by the programs of their time: they read as
 * they are, byte for byte under their old seal, and nothing is added to them.
 */
class OlderRunFileTest {
  @TempDir Path dir;

  @Test
  void aFinishedOneIsReadAsItIs() throws Exception {
    Path file = resource("version-1.db");
    byte[] before = Files.readAllBytes(file);
    Files.writeString(
        dir.resolve("run.db.sha256"),
        "95905144afd7e7af30e2a2620f7bf42754f0e1d1941a3e9acbf9dc99260b3926  run.db\n");
    try (RunFile run = RunFile.load(dir)) {
      assertEquals(
          List.of(
              SampleRun.stop(0, 12),
              SampleRun.rigFault(1, "LINK"),
              SampleRun.stop(2, -40),
              SampleRun.refusal(3)),
          run.results());
      assertEquals(Fields.of(SampleRun.header(3, 1)), Fields.of(run.header()));
      assertEquals(SampleRun.header(3, 1).conditions(), run.header().conditions());
      assertEquals(SampleRun.header(3, 1).claims(), run.header().claims());
      assertEquals(
          Optional.of(StatisticsChoice.DEFAULT), run.header().design().analysis(), "none is asked");
      assertEquals(Protocol.NONE, run.header().protocol());
      assertEquals(Registration.NONE, run.header().registration());
      // What the build that wrote it printed.
      assertEquals(
          "9771b063b9d041dc6226fa395815a672b1c13a34f18b423244d9f1b29e6c3eff", run.headHash());
      assertEquals(3, run.trace(0).orElseThrow().length);
      assertTrue(
          ReportPage.html(run.header(), run.results(), Map.of()).contains("half-wet accuracy"));
    }
    Verification verification = Verification.of(dir);
    assertTrue(verification.isWhole(), verification.faults().toString());
    assertArrayEquals(before, Files.readAllBytes(file));
  }

  @Test
  void thePlanOfVersionTwoIsReadAsItWas() throws Exception {
    Path file = resource("version-2.db");
    Files.writeString(
        dir.resolve("run.db.sha256"),
        "aac3c6b27815cdab5a5578512732e185f0dc975680eb36b688eafae4da1c96c2  run.db\n");
    try (RunFile run = RunFile.load(dir)) {
      Design design = run.header().design();
      assertEquals("", design.unread());
      assertEquals(List.of("canal"), design.analysis().orElseThrow().groups());
      assertEquals(
          List.of("as in the settings", "stages.length.standoff_mm 0.5 mm → 1 mm"),
          design.told().stream().map(Design.Told::changeWords).toList());
      assertEquals(Set.of("c2/as-written", "c2/further-out"), design.faults().keySet());
      assertTrue(run.header().settingsYaml().contains("taper_percent"), "a key of before");
      assertEquals(
          run.header().conditions().size(),
          run.header().plan(Policies.BUILT_IN).plannedConditions().size(),
          "what replay reads");
      // What the program that wrote it printed.
      assertEquals(
          "5fd4346d7fa92eddf78ab5319805d7f7f911e22985c2257dad4adb784a5d1f36", run.headHash());
      Evidence evidence = Evidence.of(run, dir);
      assertEquals(Verdict.UNDECIDED, evidence.summary().verdict());
      assertTrue(
          ClaimWords.meaning(evidence.summary().claims().get(0))
              .startsWith("4 of 8 trials in 2 levels of canal; with "),
          "trials of one canal are no independent trials");
    }
    byte[] before = Files.readAllBytes(file);
    Verification verification = Verification.of(dir);
    assertTrue(verification.isWhole(), verification.faults().toString());
    assertArrayEquals(before, Files.readAllBytes(file));
  }

  @Test
  void versionThreeIsReadAndVerifySaysWhatItsChainDoesNotCover() throws Exception {
    resource("version-3.db");
    Files.writeString(
        dir.resolve("run.db.sha256"),
        "1b0b48d87f552130732a381323373aa0ab4f3bb205fb9ac586eeb71b32e1ac80  run.db\n");
    Verification verification = Verification.of(dir);
    assertEquals(List.of(), verification.faults());
    // What the program that wrote it printed.
    assertEquals(
        "f1fd39563be3b2e99e499cadddda2bd5685377cd07a6fbfe4b238822ea3d5042",
        verification.fingerprint());
    assertEquals(1, verification.uncovered().size());
    assertTrue(verification.uncovered().get(0).contains("not cover the version number"));
    try (RunFile run = RunFile.load(dir)) {
      assertEquals(SampleRun.header(3, 1), run.header());
      assertTrue(
          ReportPage.html(run.header(), run.results(), Map.of()).contains("half-wet accuracy"));
    }
  }

  @Test
  void versionFourIsReadWithoutStatedBounds() throws Exception {
    resource("version-4.db");
    Files.writeString(
        dir.resolve("run.db.sha256"),
        "056470a2f8f9cf2c13f24e1ee3e7ea63df055d7933bc5586e5375b1414a8b6c2  run.db\n");
    Verification verification = Verification.of(dir);
    assertEquals(List.of(), verification.faults());
    // What the program that wrote it printed.
    assertEquals(
        "d43b684dacec7c41d05de027669f33341209ab8bc7dcd9024e824aaa3480a29e",
        verification.fingerprint());
    assertEquals(List.of(), verification.uncovered());
    try (RunFile run = RunFile.load(dir)) {
      assertEquals(SampleRun.header(3, 1), run.header());
      assertEquals(
          List.of(0, 0, 0, 0), run.results().stream().map(TrialResult::boundMicrons).toList());
      assertTrue(
          ReportPage.html(run.header(), run.results(), Map.of()).contains("half-wet accuracy"));
    }
  }

  @Test
  void versionSixIsReadAsMeasuredHere() throws Exception {
    resource("version-6.db");
    Files.writeString(
        dir.resolve("run.db.sha256"),
        "4f276acf8c5826543c7a2008fe43ef6ef9d9293fa7f92dee1e364046c36f5899  run.db\n");
    Verification verification = Verification.of(dir);
    assertEquals(List.of(), verification.faults());
    // What the program that wrote it printed.
    assertEquals(
        "c99c3e279c4493a92ed22704bec92957cd48f2b682bf05efb6dde3767d72f4e6",
        verification.fingerprint());
    try (RunFile run = RunFile.load(dir)) {
      assertEquals(SampleRun.header(3, 1), run.header());
      assertEquals(Origin.HERE, run.header().origin());
      assertEquals(
          List.of(
              SampleRun.stop(0, 12),
              SampleRun.rigFault(1, "LINK"),
              SampleRun.stop(2, -40),
              SampleRun.refusal(3)),
          run.results());
    }
  }

  @Test
  void aChoiceThatCannotBeReadDecidesNothingAndIsNamed() {
    String plan = "factors: {canal: {c1: , c2: }}\nanalysis: {groups: [canal], astrology: true}\n";
    RunHeader h = SampleRun.header(3, 1);
    RunHeader header =
        new RunHeader(
            h.planName(),
            plan,
            h.settingsYaml(),
            h.build(),
            h.bench(),
            h.campaignSeed(),
            h.conditions(),
            h.claims(),
            h.startedAt(),
            h.command(),
            h.protocol(),
            h.registration(),
            Design.recorded(plan, h.settingsYaml()));
    List<TrialResult> trials =
        List.of(
            SampleRun.stop(0, 12),
            SampleRun.stop(1, 9),
            SampleRun.stop(2, 3),
            SampleRun.refusal(3));
    Evidence evidence = Evidence.of(header, trials);
    assertEquals(Verdict.UNDECIDED, evidence.summary().verdict());
    assertEquals(List.of(), evidence.summary().claims());
    String why = "the recorded plan:2: analysis.astrology: unknown key";
    assertEquals(VerdictReason.Kind.STATISTICS_UNREAD, evidence.summary().reason().kind());
    String page = ReportPage.html(header, trials, Map.of());
    assertTrue(page.contains(why), "the report says why");
    assertFalse(page.contains("statistics-section"), "no statistics without a choice in the plan");
  }

  @Test
  void anUnfinishedOneIsNotGoneOnWith() throws Exception {
    resource("version-1-unfinished.db");
    RunFileException e = assertThrows(RunFileException.class, () -> RunFile.open(dir));
    assertEquals(RunFileException.Kind.OLDER, e.kind());
    assertTrue(e.getMessage().contains("version 1"), e.getMessage());
    try (RunFile run = RunFile.load(dir)) {
      assertEquals(1, run.results().size());
      assertFalse(run.finishedAt().isPresent());
    }
  }

  private Path resource(String name) throws Exception {
    Path file = dir.resolve(RunFile.NAME);
    try (InputStream in = OlderRunFileTest.class.getResourceAsStream("/record/" + name)) {
      Files.copy(java.util.Objects.requireNonNull(in), file);
    }
    return file;
  }
}
