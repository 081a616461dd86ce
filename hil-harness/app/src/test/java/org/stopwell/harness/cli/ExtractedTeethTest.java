package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.MethodOrderer.OrderAnnotation;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.harness.trial.TestPlans;

/** From a survey in extracted teeth to a verdict in others. Emulated boards play the teeth. */
@TestMethodOrder(OrderAnnotation.class)
class ExtractedTeethTest {
  @TempDir static Path directory;

  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  private int stopwell(String... args) {
    return Main.run(args, new PrintWriter(out, true), new PrintWriter(err, true));
  }

  private static Path plan(String name, String settings, String expect, String tooth, int teeth)
      throws Exception {
    StringBuilder text =
        new StringBuilder(
            """
            plan: 1
            name: %s
            settings: %s
            stage: length
            trials: %d
            time_limit_s: 30
            expect: %s
            scene:
              canal: {kind: tooth}
              fluid: {irrigant: saline_0.9, fill: half_wet}
              hand: {motion: stage, feed_mm_per_s: 2}
            teeth:
            """
                .formatted(name, settings, teeth, expect));
    for (int i = 1; i <= teeth; i++) {
      text.append(
          String.format(
              Locale.ROOT,
              "  - {name: %s%d, length_mm: %.2f, uncertainty_mm: 0.1, medium: alginate}%n",
              tooth,
              i,
              5 + 0.13 * i));
    }
    return Files.writeString(directory.resolve(name + ".yaml"), text);
  }

  @Test
  @Order(1)
  void theVirtualBenchHasNoTeeth() throws Exception {
    String survey =
        plan(
                "survey",
                TestPlans.root().resolve("docs/settings/length.yaml").toString(),
                "survey",
                "S",
                10)
            .toString();
    assertEquals(2, stopwell("run", survey, "--out", directory.resolve("none").toString()));
    assertTrue(
        err.toString()
            .contains(
                "teeth: the plan reads extracted teeth, but the virtual bench states reads_tooth 0;"
                    + " use a canal board with a tooth input, or --bench emulated for a rehearsal"),
        err::toString);
  }

  @Test
  @Order(2)
  void aSurveyRecordsTheWholeWayAndTeaches() throws Exception {
    String run = directory.resolve("run").toString();
    String survey = directory.resolve("survey.yaml").toString();
    assertEquals(
        0, stopwell("run", survey, "--bench", "emulated", "--out", run), () -> out + "" + err);
    assertTrue(out.toString().contains("simulated"), out::toString);
    assertEquals(0, stopwell("export", run, "--to", "traces"), err::toString);
    Path traces = directory.resolve("run/traces");
    List<String> manifest = Files.readAllLines(traces.resolve("manifest.csv"));
    assertEquals("file,tooth,fluid,length_u_mm,simulated", manifest.get(0));
    assertEquals("S1_00001.csv,S1,as planned,0.050,1", manifest.get(1));
    List<String> rows = Files.readAllLines(traces.resolve("S1_00001.csv"));
    assertTrue(truth(rows.get(1)) > 5, rows.get(1));
    assertEquals(-0.6, truth(rows.get(rows.size() - 1)), 0.1);
    assertEquals(10, TraceDirectory.read(traces).approaches().size());
    assertEquals(
        0,
        stopwell("learn", traces.toString(), "--out", directory.resolve("my.weights").toString()),
        err::toString);
  }

  @Test
  @Order(4)
  void anUnansweredQuestionEndsTheRunAndResumeAsksAgain() throws Exception {
    String survey = plan("asked", "length.yaml", "survey", "Q", 2).toString();
    Files.copy(
        TestPlans.root().resolve("docs/settings/length.yaml"), directory.resolve("length.yaml"));
    String run = directory.resolve("asked").toString();
    String records = directory.resolve("records").toString();
    assertEquals(
        5,
        answering(
            "-\n".repeat(2) + "y\n".repeat(6),
            "run",
            survey,
            "--bench",
            "emulated",
            "--ask",
            "--out",
            run,
            "--records",
            records),
        err::toString);
    assertTrue(err.toString().contains("1 of 2 trials are kept"), err::toString);
    assertEquals(
        0,
        answering("y\n".repeat(6), "resume", run, "--ask", "--records", records),
        () -> out + "" + err);
    assertTrue(err.toString().contains("Mount tooth Q2 in alginate"), err::toString);
  }

  private int answering(String lines, String... args) {
    InputStream before = System.in;
    try {
      System.setIn(new ByteArrayInputStream(lines.getBytes(StandardCharsets.UTF_8)));
      return stopwell(args);
    } finally {
      System.setIn(before);
    }
  }

  private static double truth(String row) {
    return Double.parseDouble(row.substring(row.lastIndexOf(',') + 1));
  }

  @Test
  @Order(3)
  void otherTeethAreJudgedAndATaughtOneIsRefused() throws Exception {
    Files.writeString(
        directory.resolve("taught.yaml"),
        Files.readString(TestPlans.root().resolve("docs/settings/length.yaml"))
            .replace("policy: approach", "policy: approach\n  weights: my.weights"));
    String other = plan("accuracy", "taught.yaml", "stop_or_refuse", "A", 3).toString();
    String run = directory.resolve("judged").toString();
    int code = stopwell("run", other, "--bench", "emulated", "--out", run, "--json");
    assertTrue(code == 0 || code == 1, () -> out + "" + err);
    assertTrue(out.toString().contains("simulated"), out::toString);
    Path taught = plan("own", "taught.yaml", "stop_or_refuse", "S", 2);
    for (String[] command : new String[][] {{"check"}, {"run"}}) {
      StringWriter why = new StringWriter();
      assertEquals(
          2,
          Main.run(
              new String[] {command[0], taught.toString()},
              new PrintWriter(new StringWriter()),
              new PrintWriter(why, true)));
      assertTrue(
          why.toString()
              .contains(
                  "own.yaml:13: teeth: S1: the weights file my.weights was taught with this tooth"),
          why::toString);
    }
  }
}
