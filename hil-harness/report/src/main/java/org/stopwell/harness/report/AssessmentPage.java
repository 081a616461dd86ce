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
   * Writes page, numbers and picture.
   *
   * @param result the result
   * @param directory where to; created if needed
   * @throws IOException when they cannot be written
   */
  public static void write(AssessmentResult result, Path directory) throws IOException {
    Files.createDirectories(directory);
    List<Content> parts = new ArrayList<>();
    for (AssessmentResult.Group group : result.groups()) {
      Table table =
          new Table(group.title())
              .columns(Table.LEFT, "")
              .columns(Table.LEFT, group.models().toArray(String[]::new));
      group.rows().forEach(row -> table.row(row.toArray(String[]::new)));
      parts.add(Html.table(table));
    }
    // Without an estimate of an unknown canal there is nothing to draw.
    if (!result.stops().isEmpty()) {
      String drawing = LeakChart.of(result.stops(), result.sureMm(), result.refuseMm());
      write(directory.resolve("error-by-leak.svg"), drawing);
      parts.add(output -> output.writeContent(drawing));
    }
    write(directory.resolve("assessment.json"), result.json());
    Content body = Html.all(parts);
    write(
        directory.resolve("assessment.html"),
        Html.text(
            Html.template(
                t ->
                    JteassessmentGenerated.render(
                        t,
                        Html.NONE,
                        AssessmentResult.LABEL,
                        result.head(),
                        Look.ofResults(),
                        body))));
  }

  private static void write(Path file, String text) throws IOException {
    Files.writeString(file, text, StandardCharsets.UTF_8);
  }
}
