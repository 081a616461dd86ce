package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.trial.TestPlans;

/** How rare over-travel is. */
class RareCommandTest {
  private static final String FIRST = TestPlans.file("first-stop").toString();

  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  /** Counting 1000 trials of another seed gives 158 past the foramen. */
  @Test
  void aCommonOverTravelIsEstimatedAndItsWaysReallyPassTheForamen(@TempDir Path dir)
      throws Exception {
    Path ways = dir.resolve("ways");
    int code =
        stopwell(
            "rare",
            FIRST,
            "--condition",
            "half-wet/two-frequency",
            "--runs",
            "3",
            "--samples",
            "40",
            "--json",
            "--out",
            ways.toString());

    assertEquals(0, code, err.toString());
    double probability =
        Double.parseDouble(
            out.toString().replaceAll("(?s).*\"probability\" ?: ?([0-9.E-]+).*", "$1"));
    assertTrue(probability > 0.05 && probability < 0.35, "probability " + probability);
    assertTrue(out.toString().contains("\"simulated\""), out.toString());
    List<String> rows = Files.readAllLines(ways.resolve("way-1.csv"));
    String last = rows.get(rows.size() - 1);
    assertTrue(Double.parseDouble(last.substring(last.lastIndexOf(',') + 1)) < 0.05, last);
  }

  @Test
  void aCanalInWhichNothingTurnsHasNoEstimateAndTheOutputSaysHowNearItCame() {
    int code =
        stopwell("rare", FIRST, "--condition", "dry/estimate", "--runs", "2", "--samples", "20");

    assertEquals(5, code, err.toString());
    assertTrue(out.toString().contains("Not estimable"), out.toString());
    assertTrue(out.toString().contains("mm short of the foramen"), out.toString());
  }

  @Test
  void aConditionThatThePlanLacksIsNamedWithThoseThatItHas() {
    assertEquals(2, stopwell("rare", FIRST, "--condition", "wet"));
    assertTrue(
        err.toString().contains("--condition wet: not one of half-wet/estimate,"), err.toString());
  }

  @Test
  void aDirectoryThatCannotBeMadeIsRefusedBeforeTheSearch(@TempDir Path dir) throws Exception {
    Path file = Files.writeString(dir.resolve("file"), "");
    String[] line = {"rare", FIRST, "--condition", "dry/estimate", "--out", file + "/ways"};

    assertEquals(2, stopwell(line));
    assertTrue(err.toString().contains("cannot be made"), err.toString());
  }

  @Test
  void theNumberOfTrialsOfThePlanCannotBeSet() {
    assertEquals(2, stopwell("rare", FIRST, "--condition", "dry/estimate", "--trials", "9"));
    assertTrue(err.toString().contains("--samples and --runs"), err.toString());
  }

  private int stopwell(String... args) {
    return Main.run(args, new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
