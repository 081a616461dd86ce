package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import tools.jackson.jr.ob.JSON;

/** What a person at a terminal, or a script, sees: messages, exit codes, files. */
class CommandLineTest {
  /** What a command said and how it ended. */
  record Said(int code, String out, String err) {}

  @TempDir Path dir;
  private Path plan = Path.of("");

  @BeforeEach
  void writePlan() throws Exception {
    plan = write("plan.yaml", TestPlans.quick(2).source().text());
    write("settings.yaml", TestPlans.quick(2).settings().source().text());
  }

  @Test
  void aCampaignLeavesARunFileAReportAndAVerdict() throws Exception {
    Path run = dir.resolve("run");
    Said said = stopwell("run", plan, "--out", run);
    assertEquals(0, said.code(), said.err());
    assertEquals("", said.err());
    assertTrue(said.out().contains("quick: 4 of 4 trials, simulated"), said.out());
    assertTrue(said.out().contains("PASS: Every analysed trial did what the plan expects."));
    assertTrue(Files.readString(run.resolve("report.html")).contains("simulated"));
    assertTrue(Files.readString(run.resolve("junit.xml")).contains("<testsuites"));
    try (RunFile file = RunFile.load(run)) {
      assertEquals(4, file.results().size());
      assertTrue(file.finishedAt().isPresent());
    }
  }

  @Test
  void theReportCanBeMadeAgainByteForByte() throws Exception {
    Path run = dir.resolve("run");
    stopwell("run", plan, "--out", run);
    String report = Files.readString(run.resolve("report.html"));
    String junit = Files.readString(run.resolve("junit.xml"));
    Files.delete(run.resolve("report.html"));
    Said said = stopwell("report", run);
    assertEquals(0, said.code(), said.err());
    assertEquals(report, Files.readString(run.resolve("report.html")));
    assertEquals(junit, Files.readString(run.resolve("junit.xml")));
  }

  @Test
  void machinesGetJson() throws Exception {
    Said said = stopwell("run", plan, "--out", dir.resolve("run"), "--json");
    Map<String, Object> json = JSON.std.mapFrom(said.out());
    assertEquals("PASS", json.get("verdict"));
    assertEquals(0, json.get("exit_code"));
    assertEquals(true, json.get("simulated"));
    assertTrue(json.get("conditions") instanceof List<?> conditions && conditions.size() == 2);
  }

  @Test
  void anotherSeedGivesOtherTrialsAndTheSameSeedTheSame() throws Exception {
    assertEquals(hashes("a", "--seed", 5), hashes("b", "--seed", 5, "--jobs", 1));
    assertFalse(hashes("c", "--seed", 6).equals(hashes("d", "--seed", 5)));
  }

  @Test
  void theEmulatedBenchDoesWhatTheVirtualOneDoesBitForBit() throws Exception {
    assertEquals(
        hashes("virtual", "--trials", 1), hashes("emulated", "--trials", 1, "--bench", "emulated"));
  }

  @Test
  void aFailedClaimEndsWithOne() throws Exception {
    write("plan.yaml", Files.readString(plan).replace("shunt_ohm: 2500", "shunt_ohm: 0"));
    Said said = stopwell("run", plan, "--out", dir.resolve("run"));
    assertEquals(1, said.code(), said.out());
    assertTrue(said.out().contains("FAIL: 2 trials failed"), said.out());
  }

  @Test
  void anUndecidedClaimEndsWithFive() throws Exception {
    write("plan.yaml", Files.readString(plan) + "claims:\n  within: {share: 0.95}\n");
    assertEquals(5, stopwell("run", plan, "--out", dir.resolve("run")).code());
  }

  @Test
  void theEmergencyStopEndsWithFour() throws Exception {
    write(
        "plan.yaml",
        Files.readString(plan).replace("passive_mm: 6", "passive_mm: 6, emergency_stop_ms: 3000"));
    Said said = stopwell("run", plan, "--out", dir.resolve("run"));
    assertEquals(4, said.code(), said.out());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "trials: 2   | trials: two        | :6: trials: \"two\" is not a number in trials",
        "trials: 2   | trails: 2          | :6: trails: unknown key; did you mean trials?",
        "trials: 2   | seed: 4            | :6: seed: given twice; first on line 5",
        "length_mm: 8 | length_um: 8000  | :9: scene.canal.length_um: unknown key; did you mean length_mm?",
        "trials: 2   | trials: [          | not YAML:",
        "settings.yaml | gone.yaml          | gone.yaml: no such file",
      })
  void aWrongPlanEndsWithTwoBeforeAnythingMoves(String right, String wrong, String message)
      throws Exception {
    write("plan.yaml", Files.readString(plan).replace(right, wrong));
    for (String command : List.of("run", "check")) {
      Said said = stopwell(command, plan);
      assertEquals(2, said.code());
      assertTrue(said.err().contains(message), said.err());
      assertFalse(said.err().contains("Exception"), said.err());
      assertEquals("", said.out());
    }
  }

  @Test
  void contradictoryLimitsEndWithTwo() throws Exception {
    Path settings = dir.resolve("settings.yaml");
    write(
        "settings.yaml",
        Files.readString(settings).replace("speed_rpm: 300", "speed_rpm: 300\n    ease_rpm: 400"));
    Said said = stopwell("check", settings);
    assertEquals(2, said.code());
    assertTrue(
        said.err().contains("stages.length.ease_rpm: 400 rpm is above stages.length.speed_rpm"),
        said.err());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "rnu PLAN | Unmatched argument",
        "run | Missing required parameter: 'PLAN'",
        "run PLAN --trails 3 | Possible solutions: --trials",
        "run PLAN --trials x | Invalid value for option '--trials'",
        "run PLAN --trials 0 | --trials 0 is outside 1 to 1000000",
        "run PLAN --jobs 0 | --jobs 0 is outside 1 to 1024",
        "run PLAN --seed -1 | --seed -1 is below 0",
        "run PLAN --bench serial | --bench serial needs --port",
        "run PLAN --port X | --port goes with --bench serial",
        "run PLAN --bench serial --port X --jobs 2 | runs one trial at a time; use --jobs 1",
        "run PLAN --bench magic | --bench magic is not one of virtual, emulated",
        "run nowhere.yaml | nowhere.yaml: no such file",
        "report nowhere | nowhere/run.db: there is no run",
        "replay nowhere.csv --settings SETTINGS | nowhere.csv: no such file",
        "replay PLAN | a CSV trace needs --settings",
      })
  void wrongUsageEndsWithTwoAndAShortWord(String line) throws IOException {
    String[] parts = line.split(" \\| ", 2);
    String[] args =
        parts[0]
            .replace("PLAN", plan.toString())
            .replace("SETTINGS", dir.resolve("settings.yaml").toString())
            .split(" ", -1);
    Said said = stopwell((Object[]) args);
    assertEquals(2, said.code(), said.out());
    assertTrue(said.err().contains(parts[1]), said.err());
    assertTrue(said.err().lines().count() <= 3, said.err());
    assertFalse(said.err().contains("Exception"), said.err());
  }

  @Test
  void aPortThatIsNotThereIsTheRigsFault() {
    Said said = stopwell("run", plan, "--bench", "serial", "--port", "/dev/not-there");
    assertEquals(3, said.code());
    assertEquals("stopwell: PORT_MISSING: port /dev/not-there: no such port\n", said.err());
  }

  @Test
  void aRunIsNeverOverwritten() {
    Path run = dir.resolve("run");
    stopwell("run", plan, "--out", run, "--trials", 1);
    Said said = stopwell("run", plan, "--out", run, "--trials", 1);
    assertEquals(2, said.code());
    assertTrue(said.err().contains("already holds a run"), said.err());
  }

  @Test
  void everyCommandExplainsItself() {
    Said all = stopwell("--help");
    assertEquals(0, all.code());
    assertTrue(all.out().contains("Not a medical device"));
    for (String command : commands()) {
      Said said = stopwell(command, "--help");
      assertEquals(0, said.code());
      assertTrue(said.out().contains("Example"), said.out());
    }
    assertTrue(stopwell("--version").out().startsWith("stopwell "));
  }

  @Test
  void thePageOfTheCommandLineNamesEveryCommandAndNoOther() throws IOException {
    Path page = TestPlans.file("first-stop").resolveSibling("../command-line.md").normalize();
    List<String> named = new ArrayList<>();
    for (String line : Files.readAllLines(page)) {
      if (line.startsWith("| `") && named.size() < commands().size()) {
        named.add(line.substring(3).split("[ `]", 2)[0]);
      }
    }
    assertEquals(commands(), named);
  }

  private static List<String> commands() {
    return List.copyOf(new picocli.CommandLine(new Main()).getSubcommands().keySet());
  }

  @Test
  void checkSaysHowFarTheTorqueStaysFromTheFilesStrength() {
    Said said = stopwell("check", plan, dir.resolve("settings.yaml"));
    assertEquals(0, said.code(), said.err());
    // Size 25, taper 0.04: 0.37 mm across at 3 mm; 700 MPa * pi * 0.37^3 / 16 = 6.962 mN m.
    assertTrue(
        said.out()
            .contains("torque limit 0.60 N·cm, 14 % below the strength of the file, 0.70 N·cm"),
        said.out());
  }

  @Test
  void checkSaysWhichIndependentMonitorWatchesTheStop() {
    String magnitude = "  length: independent monitor: the magnitude at low_hz, 0.3 mm beyond";
    String none = "  length: no independent monitor unless the bench has a depth axis: ";
    Path shipped = TestPlans.file("first-stop").resolveSibling("../settings");
    Map<String, String> lineOf =
        Map.of(
            "reference-canal", magnitude,
            "resistance", none + "the only signal is the magnitude at low_hz",
            "locator", none + "the only signal is the locator's distance");
    lineOf.forEach((settings, line) -> checkSays(shipped.resolve(settings + ".yaml"), line));
  }

  @Test
  void checkSaysInWhichConditionsOfAPlanNoIndependentMonitorWatchesTheStop() throws IOException {
    Path shipped = TestPlans.file("locator");
    String none = ": the only signal is the locator's distance";
    checkSays(shipped, "  length: no independent monitor" + none);
    Path axis = dir.resolve("axis.yaml");
    String text =
        Files.readString(shipped)
            .replace("../settings", shipped.resolveSibling("../settings").toString());
    String present = "hand: {depth_axis: present, feed";
    Files.writeString(axis, text.replace("hand: {feed", present));
    checkSays(axis, "  length: independent monitor: the depth axis, 0.3 mm beyond the standoff");
    Files.writeString(axis, text.replaceFirst("hand: \\{feed", present.replace("{", "\\{")));
    checkSays(axis, "  length: no independent monitor in steady, quick" + none);
    checkSays(
        TestPlans.file("patency"),
        "  length: no independent monitor: the magnitude at low_hz changes too little past");
  }

  private void checkSays(Path file, String line) {
    Said said = stopwell("check", file);
    assertEquals(0, said.code(), said.err());
    assertTrue(said.out().contains(line), said.out());
  }

  @Test
  void checkStatesTheFeedUpToWhichTheStandoffProtectsAndWarnsBeyondIt() throws IOException {
    String limit = "standoff_mm 0.5 mm protects from over-travel up to a feed of ";
    Said said = stopwell("check", dir.resolve("settings.yaml"), plan);
    assertEquals(2, said.out().lines().filter(line -> line.contains(limit)).count(), said.out());
    assertFalse(said.out().contains("over-travel is possible"), said.out());
    String text = Files.readString(plan);
    Files.writeString(plan, text.replace("feed_mm_per_s: 1,", "feed_mm_per_s: 9,"));
    said = stopwell("check", plan);
    assertEquals(0, said.code(), said.err());
    assertTrue(
        said.out().contains("moves at up to 9.0 mm/s, above ")
            && said.out().contains("mm/s: over-travel is possible"),
        said.out());
  }

  @Test
  void checkWarnsOfStrokesTooFastToBeKept() throws IOException {
    Path settings = dir.resolve("settings.yaml");
    String written = Files.readString(settings);
    assertFalse(stopwell("check", settings).out().contains("keeps strokes"));
    Path fast = dir.resolve("fast.yaml");
    Files.writeString(
        fast,
        written.replaceFirst(
            "speed_rpm: [0-9]+",
            "speed_rpm: 600\n    motion: reciprocate\n    forward_deg: 120\n    backward_deg: 60"));
    Said said = stopwell("check", fast);
    assertEquals(0, said.code(), said.err());
    assertTrue(
        said.out()
            .contains(
                "length: speed_rpm: 600 rpm with backward_deg 60 deg is above 375 rpm, up to which"
                    + " the motor of the virtual bench keeps strokes within 2 deg"),
        said.out());
    Files.copy(fast, settings, StandardCopyOption.REPLACE_EXISTING);
    String text = Files.readString(plan);
    Files.writeString(plan, text.replace("scene:\n", "scene:\n  motor: {backlash_deg: 2}\n"));
    said = stopwell("check", plan);
    assertTrue(
        said.out().contains("length: motor.backlash_deg: 2.00 deg is above 1.50 deg, up to which"),
        said.out() + said.err());
    Files.writeString(plan, text.replace("scene:\n", "scene:\n  motor: {backlash_deg: 1.5}\n"));
    said = stopwell("check", plan);
    assertTrue(
        said.out().contains("is above 250 rpm") && said.out().contains("with 1.50 deg of play"),
        said.out() + said.err());
  }

  private List<Long> hashes(String run, Object... options) throws IOException {
    Object[] args = new Object[options.length + 4];
    args[0] = "run";
    args[1] = plan;
    args[2] = "--out";
    args[3] = dir.resolve(run);
    System.arraycopy(options, 0, args, 4, options.length);
    Said said = stopwell(args);
    assertEquals(0, said.code(), said.err());
    try (RunFile file = RunFile.load(dir.resolve(run))) {
      return file.results().stream().map(TrialResult::stateHash).toList();
    }
  }

  private static Said stopwell(Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = new String[args.length];
    for (int i = 0; i < words.length; i++) {
      words[i] = args[i].toString();
    }
    int code = Main.run(words, new PrintWriter(out), new PrintWriter(err));
    return new Said(code, out.toString(), err.toString());
  }

  private Path write(String name, String text) throws IOException {
    return Files.writeString(dir.resolve(name), text);
  }
}
