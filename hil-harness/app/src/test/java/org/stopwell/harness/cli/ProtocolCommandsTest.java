package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;

/** A laboratory's way from a frozen plan to an unblinded report. */
class ProtocolCommandsTest {
  private record Said(int code, String out, String err) {}

  private static final String PROTOCOL =
      """
      blind: network
      sentinels:
        every: 3
        expected_mm: 0.5
        sd_mm: 0.2
        scene:
          canal: {body_ohm: 6500}
      exclude: {after_rig_fault: 1}
      endpoints:
        primary: stop_error
        secondary: [over_travel]
      """;

  @TempDir Path dir;
  private Path plan = Path.of("");

  @BeforeEach
  void writePlan() throws Exception {
    plan = dir.resolve("plan.yaml");
    Files.writeString(plan, TestPlans.quick(2).source().text() + PROTOCOL);
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(2).settings().source().text());
  }

  @Test
  void aFrozenPlanSaysSoAndAChangedOneSaysWhatChanged() throws Exception {
    Said first = stopwell("run", plan, "--freeze", "--out", dir.resolve("a"));
    assertEquals(0, first.code(), first.err() + first.out());
    assertTrue(first.out().contains(", no deviation."), first.out());
    String hash = first.out().replaceAll("(?s).*Frozen as ([0-9a-f]{64}).*", "$1");
    String report = Files.readString(dir.resolve("a/report.html"));
    assertTrue(report.contains(hash));
    assertTrue(report.contains("Nothing deviates from what was frozen."));

    Files.writeString(plan, "# only a comment\n" + Files.readString(plan));
    Said same = stopwell("run", plan, "--out", dir.resolve("b"));
    assertTrue(same.out().contains("Frozen as " + hash + ", no deviation."), same.out());

    Files.writeString(
        plan,
        Files.readString(plan)
            .replace("tolerance_mm", "")
            .replace("time_limit_s: 30", "time_limit_s: 29"));
    Said changed = stopwell("run", plan, "--trials", "1", "--out", dir.resolve("c"));
    assertEquals(0, changed.code(), changed.err());
    assertTrue(changed.err().contains("plan.time_limit_s: planned 30, found 29"), changed.err());
    assertTrue(changed.err().contains("plan.trials: planned 2, found 1"), changed.err());
    assertTrue(changed.out().contains("deviations: 2."), changed.out());
    String listed = Files.readString(dir.resolve("c/report.html"));
    assertTrue(listed.contains("plan.time_limit_s"), "the report lists it");

    Said again = stopwell("run", plan, "--freeze", "--out", dir.resolve("d"));
    assertEquals(2, again.code());
    assertTrue(again.err().contains("under a new name"), again.err());
    assertFalse(Files.exists(dir.resolve("d")));
  }

  @Test
  void aPlanIsFrozenWithoutATrialAndTheRunIsHeldAgainstIt() throws Exception {
    Said frozen = stopwell("freeze", plan);
    assertEquals(0, frozen.code(), frozen.err());
    String hash = frozen.out().replaceAll("(?s)frozen as ([0-9a-f]{64}).*", "$1");
    assertFalse(Files.exists(dir.resolve("runs")));
    assertTrue(stopwell("freeze", plan).out().contains("frozen since"));
    Said run = stopwell("run", plan, "--out", dir.resolve("run"));
    assertTrue(run.out().contains("Frozen as " + hash + ", no deviation."), run.out());
    Said other = stopwell("run", plan, "--bench", "emulated", "--out", dir.resolve("emulated"));
    assertTrue(other.err().contains("bench: planned virtual, found emulated"), other.err());
  }

  @Test
  void theReportKnowsCodesUntilTheRunIsUnblinded() throws Exception {
    Path run = dir.resolve("run");
    Said said = stopwell("run", plan, "--out", run);
    assertEquals(0, said.code(), said.err() + said.out());
    assertFalse(said.out().contains("sound"), said.out());
    assertTrue(said.out().contains("Sentinels: 3, 0 bad."), said.out());
    String junit = Files.readString(run.resolve("junit.xml"));
    assertFalse(junit.contains("sound") || junit.contains("leaking"), junit);
    assertEquals(
        2, stopwell("compare", run, run).code(), "a blinded run is judged by itself first");

    Path secret = run.resolve("blinding.key");
    Path away = dir.resolve("away");
    Files.move(secret, away);
    assertEquals(0, stopwell("report", run).code(), "the blinded report needs no key");
    assertEquals(junit, Files.readString(run.resolve("junit.xml")));
    Said lost = stopwell("unblind", run);
    assertEquals(2, lost.code());
    assertTrue(lost.err().contains("blinding.key: missing"), lost.err());
    Files.writeString(secret, Files.readString(away).replaceFirst("nonce .", "nonce f"));
    if (!Files.readString(secret).equals(Files.readString(away))) {
      assertTrue(stopwell("unblind", run).err().contains("not the key of this run"));
    }
    Files.move(away, secret, java.nio.file.StandardCopyOption.REPLACE_EXISTING);
    try (RunFile file = RunFile.load(run)) {
      assertTrue(
          file.results().stream().noneMatch(t -> t.condition().equals("sound")),
          "the trials stand under their codes");
      assertEquals(
          List.of("A", "B"),
          file.header().conditions().stream().map(Condition::name).toList(),
          "the order of the plan would name the levels");
    }

    Said key = stopwell("unblind", run);
    assertEquals(0, key.code(), key.err());
    assertTrue(key.out().contains("= network sound"), key.out());
    assertTrue(Files.readString(run.resolve("junit.xml")).contains("sound"));
    assertTrue(Files.readString(run.resolve("report.html")).contains("Unblinded 20"));
    assertEquals(0, stopwell("verify", run).code(), "the run file is as it was");
    assertEquals(0, stopwell("compare", run, run).code());
  }

  @Test
  void aRunThatHoldsItsCodesIsStillUnblinded() throws Exception {
    RunHeader plain = SampleRun.header(2, 0);
    Blinding codes = new Blinding("fluid", 0, Map.of("half-wet", "B", "dry", "A"));
    RunHeader old =
        SampleRun.under(Protocol.NONE.with(codes), plain, plain.conditions(), plain.claims());
    Path run = dir.resolve("old");
    try (RunFile file = RunFile.create(run, old)) {
      file.append(List.of(entry(0, 20), entry(1, -30)));
      file.finish("2026-01-02T03:05:05Z");
    }
    stopwell("report", run);
    String junit = Files.readString(run.resolve("junit.xml"));
    assertTrue(junit.contains("accuracy.B\""), junit);
    assertFalse(junit.contains("classname=\"half-wet accuracy.half-wet\""), junit);
    Said key = stopwell("unblind", run);
    assertEquals(0, key.code(), key.err());
    assertTrue(key.out().contains("B = fluid half-wet"), key.out());
    assertTrue(Files.readString(run.resolve("junit.xml")).contains("accuracy.half-wet\""));
  }

  private static RunFile.Entry entry(int index, int error) {
    return new RunFile.Entry(SampleRun.stop(index, error), null);
  }

  @Test
  void aPlanWhoseResultsNameTheLevelsIsWarnedOf() throws Exception {
    Said said = stopwell("check", plan);
    assertEquals(0, said.code(), said.err());
    assertTrue(
        said.out().contains("warning: blind: the levels of network differ in what the plan"),
        said.out());
    assertTrue(
        said.out().contains("sentinels: A sound bench gives a false alarm in 0.5 %"), said.out());
    assertTrue(said.out().contains("sentinels: A lasting shift is found with 90 %"), said.out());
    assertFalse(stopwell("check", TestPlans.file("signed-claim")).out().contains("warning: blind"));
  }

  @Test
  void theStoppingRuleEndsACampaignAtTheSameTrialWithAnyNumberOfJobs() throws Exception {
    Files.writeString(
        plan,
        TestPlans.quick(40).source().text()
            + """
            claims:
              within: {share: 0.6, confidence: 0.95}
            stop: {rule: anytime, claim: within}
            """);
    List<Integer> lengths = new ArrayList<>();
    for (int jobs : new int[] {1, 4}) {
      Path run = dir.resolve("jobs" + jobs);
      Said said = stopwell("run", plan, "--jobs", jobs, "--out", run);
      assertEquals(0, said.code(), said.err() + said.out());
      assertTrue(said.out().contains("Decided by the stopping rule after trial "), said.out());
      try (RunFile file = RunFile.load(run)) {
        assertTrue(file.finishedAt().isPresent());
        List<TrialResult> results = file.results();
        for (int i = 0; i < results.size(); i++) {
          assertEquals(i, results.get(i).index());
        }
        lengths.add(results.size());
      }
    }
    assertEquals(lengths.get(0), lengths.get(1));
    assertTrue(lengths.get(0) < 40, lengths.toString());
  }

  @Test
  void aBadSentinelStopsTheCampaignUntilSomebodySaysWhatWasDone() throws Exception {
    Files.writeString(
        plan,
        TestPlans.quick(6).source().text()
            + PROTOCOL.replace("expected_mm: 0.5", "expected_mm: 2").replace("0.2", "0.1"));
    Path run = dir.resolve("run");
    Said stopped = stopwell("run", plan, "--out", run);
    assertEquals(3, stopped.code(), stopped.err() + stopped.out());
    assertTrue(stopped.err().contains(" was a sentinel and rests "), stopped.err());
    assertTrue(stopped.err().contains("one beyond 3.79 SD"), stopped.err());
    assertTrue(stopped.err().contains("--after-service \"what was done\""), stopped.err());
    assertFalse(stopped.err().contains("sound"), "no level is named");
    assertTrue(stopped.out().contains("Sentinels: 1, 1 bad."), stopped.out());
    int kept = trials(run);

    Said early = stopwell("unblind", run);
    assertEquals(2, early.code());
    assertTrue(
        early.err().contains("--after-service \"what was done\""),
        "a command that works: " + early.err());
    Said refused = stopwell("resume", run);
    assertEquals(2, refused.code());
    assertTrue(refused.err().contains("stopped at a bad sentinel. Trial "), refused.err());
    assertEquals(kept, trials(run), "nothing has moved");
    Said empty = stopwell("resume", run, "--after-service", " ");
    assertTrue(empty.err().contains("one line of 1 to 300 characters"), empty.err());

    Path away = dir.resolve("away");
    Files.move(run.resolve("blinding.key"), away);
    Said keyless = stopwell("resume", run, "--after-service", "fresh solution");
    assertEquals(2, keyless.code());
    assertTrue(keyless.err().contains("blinding.key: missing"), keyless.err());
    assertEquals(kept, trials(run), "nothing has moved");
    Files.move(away, run.resolve("blinding.key"));

    // The next sentinel is as wrong: the service did not help.
    Said again = stopwell("resume", run, "--after-service", "fresh solution");
    assertEquals(3, again.code(), again.err());
    assertTrue(trials(run) > kept);
    assertEquals(2, stopwell("resume", run).code(), "one service answers for one sentinel");
    String report = Files.readString(run.resolve("report.html"));
    assertTrue(report.contains("Service to the bench"), "the report lists it");
    assertTrue(report.contains("fresh solution"));
    assertEquals(0, stopwell("verify", run).code());

    Path sound = dir.resolve("sound");
    Files.writeString(plan, TestPlans.quick(2).source().text() + PROTOCOL);
    assertEquals(0, stopwell("run", plan, "--out", sound).code());
    Said idle = stopwell("resume", sound, "--after-service", "nothing");
    assertEquals(2, idle.code(), "a finished run");
  }

  @Test
  void twoWaysOfDecidingAreComparedUnderCodes() throws Exception {
    Path copy = dir.resolve("policies.yaml");
    Files.writeString(
        copy,
        Files.readString(TestPlans.file("two-policies"))
            .replace("../settings/reference-canal.yaml", "length.yaml"));
    Files.copy(
        TestPlans.file("two-policies").resolveSibling("../settings/reference-canal.yaml"),
        dir.resolve("length.yaml"));
    Path run = dir.resolve("told");
    Said said = stopwell("run", copy, "--trials", 2, "--freeze", "--out", run);
    assertEquals(0, said.code(), said.err() + said.out());
    assertTrue(
        Files.readString(dir.resolve("policies.frozen"))
            .contains("plan.factors.stopping.at-the-mark.settings.policies.stopping = plain"));
    for (Object[] asked :
        List.of(
            new Object[] {"replay", run},
            new Object[] {"replay", run, "--trial", 3},
            new Object[] {"replay", run, "--settings", dir.resolve("length.yaml")})) {
      Said refused = stopwell(asked);
      assertEquals(2, refused.code(), refused.out());
      assertEquals("", refused.out());
      assertTrue(refused.err().contains("the run is blinded"), refused.err());
      assertTrue(refused.err().contains("stopwell unblind"), refused.err());
    }
    Path slower = dir.resolve("slower.yaml");
    Files.writeString(
        slower,
        Files.readString(dir.resolve("length.yaml")).replace("speed_rpm: 300", "speed_rpm: 280"));
    String report = Files.readString(run.resolve("report.html"));
    assertTrue(report.contains("carry codes until the run is unblinded"));
    for (String byDesign :
        List.of(
            "policies.stopping predict → plain",
            "Where the error comes from",
            "Error chain of trial",
            "One trial, from start to stop")) {
      assertFalse(report.contains(byDesign), "not while blinded: " + byDesign);
    }
    assertFalse(report.matches("(?s).*id=\"worst-\\d.*"), "no trace of a worst trial");
    assertTrue(report.contains("whoever simulates the trials again unblinds the run"));
    String junit = Files.readString(run.resolve("junit.xml"));
    assertFalse(junit.contains("reproduce"), junit);
    assertFalse(junit.matches("(?s).*time=\"(?!0\\.000\").*"), "times differ by design");
    assertEquals(0, stopwell("export", run, "--to", "csv").code());
    assertEquals(0, stopwell("export", run, "--to", "numpy").code());
    assertEquals(2, stopwell("export", run, "--to", "vectors").code());
    String dictionary = Files.readString(run.resolve("trials.json"));
    assertFalse(dictionary.contains("\"settings_fingerprint\""), dictionary);
    String csv = Files.readString(run.resolve("trials.csv"));
    assertFalse(csv.contains("at-the-mark") || csv.contains("predicting"), csv);
    for (String column : List.of("coast_um", "reading_um", "duration_ns", "state_hash")) {
      assertFalse(csv.contains(column), csv.lines().findFirst().orElseThrow());
    }
    assertTrue(csv.contains("stop_error_um"));
    String triage = stopwell("triage", run, "--json").out();
    assertFalse(triage.contains("at-the-mark") || triage.contains("predicting"), triage);

    assertEquals(0, stopwell("unblind", run).code());
    assertEquals(0, stopwell("replay", run).code(), "each condition by its own settings");
    assertEquals(0, stopwell("replay", run, "--trial", 3).code());
    Said moved = stopwell("replay", run, "--settings", slower);
    assertEquals(1, moved.code(), moved.err() + moved.out());
    assertTrue(moved.out().contains("trial 1, "), moved.out());
    String named = Files.readString(run.resolve("report.html"));
    assertTrue(named.contains("policies.stopping predict → plain"), "the settings by condition");
    assertTrue(named.contains("Where the error comes from"));
    assertTrue(named.contains("predicting"));
    assertEquals(0, stopwell("export", run, "--to", "csv").code());
    assertTrue(Files.readString(run.resolve("trials.csv")).contains("at-the-mark"));
    assertTrue(Files.readString(run.resolve("trials.json")).contains("\"settings_fingerprint\""));
    assertEquals(0, stopwell("verify", run).code());

    Files.writeString(copy, Files.readString(copy).replace("stopping: plain", "torque: retry"));
    Said changed = stopwell("run", copy, "--trials", 2, "--out", dir.resolve("other"));
    assertTrue(
        changed
            .err()
            .contains("at-the-mark.settings.policies.stopping: planned plain, found nothing"),
        changed.err());
    Said differs = stopwell("compare", dir.resolve("other"), run);
    assertEquals(2, differs.code(), "still blinded");
    stopwell("unblind", dir.resolve("other"));
    Said compared = stopwell("compare", dir.resolve("other"), run);
    assertTrue(
        compared
            .out()
            .contains("plan line: policies: {stopping: plain} → policies: {torque: retry}"),
        compared.out());
  }

  private static int trials(Path run) throws Exception {
    try (RunFile file = RunFile.load(run)) {
      assertTrue(file.finishedAt().isEmpty());
      return file.results().size();
    }
  }

  @Test
  void theShippedProtocolRuns() throws Exception {
    Path run = dir.resolve("signed");
    Said said = stopwell("run", TestPlans.file("signed-claim"), "--trials", "1", "--out", run);
    assertTrue(said.code() == 0 || said.code() == 5, said.err() + said.out());
    assertTrue(said.out().contains("Sentinels: 2, 0 bad."), said.out());
    String report = Files.readString(run.resolve("report.html"));
    assertTrue(report.contains("Latin squares, balanced"), "the report says how it was ordered");
  }

  @Test
  void whatDidNotPassIsRunAgainAndTheFirstResultStays() throws Exception {
    Files.writeString(
        plan,
        TestPlans.quick(1).source().text().replace("trials: 1", "trials: 1\ntolerance_mm: 0.01"));
    Path run = dir.resolve("run");
    assertEquals(1, stopwell("run", plan, "--out", run).code());
    byte[] before = Files.readAllBytes(run.resolve("run.db"));
    String junit = Files.readString(run.resolve("junit.xml"));
    Said said = stopwell("triage", run, "--times", 2);
    assertEquals(1, said.code(), said.err() + said.out());
    assertTrue(said.out().contains("the controller repeats the failure, bit for bit"), said.out());
    assertTrue(Files.readString(run.resolve("triage.json")).contains("\"SAME\""));
    org.junit.jupiter.api.Assertions.assertArrayEquals(
        before, Files.readAllBytes(run.resolve("run.db")));
    assertEquals(junit, Files.readString(run.resolve("junit.xml")));
    assertTrue(junit.contains("stopwell replay DIR --trial 1"), junit);
  }

  @Test
  void aPlanSaysHowSmallADefectItNotices() throws Exception {
    Said said =
        stopwell(
            "detect",
            plan,
            "--campaigns",
            2,
            "--trials",
            1,
            "--kind",
            "distance_sign",
            "--kind",
            "lead_sign");
    assertEquals(0, said.code(), said.err() + said.out());
    assertTrue(said.out().contains("raises an alarm in 0 of 2"), said.out());
    assertTrue(said.out().contains("sign of the distance is wrong: detected, 2 of 2"), said.out());
    assertTrue(said.out().contains("NOT DETECTED"), said.out());
    assertTrue(said.out().contains("Within the tolerance of this plan"), said.out());
  }

  private static Said stopwell(Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = new String[args.length];
    for (int i = 0; i < args.length; i++) {
      words[i] = args[i].toString();
    }
    int code = Main.run(words, new PrintWriter(out, true), new PrintWriter(err, true));
    return new Said(code, out.toString(), err.toString());
  }
}
