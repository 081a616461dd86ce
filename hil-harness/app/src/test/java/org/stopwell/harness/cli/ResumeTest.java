package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
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
      assertEquals(
          Files.readString(whole.resolve("junit.xml")),
          Files.readString(again.resolve("junit.xml")));
      assertEquals(figures(whole), figures(again), "cut after " + cut);
    }
  }

  @Test
  void aFinishedRunIsNotRunAgain() {
    assertEquals(2, stopwell("resume", whole));
    assertTrue(err.toString().contains("the run is finished"), err.toString());
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
