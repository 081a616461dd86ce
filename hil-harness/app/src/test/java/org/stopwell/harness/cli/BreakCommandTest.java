package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import tools.jackson.jr.ob.JSON;

/** The smallest disturbance, from the command line. */
class BreakCommandTest {
  private static final String PLAN =
      """
      plan: 1
      name: short-way
      settings: settings.yaml
      stage: length
      seed: 3
      trials: 1
      time_limit_s: 60
      scene:
        canal: {kind: resistors, length_mm: 8, body_ohm: 6500}
        hand: {feed_mm_per_s: 1, passive_mm: 6, tremor_um: 0}
      """;

  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @TempDir Path dir;
  private Path plan = Path.of("");

  @BeforeEach
  void writePlan() throws Exception {
    plan = Files.writeString(dir.resolve("plan.yaml"), PLAN);
    Files.copy(
        TestPlans.root().resolve("docs/settings/resistance.yaml"), dir.resolve("settings.yaml"));
  }

  /** What is found is a plan; run repeats it, on the emulated bench too. */
  @Test
  void aFindingIsAPlanThatEveryBenchRepeats() throws Exception {
    Path found = dir.resolve("found");
    int code = breaks("--only", "hand,faults.frozen_signal", "--json", "--out", found.toString());

    assertEquals(1, code, err.toString());
    Map<String, Object> json = JSON.std.mapFrom(out.toString());
    assertEquals(true, json.get("found"));
    assertTrue(json.get("size") instanceof Double size && size > 0 && size < 2, out.toString());
    assertTrue(json.get("disturbance") instanceof List<?> parts && !parts.isEmpty());
    String written = Files.readString(found.resolve("plan.yaml"));
    assertTrue(written.startsWith("# Over-travel of plan short-way"), written);
    TrialResult virtual = rerun(found.resolve("plan.yaml"), "virtual");
    assertEquals(json.get("remaining_mm"), virtual.deepestMicrons() / 1e3);
    assertTrue(virtual.deepestMicrons() < 0);
    assertEquals(virtual.stateHash(), rerun(found.resolve("plan.yaml"), "emulated").stateHash());
    theSameCommandGivesTheSameAnswerAndAnotherOneIsRefused(found, written);
  }

  private void theSameCommandGivesTheSameAnswerAndAnotherOneIsRefused(Path found, String plan)
      throws Exception {
    String before = out.toString();
    String[] again = {"--only", "hand,faults.frozen_signal", "--json", "--out", found.toString()};
    out.getBuffer().setLength(0);
    assertEquals(1, breaks(again), err.toString());
    assertTrue(before.startsWith(out.toString()), out.toString());
    assertEquals(plan, Files.readString(found.resolve("plan.yaml")));
    assertEquals(2, breaks("--only", "hand", "--out", found.toString()));
    assertTrue(err.toString().contains("break.state: was made by another plan"), err.toString());
  }

  private TrialResult rerun(Path written, String bench) throws Exception {
    Path run = dir.resolve("run-" + bench);
    assertEquals(
        1,
        stopwell("run", written.toString(), "--bench", bench, "--out", run.toString()),
        err.toString());
    try (RunFile file = RunFile.load(run)) {
      return file.results().get(0);
    }
  }

  @Test
  void aSearchThatFindsNothingSaysHowMuchItTriedAndThatThisProvesNothing() {
    int code =
        breaks(
            "--only",
            "hand",
            "--limit",
            "hand.feed_mm_per_s=1.1",
            "--limit",
            "hand.push_through_mm=0",
            "--limit",
            "hand.peck_stroke_mm=0",
            "--limit",
            "hand.tremor_um=5",
            "--out",
            dir.resolve("none").toString());

    assertEquals(0, code, out.toString() + err);
    assertTrue(out.toString().contains("This proves nothing"), out.toString());
    assertTrue(out.toString().contains("3 random starts, 1 canals; hand."), out.toString());
    assertFalse(Files.exists(dir.resolve("none/plan.yaml")));
  }

  @Test
  void badInputIsNamedBeforeAnythingRuns() throws Exception {
    assertEquals(2, breaks("--only", "hnd"));
    assertEquals(2, breaks("--limit", "hand.feed_mm_per_s=25"));
    assertEquals(2, breaks("--limit", "hand.feed=1"));
    assertEquals(2, breaks("--limit", "faults.jump=often"));
    assertEquals(2, stopwell("break", plan.toString(), "--starts", "0"));
    assertEquals(2, breaks("--condition", "wet"));
    Path file = Files.writeString(dir.resolve("file"), "");
    assertEquals(2, breaks("--out", file + "/x"));
    Path taken = Files.createDirectories(dir.resolve("taken"));
    Files.writeString(taken.resolve("plan.yaml"), "");
    assertEquals(2, breaks("--out", taken.toString()));

    List<String> lines = err.toString().lines().toList();
    String[] wanted = {
      "--only hnd is none of hand, noise, faults, faults.old_readings,",
      "--limit hand.feed_mm_per_s: 25 is outside 0.01 to 20 mm/s",
      "--limit hand.feed is no limit; known: hand.feed_mm_per_s,",
      "--limit faults.jump: \"often\" is not a number",
      "--starts 0 is outside 1 to 1000000",
      "--condition wet: not one of",
      "cannot be made",
      "holds a plan that no search"
    };
    assertEquals(wanted.length, lines.size(), err.toString());
    for (int i = 0; i < wanted.length; i++) {
      assertTrue(lines.get(i).contains(wanted[i]), lines.get(i));
    }
    assertEquals("", out.toString());
  }

  private int breaks(String... more) {
    return stopwell(
        Stream.concat(
                Stream.of(
                    "break", plan.toString(), "--canals", "1", "--starts", "3", "--steps", "15"),
                Stream.of(more))
            .toArray(String[]::new));
  }

  private int stopwell(String... args) {
    return Main.run(args, new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
