package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.logging.Handler;
import java.util.logging.Level;
import java.util.logging.LogRecord;
import java.util.logging.Logger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.report.RunSummary;
import org.stopwell.harness.trial.Verdict;

/** plan → trial → run file → evidence → report: a plan is parsed once, a run is weighed once. */
class DataFlowTest {
  private static final String PLAN =
      """
      plan: 1
      name: flow
      settings: length.yaml
      stage: length
      trials: 1
      scene: {hand: {passive_mm: 13}}
      factors:
        canal: {a: , b: }
        told: {as-written: , slower: {settings: {stages: {length: {speed_rpm: 250}}}}}
      analysis: {groups: [canal]}
      """;

  private final List<String> parsed = new CopyOnWriteArrayList<>();
  private final Logger log = Logger.getLogger("org.stopwell.harness.plan.YamlReader");
  private final Handler handler =
      new Handler() {
        @Override
        public void publish(LogRecord record) {
          parsed.add(record.getMessage());
        }

        @Override
        public void flush() {}

        @Override
        public void close() {}
      };

  private final Path directory;

  DataFlowTest(@TempDir Path directory) {
    this.directory = directory;
  }

  @BeforeEach
  void listen() {
    log.setLevel(Level.ALL);
    handler.setLevel(Level.ALL);
    log.addHandler(handler);
  }

  @AfterEach
  void stopListening() {
    log.removeHandler(handler);
    log.setLevel(null);
  }

  @Test
  void aRunParsesThePlanAndTheSettingsOnceAndItsReadersNever() throws Exception {
    Path plan = directory.resolve("flow.yaml");
    Path settings = directory.resolve("length.yaml");
    Files.writeString(plan, PLAN);
    Files.copy(Path.of("../../docs/settings/reference-canal.yaml"), settings);
    String run = directory.resolve("run").toString();
    assertEquals(0, stopwell("run", plan.toString(), "--out", run, "--freeze"));
    assertEquals(List.of(plan.toString(), settings.toString()), parsed);
    parsed.clear();
    assertEquals(0, stopwell("report", run));
    assertEquals(0, stopwell("compare", run, run));
    assertEquals(0, stopwell("verify", run));
    assertEquals(0, stopwell("export", run, "--to", "csv"));
    assertEquals(List.of(), parsed, "the header holds the checked plan");
    assertEquals(0, stopwell("replay", run));
    assertEquals(
        List.of("the recorded plan", "the recorded settings"),
        parsed,
        "to run trials again takes the whole plan, parsed once");
  }

  @Test
  void reportJUnitFileAndExitCodeSayWhatTheOneEvidenceSays() throws Exception {
    Path plan = directory.resolve("flow.yaml");
    Files.writeString(plan, PLAN);
    Files.copy(
        Path.of("../../docs/settings/reference-canal.yaml"), directory.resolve("length.yaml"));
    Path run = directory.resolve("run");
    assertEquals(0, stopwell("run", plan.toString(), "--out", run.toString()));
    try (RunFile file = RunFile.load(run)) {
      Evidence weighed = Evidence.of(file, run);
      Evidence other =
          new Evidence(
              weighed.header(),
              weighed.trials().stream()
                  .map(t -> t.with(Verdict.FAIL, "MARKED", "Marked by the test."))
                  .toList(),
              weighed.sentinels(),
              weighed.excluded(),
              weighed.decision(),
              weighed.path(),
              weighed.repeats(),
              weighed.summary().withoutStatistics());
      RunReport.write(file, other, run);
      String page = Files.readString(run.resolve(RunReport.PAGE));
      assertTrue(page.contains("flow: UNDECIDED"), "the report takes the evidence it is given");
      assertTrue(page.contains("Marked by the test."));
      String junit = Files.readString(run.resolve(RunReport.JUNIT));
      assertTrue(junit.contains("failures=\"4\""), "so does the JUnit file");
      StringBuilder screen = new StringBuilder();
      new RunSummary(other, run).print(line -> screen.append(line).append('\n'));
      assertTrue(
          screen.toString().contains("UNDECIDED: The statistics that the plan asks for"),
          screen.toString());
    }
  }

  private static int stopwell(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code = Main.run(args, new PrintWriter(out), new PrintWriter(err));
    assertTrue(code == 0, () -> out + "\n" + err);
    return code;
  }
}
