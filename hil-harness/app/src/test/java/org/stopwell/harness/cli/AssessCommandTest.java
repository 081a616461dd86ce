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
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

/** The assessment of the depth estimate over a population. */
class AssessCommandTest {
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "assess --trials 1 | --trials 1 is outside 2 to 1000000",
        "assess --seed 770001 | --seed 770001 is the seed of the training",
        "assess --condition dry | dry is not one of half-wet, brimful, flooded",
        "assess --estimator guess | guess is not one of ratio, approach",
        "assess --estimator ratio --condition brimful-learned | nothing to try: the ratio learns",
        "assess --sense caution_errors=5 | --sense caution_errors: 5 is outside 0 to 4",
        "assess --sense caution=1 | --sense caution: unknown key",
      })
  void wrongQuestionsEndWithTwo(String line, String message) {
    assertEquals(2, stopwell(line.split(" ")));
    assertTrue(err.toString().contains(message), err.toString());
  }

  /** Both estimators, four families, and every trial is accounted for. */
  @Test
  void oneConditionAloneIsTriedByBothEstimatorsOnAllFamilies(@TempDir Path folder)
      throws Exception {
    int trials = 4;
    assertEquals(
        0,
        stopwell(
            "assess",
            "--json",
            "--trials",
            Integer.toString(trials),
            "--condition",
            "half-wet",
            "--out",
            folder.toString()),
        err.toString());
    JsonNode result = new ObjectMapper().readTree(out.toString());
    assertTrue(result.get("simulated").asBoolean());
    List<String> models = List.of("tooth", "lumped", "meshed", "field");
    assertEquals(8, result.get("results").size());
    int rows = 0;
    for (JsonNode row : result.get("results")) {
      assertEquals("half-wet", row.get("condition").asString());
      int tried = row.get("trials").asInt();
      assertEquals(models.get(rows++ % 4), row.get("family").asString());
      assertEquals(trials / 4, tried);
      assertEquals(tried, row.get("stopped").asInt() + row.get("refused").asInt());
      assertTrue(row.get("within_0.5_mm").asInt() <= row.get("stopped").asInt());
    }
    String page = Files.readString(folder.resolve("assessment.html"));
    assertTrue(page.contains("Simulated. Bench and research use only"));
    assertTrue(page.contains("<caption><span>ratio, half-wet</span></caption>"));
    models.forEach(word -> assertTrue(page.contains(">family " + word + "</th>"), word));
    assertTrue(page.contains("name=\"viewport\""), "without it a phone shows a page for a desk");
    assertEquals(
        result, new ObjectMapper().readTree(Files.readString(folder.resolve("assessment.json"))));
    assertTrue(page.contains("Error of the stop against the leak (simulated)</title>"));
    assertTrue(
        page.contains("Stops within 0.5 mm and trials past the foramen (simulated)</title>"));
  }

  /** The ratio learns nothing about a canal, so it is not tried there. */
  @Test
  void oneEstimatorAloneIsTried(@TempDir Path folder) throws Exception {
    assertEquals(
        0,
        stopwell(
            ("assess --json --trials 2 --estimator ratio --condition half-wet"
                    + " --condition brimful-learned --out "
                    + folder)
                .split(" ")),
        err.toString());
    JsonNode rows = new ObjectMapper().readTree(out.toString()).get("results");
    assertEquals(4, rows.size());
    for (JsonNode row : rows) {
      assertEquals("ratio", row.get("estimator").asString());
      assertEquals("half-wet", row.get("condition").asString());
    }
    // the chart shows the approach, which was not tried
    String page = Files.readString(folder.resolve("assessment.html"));
    assertEquals(-1, page.indexOf("against the leak"));
  }

  private int stopwell(String... line) {
    return Main.run(line, new PrintWriter(out), new PrintWriter(err));
  }
}
