package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.cli.Main;
import org.stopwell.harness.fault.Demonstration.Came;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.CutRun;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.record.Verification;
import org.stopwell.harness.report.ClaimWords;
import org.stopwell.harness.report.ReportPage;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Trouble with power, disk, clock, processes and numbers: what becomes of the record. */
final class RecordDemonstrations {
  private static final int TRIALS = 12;
  private static final String KEPT = "kept";
  private static final String REFUSED = "refused";

  private RecordDemonstrations() {}

  /** Of the log that holds twelve trials, all but the last byte reach the disk. */
  static Came aPowerCutWhileWriting(Path directory) throws Exception {
    Path whole = directory.resolve("whole");
    Path cut = Files.createDirectory(directory.resolve("cut"));
    try (RunFile run = RunFile.create(whole, SampleRun.header(TRIALS, 0))) {
      append(run, 0, TRIALS);
      byte[] log = Files.readAllBytes(whole.resolve("run.db-wal"));
      Files.copy(whole.resolve(RunFile.NAME), cut.resolve(RunFile.NAME));
      Files.write(cut.resolve("run.db-wal"), Arrays.copyOf(log, log.length - 1));
      run.finish("then");
    }
    int kept;
    try (RunFile run = RunFile.open(cut)) {
      kept = run.results().size();
      append(run, kept, TRIALS);
      run.finish("then");
    }
    assertTrue(Verification.of(cut).isWhole());
    assertEquals(page(whole), page(cut));
    return new Came(KEPT, "", kept + " of " + TRIALS + " kept, the torn one run again");
  }

  /** No file of the program may grow beyond 3 MiB: the disk, as far as it can tell, is full. */
  static Came aFullDisk(Path directory) throws Exception {
    Program program = new Program(directory, 5_000);
    Path said = directory.resolve("said.txt");
    Process process =
        new ProcessBuilder(
                "bash",
                "-c",
                "ulimit -f 3072; exec \"$0\" -XX:TieredStopAtLevel=1 -cp \"$1\" \"$2\" run \"$3\" --out"
                    + " \"$4\" --jobs 1",
                Path.of(property("java.home"), "bin", "java").toString(),
                property("java.class.path"),
                Main.class.getName(),
                "" + program.plan,
                "" + program.run)
            .redirectErrorStream(true)
            .redirectOutput(said.toFile())
            .start();
    try {
      assertTrue(process.waitFor(200, TimeUnit.SECONDS), "still running");
    } finally {
      process.destroyForcibly();
    }
    List<TrialResult> kept = program.results();
    assertTrue(kept.size() >= 3 && kept.size() < 10_000, kept.size() + " kept");
    for (int i = 0; i < kept.size(); i++) {
      assertEquals(i, kept.get(i).index());
      assertEquals(Verdict.PASS, kept.get(i).verdict(), kept.get(i).message());
    }
    String words = Files.readString(said);
    assertTrue(words.contains("run.db: ") && !words.contains("at org.stopwell"), words);
    return new Came(
        Program.verdict(process.exitValue()), "run.db", "every finished trial is on record");
  }

  /** The clock of the wall goes back by decades between two trials and at the end. */
  static Came aWallClockThatJumps(Path directory) throws Exception {
    Path steady = directory.resolve("steady");
    Path jumping = directory.resolve("jumping");
    for (Path into : List.of(steady, jumping)) {
      boolean jumps = into.equals(jumping);
      try (RunFile run = RunFile.create(into, SampleRun.header(TRIALS, 0))) {
        append(run, 0, TRIALS / 2);
        run.note("resumed", jumps ? "1970-01-01T00:00:00Z" : "2026-01-02T03:04:06Z");
        append(run, TRIALS / 2, TRIALS);
        run.finish(jumps ? "1969-12-31T23:59:59Z" : "2026-01-02T03:04:07Z");
      }
    }
    assertTrue(Verification.of(jumping).isWhole());
    assertEquals(Program.results(steady), Program.results(jumping));
    assertEquals(summary(steady), summary(jumping));
    return new Came(KEPT, "", "same order, same result");
  }

  /** Killed after every number of trials that there is; what a kill leaves is gone on with. */
  static Came aKilledProgram(Path directory) throws Exception {
    Program program = new Program(directory);
    assertEquals(0, program.run());
    List<TrialResult> whole = program.results();
    int code = 0;
    for (int after = 0; after <= whole.size(); after++) {
      Path cut = CutRun.after(program.run, after, build(program.run));
      code = Math.max(code, program.call("resume", "" + cut));
      assertEquals(whole, Program.results(cut), "killed after " + after);
    }
    return new Came(
        Program.verdict(code), "", "killed after each of 0 to " + whole.size() + ", each once");
  }

  static Came anotherBuild(Path directory) throws Exception {
    Program program = new Program(directory);
    assertEquals(0, program.run());
    Path cut = CutRun.after(program.run, 2, "0.0.1 core 000000000000");
    int code = program.call("resume", "" + cut);
    assertTrue(program.said().contains("was begun with build 0.0.1"), program.said());
    assertEquals(2, Program.results(cut).size());
    return new Came(Program.verdict(code), "another build", "nothing was added");
  }

  static Came aResultThatArrivesTwice(Path directory) throws Exception {
    try (RunFile run = RunFile.create(directory, SampleRun.header(TRIALS, 0))) {
      append(run, 0, 2);
      RunFileException e =
          assertThrows(RunFileException.class, () -> run.append(SampleRun.stop(1, 99), null));
      assertTrue(e.getMessage().contains("append-only"), e.getMessage());
      assertEquals(List.of(trial(0), trial(1)), run.results());
    }
    return new Came(REFUSED, "append-only", "2 of 3 kept");
  }

  static Came aNewerLayout(Path directory) throws Exception {
    RunFile.create(directory, SampleRun.header(1, 0)).close();
    try (Connection c =
            DriverManager.getConnection("jdbc:sqlite:" + directory.resolve(RunFile.NAME));
        Statement s = c.createStatement()) {
      s.execute("PRAGMA user_version = 99");
    }
    RunFileException e =
        assertThrows(RunFileException.class, () -> RunFile.load(directory).close());
    assertTrue(e.getMessage().contains("99") && e.getMessage().contains("up to"), e.getMessage());
    return new Came(REFUSED, e.kind().name(), "");
  }

  /** A hundred thousand trials, counted in two orders. */
  static Came veryManyTrials(Path directory) {
    int many = 100_000;
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < many; i++) {
      trials.add(trial(i));
    }
    CampaignSummary inOrder = half(many, trials, within());
    Collections.shuffle(trials, new Random(7));
    assertEquals(inOrder, half(many, trials, within()));
    return new Came(
        inOrder.verdict().name(), "", "100,000 trials in two orders, the same to a bit");
  }

  static Came tooFewOrEqualTrials(Path directory) {
    Claim bias = new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of());
    String verdict = "";
    for (List<TrialResult> trials :
        List.of(List.<TrialResult>of(), List.of(trial(0)), equal(20), List.of(spoiled(0)))) {
      CampaignSummary summary = half(Math.max(1, trials.size()), trials, bias);
      String meaning = ClaimWords.meaning(summary.claims().get(0));
      assertTrue(meaning.contains("not estimable"), trials.size() + " trials: " + meaning);
      verdict += " " + summary.verdict();
    }
    assertEquals(" UNDECIDED UNDECIDED UNDECIDED RIG_FAULT", verdict);
    return new Came(
        "UNDECIDED", "not estimable", "none, one, twenty equal; all spoiled: RIG_FAULT");
  }

  /** Nineteen good stops and one far past the foramen, which is no outlier to be dropped. */
  static Came aRealOverTravel(Path directory) {
    List<TrialResult> trials = new ArrayList<>(equal(19));
    trials.add(SampleRun.stop(19, -2_000));
    CampaignSummary summary =
        half(20, trials, new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.001, 0.95, List.of()));
    assertEquals(20, summary.analysed());
    return new Came(
        summary.verdict().name(), "over-travel", "20 of 20 analysed, 1 past the foramen");
  }

  /** A reader holds the run file open and reads while the campaign writes. */
  static Came aSlowWatcher(Path directory) throws Exception {
    try (RunFile run = RunFile.create(directory, SampleRun.header(TRIALS, 0))) {
      append(run, 0, 1);
      try (RunFile watcher = RunFile.load(directory)) {
        for (int i = 1; i < TRIALS; i++) {
          append(run, i, i + 1);
          assertEquals(i + 1, run.results().size(), "the campaign does not wait");
          if (i % 5 == 0) {
            assertTrue(watcher.results().size() <= i + 1);
          }
        }
      }
    }
    assertEquals(TRIALS, Program.results(directory).size());
    return new Came(KEPT, "", TRIALS + " of " + TRIALS + " written past an open reader");
  }

  private static void append(RunFile run, int from, int to) throws IOException {
    for (int i = from; i < to; i++) {
      run.append(trial(i), new byte[] {1, 2, 3});
    }
  }

  private static TrialResult trial(int i) {
    return SampleRun.stop(i, i * 13 % 400 - 200);
  }

  private static TrialResult spoiled(int i) {
    return SampleRun.rigFault(i, "PORT_GONE");
  }

  private static List<TrialResult> equal(int count) {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      trials.add(SampleRun.stop(i, 20));
    }
    return trials;
  }

  private static Claim within() {
    return new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());
  }

  private static CampaignSummary half(int planned, List<TrialResult> trials, Claim claim) {
    return CampaignSummary.of(
        List.of(new Condition("half-wet", Expectation.STOP, planned, 500, 500)),
        List.of(claim),
        trials);
  }

  private static CampaignSummary summary(Path run) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      return CampaignSummary.of(file.header().conditions(), file.header().claims(), file.results());
    }
  }

  private static String page(Path run) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      return ReportPage.html(file.header(), file.results(), Map.of());
    }
  }

  private static String build(Path run) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      return file.header().build();
    }
  }

  private static String property(String name) {
    return Objects.requireNonNull(System.getProperty(name));
  }
}
