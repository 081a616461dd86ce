package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;

/** A laboratory's way from a table of stops to a signed report. */
class ImportCommandTest {
  private record Said(int code, String out, String err) {}

  @TempDir Path dir;
  private Path plan = Path.of("");
  private Path table = Path.of("");

  @BeforeEach
  void write() throws Exception {
    plan = dir.resolve("plan.yaml");
    table = dir.resolve("trials.csv");
    Files.writeString(plan, stopwell("import", "--template", "plan").out());
    Files.writeString(table, stopwell("import", "--template", "table").out());
  }

  @Test
  void theTemplatesMakeARunThatIsLabelledWhereverItIsShown() throws Exception {
    Path run = dir.resolve("run");
    Said made = stopwell("import", table, "--plan", plan, "--out", run);
    assertEquals(3, made.code(), made.err() + made.out());
    assertTrue(made.out().startsWith("two-devices: 6 of 6 trials, not measured here"), made.out());
    assertTrue(made.out().contains("1 invalid: TOOTH_MOVED"), made.out());
    assertTrue(made.err().contains("6 rows, cells separated by commas"), made.err());
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("<strong>Not measured here</strong>"));
    assertTrue(page.contains("Trials on one tooth are repeats"));
    assertFalse(page.contains("(simulated)"));
    String junit = Files.readString(run.resolve("junit.xml"));
    assertTrue(junit.contains("name=\"measured_here\" value=\"false\""), junit);
    assertFalse(junit.contains("stopwell replay"), junit);
    Said verified = stopwell("verify", run);
    assertEquals(0, verified.code(), verified.out());
    assertTrue(verified.out().contains("not measured here: the stops come from trials.csv"));
    assertTrue(stopwell("verify", run, "--json").out().contains("\"measured_here\" : false"));
    for (String command : List.of("replay", "triage")) {
      Said refused = stopwell(command, run);
      assertEquals(2, refused.code(), command + refused.out());
      assertTrue(refused.err().contains("were not measured here"), command + refused.err());
    }
    assertEquals(made.out().lines().count(), stopwell("report", run).out().lines().count());
    assertEquals(0, stopwell("export", run, "--to", "csv", "--out", dir.resolve("x")).code());
    assertTrue(
        Files.readString(dir.resolve("x/trials.json")).contains("\"measured_here\" : false"));
    assertTrue(stopwell("compare", run, run).out().contains("not measured here"));
    assertEquals(2, stopwell("import", table, "--plan", plan, "--out", run).code());
  }

  /** The command of docs/import.md. */
  @Test
  void theShippedExampleIsImportedAndLabelled() throws Exception {
    Path docs = TestPlans.root().resolve("docs/import");
    Path run = dir.resolve("shipped");
    Said made =
        stopwell(
            "import",
            docs.resolve("trials.csv"),
            "--plan",
            docs.resolve("plan.yaml"),
            "--out",
            run);
    assertEquals(0, made.code(), made.err() + made.out());
    assertTrue(made.out().contains("192 of 192 trials, not measured here"), made.out());
    assertTrue(made.out().contains("in 24 teeth"), made.out());
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("<strong>Not measured here</strong>"));
    assertTrue(page.contains("Results by level of each factor (not measured here)"));
    assertFalse(page.contains("(simulated)"));
    assertTrue(
        Files.readString(run.resolve("junit.xml"))
            .contains("name=\"measured_here\" value=\"false\""));
  }

  @Test
  void theToothCountsNotTheRepeat() throws Exception {
    // 59 rows without a miss show 95 %; on 30 teeth they do not.
    Files.writeString(
        plan,
        """
        import: 1
        name: teeth
        standoff_mm: {s: 0.5}
        claims: {within: {share: 0.95}}
        """);
    assertEquals(0, imported(59, 1).code());
    Said repeats = imported(30, 2);
    assertEquals(5, repeats.code(), repeats.out());
    assertTrue(repeats.out().contains("60 of 60 trials in 30 teeth"), repeats.out());
  }

  private Said imported(int teeth, int each) throws Exception {
    StringBuilder rows =
        new StringBuilder(
            "tooth,device,unit,operator,setting,feed_mm_per_s,resting_mm,deepest_mm,"
                + "turned_until_mm,valid,why,repeat\n");
    for (int t = 1; t <= teeth; t++) {
      for (int r = 1; r <= each; r++) {
        rows.append("T" + t + ",A,u,o,s,0.5,0.5" + t % 10 + ",0.4,0.6,yes,," + r + "\n");
      }
    }
    Files.writeString(table, rows);
    return stopwell("import", table, "--plan", plan, "--out", dir.resolve("n" + teeth));
  }

  @Test
  void aMistakeWritesNothing() throws Exception {
    Files.writeString(table, Files.readString(table).replace("0.52", "52"));
    Path run = dir.resolve("run");
    Said refused = stopwell("import", table, "--plan", plan, "--out", run);
    assertEquals(2, refused.code());
    assertTrue(refused.err().contains("trials.csv:8:22: resting_mm: 52 mm"), refused.err());
    assertFalse(Files.exists(run));
    assertEquals(2, stopwell("import", table).code());
  }

  @Test
  void theReportStatesHowWellADistanceToTheConstrictionIsKnown() throws Exception {
    Path run = dir.resolve("run");
    Path docs = TestPlans.root().resolve("docs/import");
    stopwell(
        "import", docs.resolve("trials.csv"), "--plan", docs.resolve("plan.yaml"), "--out", run);
    String page = Files.readString(run.resolve("report.html")).replace('\u00a0', ' ');
    assertTrue(
        page.contains(
            "U95 of one distance to the constriction: at most 0.059 mm, from 0.03 mm of its place"
                + " (greatest of the table) and 0.05 mm of the distance to the foramen."),
        "0.03 and 0.05 mm, root of the sum of squares");
  }

  @Test
  void aBlindedImportShowsCodesUntilItIsUnblinded() throws Exception {
    Files.writeString(plan, Files.readString(plan).replace("# blind: device", "blind: device"));
    Files.writeString(table, Files.readString(table).replace(",A,A-1", ",dev-x,xx9"));
    Path run = dir.resolve("run");
    Said made = stopwell("import", table, "--plan", plan, "--out", run);
    assertFalse(made.out().contains("dev-x"), made.out());
    assertFalse(Files.readString(run.resolve("report.html")).contains("dev-x"));
    assertFalse(Files.readString(run.resolve("report.html")).contains("xx9"));
    Said opened = stopwell("unblind", run);
    assertEquals(0, opened.code(), opened.err());
    assertTrue(opened.out().contains("= device dev-x"), opened.out());
    assertTrue(Files.readString(run.resolve("report.html")).contains("dev-x/s05"));
  }

  @Test
  void aBlindedScheduleIsFilledInAndUnblindedWithItsKey() throws Exception {
    Files.writeString(
        plan,
        """
        import: 1
        name: square
        standoff_mm: {s: 0.5}
        blind: device
        devices: [dev-x, dev-y]
        operators: [o1, o2]
        teeth: [T1, T2, T3, T4]
        """);
    Path lab = dir.resolve("lab");
    Said made = stopwell("import", "--schedule", lab, "--plan", plan);
    assertEquals(0, made.code(), made.err());
    List<String> rows = Files.readAllLines(lab.resolve("trials.csv"));
    assertEquals(9, rows.size());
    assertTrue(rows.stream().noneMatch(r -> r.contains("dev-")), rows.toString());
    String filled =
        String.join("\n", rows)
            .replaceAll("(?m)^(T.*?),,(o.),s,,,,,,,", "$1,u1,$2,s,0.5,0.52,0.48,0.55,yes,,");
    Files.writeString(table, filled.replaceFirst("0.52,0.48", "0.61,0.48") + "\n");
    Path run = dir.resolve("run");
    Path key = lab.resolve("blinding.key");
    Said read = stopwell("import", table, "--plan", plan, "--out", run, "--blind-key", key);
    assertEquals(0, read.code(), read.err() + read.out());
    assertFalse(read.out().contains("dev-"), read.out());
    assertEquals(0, stopwell("verify", run).code());
    Said opened = stopwell("unblind", run);
    assertTrue(opened.out().contains("= device dev-y"), opened.out() + opened.err());
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("dev-x less dev-y"), "devices in pairs, by their names");
    assertEquals(Files.readString(key), Files.readString(run.resolve("blinding.key")));
    assertEquals(2, stopwell("import", "--schedule", lab, "--plan", plan).code());
    Files.writeString(plan, Files.readString(plan).replace(", T4", ""));
    Said odd = stopwell("import", "--schedule", dir.resolve("b"), "--plan", plan);
    assertEquals(2, odd.code());
    assertTrue(odd.err().contains("teeth: 3 teeth, must be a multiple of 4"), odd.err());
  }

  @Test
  void aFrozenPlanIsNamedAndAChangeToo() throws Exception {
    assertEquals(0, stopwell("key", dir.resolve("lab.key")).code());
    Said frozen = stopwell("freeze", plan, "--key", dir.resolve("lab.key"));
    assertEquals(0, frozen.code(), frozen.err());
    assertTrue(Files.exists(dir.resolve("plan.frozen.sig")));
    assertEquals(0, stopwell("check", plan).code());
    assertTrue(
        stopwell("import", table, "--plan", plan, "--out", dir.resolve("a"))
            .out()
            .contains(", no deviation."));
    Files.writeString(
        plan, Files.readString(plan).replace("tolerance_mm: 0.5", "tolerance_mm: 0.9"));
    Said changed = stopwell("import", table, "--plan", plan, "--out", dir.resolve("b"));
    assertTrue(changed.out().contains("deviations: 1"), changed.out());
    assertTrue(changed.out().contains("Run 2 under this frozen plan"), changed.out());
    Said signed = stopwell("sign", dir.resolve("a"), "--key", dir.resolve("lab.key"));
    assertEquals(0, signed.code(), signed.err());
    assertEquals(
        0, stopwell("verify", dir.resolve("a"), "--key", dir.resolve("lab.key.pub")).code());
  }

  @Test
  void theGuardBandOfAStatedUncertaintyDecidesNothing() throws Exception {
    // 0.97 mm is within 0.5 ± 0.5 mm, but by less than the stated 0.05 mm.
    Files.writeString(table, Files.readString(table).replace("0.52,0.48", "0.97,0.48"));
    Path run = dir.resolve("run");
    stopwell("import", table, "--plan", plan, "--out", run);
    try (RunFile file = RunFile.load(run)) {
      TrialResult first = file.results().get(0);
      assertEquals("UNDECIDED GUARD_BAND", first.verdict() + " " + first.code());
      assertEquals("T01", first.device().tooth());
      assertEquals(500, first.device().feedMicronsPerSecond());
      assertTrue(file.header().origin().imported());
    }
  }

  private static Said stopwell(Object... words) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code =
        Main.run(
            Arrays.stream(words).map(String::valueOf).toArray(String[]::new),
            new PrintWriter(out),
            new PrintWriter(err));
    return new Said(code, out.toString(), err.toString());
  }
}
