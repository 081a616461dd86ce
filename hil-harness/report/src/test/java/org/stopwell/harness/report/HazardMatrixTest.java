package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;

class HazardMatrixTest {
  private static final String TABLE =
      """
      Text before.
      | hazard | cause | detection | reaction | budget | test |
      |---|---|---|---|---|---|
      | runaway | output stuck | speed at rest | lock | 800 ms | `MotorTest#locks` |
      | link lost | cable | age | hold | 50 ms | `LinkTest#holdsAtOnce`, `BoardTest#stops` |
      """;

  @Test
  void theTableOfTheBuildIsTheOneOfThePage() throws IOException {
    assertEquals(
        Files.readString(Path.of("..", "..", "docs", "hazards.md")).strip(),
        ReportPage.resource("hazards.md"));
    assertTrue(
        ReportPage.html(SampleCampaign.header(3), SampleCampaign.trials(3), Map.of())
            .contains("motion without a command"));
  }

  @Test
  void aHazardIsAnsweredForOnlyWhenEachOfItsTestsPassed() {
    String page =
        page(
            Map.of(
                "MotorTest#locks",
                "passed",
                "LinkTest#holdsAtOnce",
                "passed",
                "BoardTest#stops",
                "failed"));
    assertTrue(page.contains("2 passed, 1 failed, 0 not run"), page);
    assertTrue(page.contains("LinkTest: holds at once; BoardTest: stops"), page);
    assertTrue(page.contains("<td>passed</td>") && page.contains("<td>failed</td>"), page);
  }

  @Test
  void testsThatDidNotRunAreNotCalledPassed() {
    String none = page(Map.of());
    assertTrue(none.contains("not run in the build that wrote this page"), none);
    assertFalse(none.contains("<td>passed</td>"));
    String some = page(Map.of("LinkTest#holdsAtOnce", "passed"));
    assertTrue(some.contains("1 passed, 0 failed, 2 not run"), some);
    assertFalse(some.contains("<td>passed</td>"), "one of its two tests did not run");
  }

  @Test
  void resultsOfAnotherProgramCountForNothing() {
    Map<String, String> results = Map.of("MotorTest#locks", "passed");
    String text = TestRecord.write("abc", results);
    assertEquals(results, TestRecord.read(text, "abc"));
    assertEquals(Map.of(), TestRecord.read(text, "abd"));
    assertEquals(Map.of(), TestRecord.read("", "abc"));
  }

  @Test
  void theFingerprintIsOneOfTheWholeProgram() throws IOException {
    String hash = ProgramHash.ofThisProgram();
    assertEquals(64, hash.length());
    assertEquals(hash, ProgramHash.ofThisProgram());
    assertNotEquals(
        "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", hash, "of nothing");
  }

  private static String page(Map<String, String> results) {
    Markup out = new Markup();
    new HazardMatrix(TABLE, results).write(out);
    return out.toString();
  }
}
