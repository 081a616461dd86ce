package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.record.CutRun;
import org.stopwell.harness.trial.TestPlans;

/** Recordings go through the controller again: hash for hash, or from a CSV of one's own. */
class ReplayCommandTest {
  @TempDir Path dir;
  private Path run = Path.of("");
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @BeforeEach
  void writeFiles() throws Exception {
    Files.writeString(dir.resolve("plan.yaml"), TestPlans.quick(3).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(3).settings().source().text());
    run = dir.resolve("run");
  }

  private void runACampaign() {
    assertEquals(0, stopwell("run", dir.resolve("plan.yaml"), "--out", run), err.toString());
    out.getBuffer().setLength(0);
  }

  @Test
  void everyTrialOfARunIsDoneAgainHashForHash() {
    runACampaign();
    for (int trial = 1; trial <= 6; trial++) {
      assertEquals(0, stopwell("replay", run, "--trial", trial), err.toString());
    }
    assertTrue(out.toString().contains("trial 1, recorded"), out.toString());
    assertTrue(out.toString().contains("simulated again from its seed"), out.toString());
    assertEquals(6, out.toString().split("identical: ", -1).length - 1);
  }

  @Test
  void otherSettingsDifferFromANamedMillisecondOn() throws IOException {
    runACampaign();
    Path other = dir.resolve("other.yaml");
    Files.writeString(
        other,
        Files.readString(dir.resolve("settings.yaml"))
            .replace("standoff_mm: 0.5", "standoff_mm: 0.8"));
    int sound = firstSound();
    assertEquals(1, stopwell("replay", run, "--trial", sound, "--settings", other));
    assertTrue(
        out.toString().matches("(?s).*differs from \\d+\\.\\d{3} ms on \\(step \\d+\\).*"),
        out.toString());
    assertTrue(out.toString().contains("recorded: EASING FORWARD"), out.toString());
    assertTrue(out.toString().contains("replayed: HOLDING BRAKE"), out.toString());
  }

  @Test
  void aWholeRunIsDoneAgainHashForHash() {
    runACampaign();
    assertEquals(0, stopwell("replay", run), err.toString());
    assertEquals(
        """
        6 trials: 6 identical, every output and every state hash; 0 differ
        results: 6 simulated again, 6 equal, 0 differ from the recorded results
        """,
        out.toString());
  }

  /** The chain is made again and every output is genuine: only the result itself is false. */
  @ParameterizedTest
  @CsvSource({
    "remaining, remaining_um",
    "error, stop_error_um",
    "deepest, deepest_um",
    "verdict, verdict",
    "code, code",
    "spoiled, steps",
  })
  void aFalsifiedResultIsNamedWithBothValues(String kind, String column) throws IOException {
    runACampaign();
    int sound = firstSound();
    Path changed = FalsifiedRun.of(run, sound - 1, kind);
    assertEquals(1, stopwell("replay", changed), err.toString());
    String all = out.toString();
    if (kind.equals("spoiled")) {
      assertTrue(all.contains("trial " + sound + ", sound: differs"), all);
      assertTrue(all.contains("was LINK, is AT_STANDOFF"), all);
      return;
    }
    assertTrue(all.contains("results: 6 simulated again, 5 equal, 1 differ"), all);
    assertTrue(
        all.matches(
            "(?s).*trial " + sound + ", sound: " + column + " recorded \\S+, recomputed \\S+\n.*"),
        all);
    out.getBuffer().setLength(0);
    assertEquals(1, stopwell("replay", changed, "--trial", sound), err.toString());
    assertTrue(
        out.toString().contains("result, simulated again: " + column + " recorded "), "" + out);
    out.getBuffer().setLength(0);
    assertEquals(1, stopwell("replay", changed, "--json"), err.toString());
    assertTrue(out.toString().contains("\"column\" : \"" + column + "\""), out.toString());
  }

  @Test
  void aClaimThatIsNotThatOfThePlanIsNamed() throws IOException {
    Files.writeString(
        dir.resolve("plan.yaml"),
        "claims:\n  within: {share: 0.5, confidence: 0.8}\n",
        StandardOpenOption.APPEND);
    stopwell("run", dir.resolve("plan.yaml"), "--out", run);
    assertEquals(0, stopwell("replay", run), err.toString());
    out.getBuffer().setLength(0);
    assertEquals(1, stopwell("replay", FalsifiedRun.withoutClaims(run)), err.toString());
    assertTrue(
        out.toString().contains("the claims in the run file are not those of its plan"),
        out.toString());
  }

  /** A physical bench: what follows from the recorded truth is found, the truth is not checked. */
  @Test
  void onAPhysicalBenchAFalsifiedResultIsFoundFromTheRecordedTruth() throws IOException {
    runACampaign();
    int sound = firstSound();
    Path physical = FalsifiedRun.physical(run, false);
    assertEquals(0, stopwell("replay", physical), err.toString());
    assertTrue(out.toString().contains("judged again from the recorded truth, "), out.toString());
    assertTrue(out.toString().contains(" 0 differ from the recorded results"), out.toString());
    assertTrue(out.toString().contains("not checked: whether the recorded signals"), "" + out);
    out.getBuffer().setLength(0);
    Path changed = FalsifiedRun.of(physical, sound - 1, "verdict");
    assertEquals(1, stopwell("replay", changed), err.toString());
    assertTrue(
        out.toString()
            .contains("trial " + sound + ", sound: verdict recorded FAIL, recomputed PASS"),
        out.toString());
    out.getBuffer().setLength(0);
    Path late = FalsifiedRun.of(physical, sound - 1, "late");
    assertEquals(0, stopwell("replay", late), out.toString());
    assertTrue(
        out.toString().contains("verdict and code of 1 trial cannot be judged again"), "" + out);
    out.getBuffer().setLength(0);
    assertEquals(1, stopwell("replay", FalsifiedRun.of(physical, sound - 1, "cut")), "" + out);
    assertTrue(out.toString().contains("verdict recorded PASS, recomputed RIG_FAULT"), "" + out);
  }

  /** Without a proof every verdict is withheld; its sentence keeps what it would be. */
  @Test
  void aFalsifiedSentenceOfAWithheldVerdictIsFound() throws IOException {
    runACampaign();
    Path withheld = FalsifiedRun.physical(run, true);
    assertEquals(0, stopwell("replay", withheld), out.toString());
    assertTrue(out.toString().contains(" 0 differ from the recorded results"), out.toString());
    out.getBuffer().setLength(0);
    Path changed = FalsifiedRun.of(withheld, firstSound() - 1, "message");
    assertEquals(1, stopwell("replay", changed), out.toString());
    assertTrue(out.toString().contains("recomputed PASS AT_STANDOFF."), out.toString());
  }

  @Test
  void aWholeRunWithOtherSettingsSaysHowFarEveryStopMoves() throws IOException {
    runACampaign();
    Path other = dir.resolve("other.yaml");
    Files.writeString(
        other,
        Files.readString(dir.resolve("settings.yaml"))
            .replace("standoff_mm: 0.5", "standoff_mm: 0.7"));
    assertEquals(1, stopwell("replay", run, "--settings", other), err.toString());
    // The leaking network is refused either way; the sound one is stopped in 0.2 mm further out,
    // give or take what the hand does meanwhile.
    assertTrue(
        out.toString().matches("(?s).*stops in both: 3, mean shift outwards \\+0\\.[12]\\d+ mm.*"),
        out.toString());
    assertTrue(out.toString().contains("0 newly failed, 0 newly passed"), out.toString());
    assertTrue(out.toString().contains(", sound: differs from "), out.toString());
    out.getBuffer().setLength(0);
    assertEquals(1, stopwell("replay", run, "--settings", other, "--json"));
    assertTrue(out.toString().contains("\"differs_from_ns\""), out.toString());
  }

  @Test
  void whatABadSentinelExcludesIsReplayedTooAndNamed() throws IOException {
    Files.writeString(
        dir.resolve("plan.yaml"),
        """
        sentinels:
          every: 2
          expected_mm: 3
          sd_mm: 0.1
          on_bad: go_on
          scene:
            canal: {body_ohm: 6500}
        """,
        StandardOpenOption.APPEND);
    stopwell("run", dir.resolve("plan.yaml"), "--out", run);
    out.getBuffer().setLength(0);
    assertEquals(0, stopwell("replay", run), err.toString());
    assertTrue(out.toString().contains(" identical, every output and every state hash; 0 differ"));
    assertTrue(
        out.toString().contains("excluded as BAD_SENTINEL, replayed all the same: trial "),
        out.toString());
    assertFalse(out.toString().contains("not replayed"), out.toString());
    out.getBuffer().setLength(0);
    assertEquals(0, stopwell("replay", run, "--json"), err.toString());
    assertTrue(out.toString().contains("\"code\" : \"BAD_SENTINEL\""), out.toString());
  }

  @Test
  void aTraceWithALocatorIsStoppedAtTheStandoff() throws IOException {
    Path settings = dir.resolve("locator.yaml");
    Files.writeString(
        settings,
        """
        settings: 1
        name: locator
        file: {size: 25}
        sense:
          {policy: locator, locator_step_mm: 0.001, locator_rate_hz: 200, distance_noise_mm: 0.001}
        stages:
          length: {standoff_mm: 0.5, reaction_ms: 30}
        """);
    List<String> rows = new ArrayList<>(List.of("t_ms,distance_mm,true_remaining_mm"));
    for (int ms = 0; ms < 22_000; ms += 5) {
      double mm = Math.max(0, 20 - ms / 1000.0);
      rows.add(String.format(Locale.ROOT, "%d,%.3f,%.3f", ms, mm, mm));
    }
    Path said = dir.resolve("said.csv");
    int code = stopwell("replay", csv(rows), "--settings", settings, "--out", said);
    assertEquals(0, code, err.toString());
    assertTrue(out.toString().contains("Started because the file entered the canal"), "" + out);
    assertTrue(out.toString().contains("the file rests at the standoff of 0.50 mm"), "" + out);
    List<String> lines = Files.readAllLines(said);
    assertEquals(
        "t_ms,distance_mm,true_remaining_mm,state,remaining_mm,bound_mm,trust,cause,drive,reason",
        lines.get(0));
    assertEquals(rows.size(), lines.size());
    String stop = lines.stream().filter(l -> l.contains("HOLDING")).findFirst().orElseThrow();
    double at = Double.parseDouble(stop.split(",", -1)[1]);
    // 1 mm/s and 30 ms of reaction: the decision comes at 0.53 mm, plus a sample of 5 ms.
    assertEquals(0.53, at, 0.02, stop);
    assertEquals(0, stopwell("replay", said, "--settings", settings));
  }

  @Test
  void aTraceWithAnotherSignalThanTheSettingsNeedIsRefused() throws IOException {
    Path settings = TestPlans.file("first-stop").resolveSibling("../settings/reference-canal.yaml");
    Path distance = csv(List.of("t_ms,distance_mm", "0,4.2", "5,4.1"));
    assertEquals(2, stopwell("replay", distance, "--settings", settings));
    assertTrue(
        err.toString().contains("holds distance_mm; the settings (sense.policy) need impedance at"),
        err.toString());
    Path other = csv(List.of("t_ms,z500hz_re_ohm,z500hz_im_ohm", "0,4200,-10"));
    assertEquals(2, stopwell("replay", other, "--settings", settings));
    assertTrue(err.toString().contains("impedance at 500 Hz; the settings"), err.toString());
    Path locator = TestPlans.file("first-stop").resolveSibling("../settings/locator.yaml");
    assertEquals(2, stopwell("replay", other, "--settings", locator));
    assertTrue(err.toString().contains("need distance_mm"), err.toString());
  }

  @Test
  void aRunOfAnotherCoreIsReplayedOnlyWhenAskedFor() throws IOException {
    runACampaign();
    Path old = CutRun.after(run, 2, "0.0.1 core 000000000000");
    assertEquals(2, stopwell("replay", old));
    assertTrue(
        err.toString().contains("was recorded with core 000000000000, this program has core "),
        err.toString());
    assertEquals(0, stopwell("replay", old, "--other-core"), err.toString());
    assertEquals(0, stopwell("replay", old, "--trial", 1, "--other-core"), err.toString());
  }

  @Test
  void aTraceOfALocatorWithoutContactIsNoDistance() throws IOException {
    Path settings = TestPlans.file("first-stop").resolveSibling("../settings/locator.yaml");
    List<String> rows = new ArrayList<>(List.of("t_ms,distance_mm"));
    for (int ms = 0; ms < 4_000; ms += 20) {
      String shown = ms % 100 != 0 ? "" : ms < 1_000 || ms >= 3_000 ? "no_contact" : "4.2";
      rows.add(ms + "," + shown);
    }
    Path said = dir.resolve("said.csv");
    assertEquals(0, stopwell("replay", csv(rows), "--settings", settings, "--out", said), "" + err);
    List<String> lines = Files.readAllLines(said);
    assertTrue(lines.get(2_000 / 20).contains(",EASING,4.2"), lines.get(2_000 / 20));
    assertTrue(lines.get(3_040 / 20).contains(",HOLDING,,,NONE,OPEN,"), lines.get(3_040 / 20));
    assertTrue(lines.get(3_900 / 20).contains(",PARKED,,,NONE,OPEN,"), lines.get(3_900 / 20));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "time,distance_mm;0,1              | trace.csv:1: column time: unknown",
        "distance_mm;1                     | trace.csv:1: column t_ms: missing",
        "t_ms;0                            | trace.csv:1: no position",
        "t_ms,z630hz_re_ohm;0,1            | trace.csv:1: column z630hz_im_ohm: missing",
        "t_ms,distance_mm,z1hz_re_ohm,z1hz_im_ohm;0,1,1,1 | two positions",
        "t_ms,distance_mm;0,1;0,1          | trace.csv:3: t_ms: \"0\" is not above the row before",
        "t_ms,distance_mm;0,near           | trace.csv:2: distance_mm: \"near\" is not a number",
        "t_ms,distance_mm;0,9e99           | trace.csv:2: distance_mm: \"9e99\" is out of range",
        "t_ms,distance_mm;0,1;5            | trace.csv:3: 1 cells, the head has 2",
        "t_ms,distance_mm,demand;0,1,2     | trace.csv:2: demand: \"2\" is not 0 or 1",
        "t_ms,z1hz_re_ohm,z1hz_im_ohm;0,1, | trace.csv:2: a sample needs every impedance column, or none",
        "t_ms,distance_mm                  | trace.csv: no rows",
        "t_ms,t_ms,distance_mm;0,0,1       | trace.csv: cannot be read",
      })
  void aWrongTraceIsRefusedWithItsLine(String rows, String message) throws IOException {
    int code =
        stopwell(
            "replay",
            csv(List.of(rows.split(";", -1))),
            "--settings",
            dir.resolve("settings.yaml"));
    assertEquals(2, code);
    assertTrue(err.toString().contains(message), err.toString());
  }

  private int firstSound() throws IOException {
    try (var file = org.stopwell.harness.record.RunFile.load(run)) {
      return file.results().stream()
              .filter(r -> r.condition().equals("sound"))
              .findFirst()
              .orElseThrow()
              .index()
          + 1;
    }
  }

  private Path csv(List<String> rows) throws IOException {
    return Files.writeString(dir.resolve("trace.csv"), String.join("\n", rows) + "\n");
  }

  private int stopwell(Object... args) {
    String[] words = new String[args.length];
    for (int i = 0; i < words.length; i++) {
      words[i] = args[i].toString();
    }
    return Main.run(words, new PrintWriter(out), new PrintWriter(err));
  }
}
