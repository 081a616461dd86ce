package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.fault.Demonstration.Came;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;

/**
 * All forty-four things that a bench and its harness must survive, one test each: made to happen,
 * with verdict, cause and time as they must be. The page of faults has the table of results.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class SurvivalSuiteTest {
  @TempDir Path directory;

  private final Plan plan = Plan.read(Source.of(TestPlans.file("faults")));
  private final Strikes strikes = new Strikes(plan);
  private final Map<Integer, List<String>> lines = new TreeMap<>();

  SurvivalSuiteTest() throws Exception {}

  @TestFactory
  Stream<DynamicTest> everyRowIsSurvived() {
    return IntStream.rangeClosed(1, SurvivalRows.ROWS.size())
        .mapToObj(
            number ->
                DynamicTest.dynamicTest(
                    number + " " + SurvivalRows.ROWS.get(number - 1).what(),
                    () -> survive(number)));
  }

  @Test
  void thereAreFortyFourAndThePageListsThem() throws Exception {
    assertEquals(44, SurvivalRows.ROWS.size());
    GeneratedPart.holds("faults.md", "survival", SurvivalRows.table());
  }

  @AfterAll
  void thePageHoldsWhatCame() throws Exception {
    StringBuilder table =
        new StringBuilder(
            """
            | | what happens | shown by | verdict | cause | rest within | took | also |
            |---:|---|---|---|---|---:|---:|---|
            """);
    lines.values().forEach(rows -> rows.forEach(table::append));
    GeneratedPart.holds("faults.md", "survived", table.toString());
  }

  private void survive(int number) throws Exception {
    SurvivalRows.Row row = SurvivalRows.ROWS.get(number - 1);
    List<Demonstration> shows = row.shows(plan, strikes);
    assertTrue(!shows.isEmpty(), "nothing shows it");
    List<String> rows = new ArrayList<>();
    for (int i = 0; i < shows.size(); i++) {
      Demonstration shown = shows.get(i);
      Path empty = Files.createDirectory(directory.resolve(number + "-" + i));
      Came came = shown.happening().in(empty);
      assertTrue(shown.isMetBy(came), () -> shown + " gave " + came);
      rows.add(
          "| %s | %s | %s | `%s` | %s | %s | %s | %s |\n"
              .formatted(
                  i == 0 ? number : "",
                  i == 0 ? row.what() : "",
                  shown.what(),
                  shown.verdict(),
                  shown.cause().isEmpty() ? "–" : "`" + shown.cause() + "`",
                  Demonstration.words(shown.limitNs()),
                  Demonstration.words(came.tookNs()),
                  came.also()));
    }
    lines.put(number, rows);
  }
}
