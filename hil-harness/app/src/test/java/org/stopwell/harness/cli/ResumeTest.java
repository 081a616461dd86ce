package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.CutRun;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.standing.Ledger;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;

/** A campaign that was cut short comes to the very end that it would have come to. */
class ResumeTest {
  private static final int TRIALS = 10;

  @TempDir Path dir;
  private Path whole = Path.of("");
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @BeforeEach
  void runToTheEnd() throws Exception {
    Files.writeString(dir.resolve("plan.yaml"), TestPlans.quick(TRIALS / 2).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
    whole = dir.resolve("whole");
    assertEquals(0, stopwell("run", dir.resolve("plan.yaml"), "--out", whole));
  }

  @Test
  void whereverItWasCutTheEndIsTheSame() throws Exception {
    for (int cut = 0; cut <= TRIALS; cut++) {
      Path again = cut(cut);
      assertEquals(0, stopwell("resume", again), err.toString());
      assertEquals(results(whole), results(again), "cut after " + cut);
      assertEquals(traces(whole), traces(again), "cut after " + cut);
      assertEquals(junit(whole), junit(again), "cut after " + cut);
      assertEquals(figures(whole), figures(again), "cut after " + cut);
    }
  }

  /** A kill between the last trial and the report leaves none, or the one of yesterday. */
  @Test
  void aFinishedRunGetsItsReportAndIsNotRunAgain() throws Exception {
    String report = Files.readString(whole.resolve("report.html"));
    String junit = Files.readString(whole.resolve("junit.xml"));
    byte[] record = Files.readAllBytes(whole.resolve("run.db"));
    Files.delete(whole.resolve("junit.xml"));
    Files.delete(whole.resolve("run.db.sha256"));
    Files.writeString(whole.resolve("report.html"), "of yesterday");
    out.getBuffer().setLength(0);
    assertEquals(0, stopwell("resume", whole), err.toString());
    assertTrue(out.toString().contains("PASS: "), out.toString());
    assertTrue(err.toString().contains("is finished; only the report is made"), err.toString());
    assertEquals(report, Files.readString(whole.resolve("report.html")));
    assertEquals(junit, Files.readString(whole.resolve("junit.xml")));
    assertArrayEquals(record, Files.readAllBytes(whole.resolve("run.db")));
    assertEquals(0, stopwell("verify", whole), out.toString());
  }

  @Test
  void theVerdictOfAFinishedRunIsTheExitCode() throws Exception {
    Path plan = dir.resolve("failing.yaml");
    Files.writeString(
        plan, Files.readString(dir.resolve("plan.yaml")).replace("      expect: refuse\n", ""));
    Path failed = dir.resolve("failed");
    assertEquals(1, stopwell("run", plan, "--out", failed), err.toString());
    Files.delete(failed.resolve("report.html"));
    assertEquals(1, stopwell("resume", failed), err.toString());
    assertTrue(Files.exists(failed.resolve("report.html")));
  }

  @Test
  void whatSomebodyElseHoldsIsReadButNotWritten() throws Exception {
    Path again = cut(3);
    try (RunFile live = RunFile.open(again)) {
      Path key = dir.resolve("key");
      assertEquals(0, stopwell("key", key), err.toString());
      for (String command : List.of("resume", "report", "unblind", "sign")) {
        assertEquals(
            2,
            command.equals("sign")
                ? stopwell(command, again, "--key", key)
                : stopwell(command, again),
            command);
        assertTrue(
            err.toString()
                .contains(again + ": in use by process " + ProcessHandle.current().pid() + " on "),
            command + ": " + err);
        err.getBuffer().setLength(0);
      }
      assertEquals(2, stopwell("run", dir.resolve("plan.yaml"), "--out", again));
      assertEquals(0, stopwell("verify", again), err.toString());
      assertEquals(3, live.results().size());
    }
    assertEquals(5, stopwell("report", again), err.toString());
    assertEquals(0, stopwell("resume", again), err.toString());
  }

  /** A run that is refused because its directory is in use is no run under the frozen plan. */
  @Test
  void aRefusedRunIsNotInTheLedger() throws Exception {
    Path plan = dir.resolve("plan.yaml");
    Path first = dir.resolve("frozen-runs/first");
    assertEquals(0, stopwell("run", plan, "--freeze", "--out", first), err.toString());
    List<String> before = ledger();
    Path held = dir.resolve("frozen-runs/held");
    try (RunFile from = RunFile.load(whole);
        RunFile live = RunFile.create(held, from.header())) {
      Files.delete(held.resolve("run.db")); // so that only the lock refuses
      assertEquals(2, stopwell("run", plan, "--out", held), err.toString());
      assertEquals(10, live.header().conditions().stream().mapToInt(c -> c.plannedTrials()).sum());
    }
    assertEquals(before, ledger());
  }

  private List<String> ledger() throws IOException {
    return Files.readAllLines(dir.resolve("frozen-runs").resolve(Ledger.NAME));
  }

  @Test
  void aRunFileWithoutATrialProvesNothing() throws Exception {
    out.getBuffer().setLength(0);
    assertEquals(5, stopwell("verify", cut(0)));
    assertTrue(
        out.toString().startsWith("UNDECIDED: the run file holds no trial\n"), out.toString());
  }

  /** A link to the device that is always full, where the report is written first. */
  @Test
  void aReportThatFindsNoSpaceSaysWhatIsSafeAndHowToContinue() throws Exception {
    Files.createSymbolicLink(whole.resolve("report.html.new"), Path.of("/dev/full"));
    for (String command : List.of("report", "resume")) {
      err.getBuffer().setLength(0);
      assertEquals(3, stopwell(command, whole), command);
      assertTrue(
          err.toString()
              .endsWith(
                  whole.resolve("report.html")
                      + ": the disk is full; every recorded trial is safe. Free some space, then"
                      + " continue with: stopwell resume "
                      + whole
                      + "\n"),
          err.toString());
    }
    Files.delete(whole.resolve("report.html.new"));
    assertEquals(0, stopwell("resume", whole), err.toString());
  }

  @Test
  void anotherBuildMayNotGoOn() throws Exception {
    Path again = CutRun.after(whole, 3, "0.0.1 core 000000000000");
    assertEquals(2, stopwell("resume", again));
    assertTrue(
        err.toString().contains("was begun with build 0.0.1 core 000000000000"), err.toString());
    assertEquals(3, results(again).size());
  }

  @Test
  void whatIsNoRunCannotBeResumed() {
    assertEquals(2, stopwell("resume", dir));
    assertTrue(err.toString().contains("there is no run"), err.toString());
  }

  private Path cut(int after) throws IOException {
    return CutRun.after(whole, after, Build.identity());
  }

  /** Without the fingerprint, which covers the note of the resumption and the date of the end. */
  private static String junit(Path run) throws IOException {
    String text = Files.readString(run.resolve("junit.xml"));
    String without = text.replaceAll("<property name=\"fingerprint\" value=\"[0-9a-f]{64}\"/>", "");
    assertNotEquals(text, without, "a fingerprint");
    return without;
  }

  private static List<TrialResult> results(Path run) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      return file.results();
    }
  }

  private static List<Integer> traces(Path run) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      return new ArrayList<>(file.tracedTrials());
    }
  }

  /** Every picture of the report. */
  private static List<String> figures(Path run) throws IOException {
    String page = Files.readString(run.resolve("report.html"));
    List<String> figures = new ArrayList<>();
    for (int at = page.indexOf("<svg"); at >= 0; at = page.indexOf("<svg", at + 1)) {
      figures.add(page.substring(at, page.indexOf("</svg>", at)));
    }
    assertTrue(figures.size() >= 3, figures.size() + " pictures");
    return figures;
  }

  private int stopwell(Object... args) {
    String[] words = new String[args.length];
    for (int i = 0; i < words.length; i++) {
      words[i] = args[i].toString();
    }
    return Main.run(words, new PrintWriter(out), new PrintWriter(err));
  }
}
