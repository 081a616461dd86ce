package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import tools.jackson.jr.ob.JSON;

/** {@code tune}: settings that a plan can use, the price, and the same answer with any jobs. */
class TuneCommandTest {
  @TempDir Path dir;

  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  private int run(Object... args) {
    out.getBuffer().setLength(0);
    err.getBuffer().setLength(0);
    return Main.run(
        Stream.of(args).map(String::valueOf).toArray(String[]::new),
        new PrintWriter(out, true),
        new PrintWriter(err, true));
  }

  private Path space(String target) throws Exception {
    Path file = dir.resolve("space.yaml");
    Files.writeString(
        file,
        """
        space: 1
        name: small
        plan: %s
        condition: half-wet/quick
        outcome: over_travel
        design: latin-hypercube
        trials: 100
        repeats: 10
        factors:
          scene.canal.tissue_ohm_m: {from: 1.5, to: 6.2, log: true}
          settings.stages.length.reaction_ms: {from: 0, to: 400}
        target:
          %s
          minimise: stop_error_spread
          fresh_canals: 20
        """
            .formatted(
                TestPlans.root().resolve("docs/plans/reference-canal.yaml").toAbsolutePath(),
                target));
    return file;
  }

  @Test
  void theSettingsFileIsCompleteAndTheAnswerDoesNotDependOnJobs() throws Exception {
    Path space = space("over_travel: {at_most: 0.5}");
    Path one = dir.resolve("one");
    assertEquals(0, run("tune", space, "--out", one, "--jobs", 1, "--json"), err.toString());
    Map<String, Object> answer = JSON.std.mapFrom(out.toString());
    assertEquals("PASS", answer.get("verdict"));
    assertEquals(10, answer.get("points_tried"));
    assertEquals(4, ((List<?>) answer.getOrDefault("judged", List.of())).size());
    Path two = dir.resolve("two");
    assertEquals(0, run("tune", space, "--out", two, "--jobs", 2), err.toString());
    assertTrue(out.toString().contains("Target reached: over-travel"), out.toString());
    for (String name :
        List.of("tuned.yaml", "tune.html", "tune.json", "points.csv", "judged.csv", "tune.state")) {
      assertArrayEquals(
          Files.readAllBytes(one.resolve(name)), Files.readAllBytes(two.resolve(name)), name);
    }
    assertTrue(Files.readString(one.resolve("tune.html")).contains("Simulated"));
    // A second start has nothing left to do.
    assertEquals(0, run("tune", space, "--out", one), err.toString());
    assertTrue(!err.toString().contains("trials/s"), err.toString());
    assertEquals(2, run("tune", space, "--out", one, "--seed", 2));
    assertTrue(err.toString().contains("another space, plan, settings, seed"), err.toString());

    Path tuned = one.resolve("tuned.yaml");
    Settings settings = Settings.read(Source.of(tuned));
    assertEquals("reference-canal-tuned", settings.name());
    Map<?, ?> chosen = inside(answer, "chosen");
    String value =
        String.valueOf(inside(chosen, "settings").get("settings.stages.length.reaction_ms"));
    String text = Files.readString(tuned);
    assertTrue(text.contains("reaction_ms: " + value), text);
    assertTrue(text.contains("# Changed: stages.length.reaction_ms 150 -> " + value), text);
    assertTrue(text.contains("# In the reference sweep the magnitude"), text);
    assertEquals(0, run("check", tuned), err.toString());
  }

  private static Map<?, ?> inside(Map<?, ?> of, String key) {
    return of.get(key) instanceof Map<?, ?> found ? found : Map.of();
  }

  @Test
  void wrongRequestsAreNamed() throws Exception {
    Path space = space("over_travel: {at_most: 0.005}");
    assertEquals(2, run("tune", space, "--out", dir.resolve("o")));
    assertTrue(
        err.toString().contains("fresh_canals 20 cannot confirm at_most 0.005"), err.toString());
    space = space("over_travel: {at_most: 0.5}");
    assertEquals(2, run("tune", space, "--out", dir.resolve("o"), "--trials", 20));
    assertTrue(err.toString().contains("trials: 20 trials are 2 points"), err.toString());
    assertEquals(2, run("tune", space, "--out", dir.resolve("o"), "--fresh", 5));
    assertTrue(err.toString().contains("--fresh"), err.toString());
    Files.writeString(
        space,
        Files.readString(space)
            .replace("settings.stages.length.reaction_ms", "scene.canal.foramen_diameter_mm")
            .replace("{from: 0, to: 400}", "{from: 0.4, to: 0.6}")
            .replace("repeats: 10\n", ""));
    assertEquals(2, run("tune", space, "--out", dir.resolve("o")));
    assertTrue(err.toString().contains("factors: none is of the settings"), err.toString());
  }
}
