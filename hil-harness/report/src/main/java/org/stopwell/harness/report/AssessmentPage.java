package org.stopwell.harness.report;

import gg.jte.Content;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.assess.AssessmentResult;

/** The result of an assessment as a page of its own. */
public final class AssessmentPage {
  private AssessmentPage() {}

  /**
   * Writes page and numbers.
   *
   * @param result the result
   * @param directory where to; created if needed
   * @throws IOException when they cannot be written
   */
  public static void write(AssessmentResult result, Path directory) throws IOException {
    Files.createDirectories(directory);
    List<Content> parts = new ArrayList<>();
    parts.add(Html.figure(HitsChart.of(result.hits(), "Figure 1 (simulated)")));
    for (AssessmentResult.Group group : result.groups()) {
      Table table =
          new Table(group.title())
              .columns(Table.LEFT, "Result")
              .columns(Table.LEFT, group.models().toArray(String[]::new));
      group.rows().forEach(row -> table.row(row.toArray(String[]::new)));
      parts.add(Html.table(table));
    }
    // Without an estimate of an unknown canal there is nothing to draw.
    if (!result.stops().isEmpty()) {
      parts.add(
          Html.figure(
              LeakChart.of(
                  result.stops(), result.sureMm(), result.refuseMm(), "Figure 2 (simulated)")));
    }
    write(directory.resolve("assessment.json"), result.json());
    write(
        directory.resolve("assessment.html"),
        Sheet.of(
            "Assessment of the depth estimate (simulated)",
            AssessmentResult.LABEL,
            result.head(),
            parts));
  }

  private static void write(Path file, String text) throws IOException {
    Files.writeString(file, text, StandardCharsets.UTF_8);
  }
}
