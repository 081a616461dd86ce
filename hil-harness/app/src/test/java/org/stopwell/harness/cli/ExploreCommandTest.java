package org.stopwell.harness.cli;

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
import org.stopwell.harness.trial.TestPlans;
import tools.jackson.jr.ob.JSON;

/** {@code explore}: an answer, the same answer again, and each worst trial by one command. */
class ExploreCommandTest {
  /** A comma outside of quotes. */
  private static final String NEXT = ",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)";

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

  private Path space(String outcome, String condition, int trials) throws Exception {
    Path file = dir.resolve("space.yaml");
    Files.writeString(
        file,
        """
        space: 1
        name: small
        plan: %s
        condition: %s
        outcome: %s
        design: latin-hypercube
        trials: %d
        factors:
          scene.canal.foramen_diameter_mm: {from: 0.4, to: 0.6}
          scene.canal.tissue_ohm_m: {from: 1.5, to: 6.2, log: true}
        """
            .formatted(
                TestPlans.root().resolve("docs/plans/reference-canal.yaml").toAbsolutePath(),
                condition,
                outcome,
                trials));
    return file;
  }

  @Test
  void anAnswerComesWithItsFilesAndAgainWithoutATrial() throws Exception {
    Path space = space("stop_error", "half-wet/quick", 24);
    Path to = dir.resolve("out");
    assertEquals(0, run("explore", space, "--out", to, "--json"), err.toString());
    Map<String, Object> first = JSON.std.mapFrom(out.toString());
    assertEquals(24, first.get("trials"));
    assertEquals(true, first.get("simulated"));
    assertTrue(err.toString().contains("trials/s per worker"), err.toString());
    for (String name :
        List.of(
            "explore.html",
            "explore.json",
            "factors.csv",
            "surface.csv",
            "trials.csv",
            "trials.npy")) {
      assertTrue(Files.size(to.resolve(name)) > 0, name);
    }
    assertTrue(Files.readString(to.resolve("explore.html")).contains("Simulated"));
    // The same command again: nothing is left to do.
    assertEquals(0, run("explore", space, "--out", to, "--json"), err.toString());
    assertEquals(first, JSON.std.mapFrom(out.toString()));
    assertTrue(!err.toString().contains("trials/s"), err.toString());
    // Another seed is other work.
    assertEquals(2, run("explore", space, "--out", to, "--seed", 2));
    assertTrue(err.toString().contains("another space, plan, settings, seed"), err.toString());
  }

  @Test
  void theWorstTrialIsRepeatedByItsCommand() throws Exception {
    Path space = space("stop_error", "half-wet/quick", 24);
    Path to = dir.resolve("out");
    assertEquals(0, run("explore", space, "--out", to, "--json"), err.toString());
    Map<String, Object> answer = JSON.std.mapFrom(out.toString());
    String command =
        String.valueOf(((List<?>) answer.getOrDefault("worst_commands", List.of())).get(0));
    Object worst = ((List<?>) answer.getOrDefault("worst", List.of())).get(0);
    String[] words = command.replace("stopwell ", "").split(" ", -1);
    int code = run(words[0], words[1], "--out", dir.resolve("again"), "--json");
    assertTrue(code == 0 || code == 1 || code == 5, err.toString());
    assertEquals(0, run("export", dir.resolve("again"), "--to", "csv"), err.toString());
    List<String> lines = Files.readAllLines(dir.resolve("again/trials.csv"));
    int at = List.of(lines.get(0).split(",", -1)).indexOf("stop_error_um");
    assertEquals(
        ((Map<?, ?>) worst).get("badness"),
        Math.abs(Integer.parseInt(lines.get(1).split(NEXT, -1)[at])));
  }

  @Test
  void whatCannotBeEstimatedIsUndecided() throws Exception {
    Path space = space("stop_error", "dry/quick", 4);
    assertEquals(5, run("explore", space, "--out", dir.resolve("out")));
    assertTrue(out.toString().contains("none of 4 trials stopped"), out.toString());
  }

  @Test
  void wrongRequestsAreNamed() throws Exception {
    Path space = space("stop_error", "half-wet/quick", 24);
    assertEquals(2, run("explore", space, "--out", dir.resolve("o"), "--on", "moon"));
    assertTrue(err.toString().contains("no such engine"), err.toString());
    assertEquals(2, run("explore", space, "--out", dir.resolve("o"), "--on", "spark"));
    assertTrue(err.toString().contains("./stopwell adds Spark"), err.toString());
    assertEquals(2, run("explore", space, "--out", dir.resolve("o"), "--master", "spark://a:1"));
    assertTrue(err.toString().contains("needs --on spark"), err.toString());
    assertEquals(2, run("explore", space, "--out", dir.resolve("o"), "--parquet"));
    assertTrue(err.toString().contains("--parquet needs --on spark"), err.toString());
    assertEquals(2, run("explore", space, "--out", dir.resolve("o"), "--trials", 0));
    Files.writeString(
        space, Files.readString(space).replace("design: latin-hypercube", "design: sobol"));
    assertEquals(2, run("explore", space, "--out", dir.resolve("o")));
    assertTrue(err.toString().contains("are too few for sensitivity indices"), err.toString());
  }
}
