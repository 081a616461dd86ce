package org.stopwell.harness.report;

import gg.jte.Content;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.harness.learn.LearnFluid;
import org.stopwell.harness.learn.LearnResult;
import org.stopwell.harness.learn.LearnStop;

/** What the teeth left out say of taught weights, as a page of its own. */
public final class LearnPage {
  private LearnPage() {}

  /**
   * Writes the page.
   *
   * @param result the result
   * @param file where to
   * @throws IOException when it cannot be written
   */
  public static void write(LearnResult result, Path file) throws IOException {
    List<Content> parts = new ArrayList<>();
    parts.add(Html.table(fluids(result)));
    parts.add(Html.figure(LearnChart.depths(result.readings())));
    parts.add(Html.heading("Bound"));
    result.boundLines().forEach(line -> parts.add(Html.paragraph(line)));
    parts.add(Html.figure(LearnChart.teeth(result.curve(), result.moreTeeth())));
    parts.add(Html.table(steps(result)));
    parts.add(Html.table(worst(result)));
    String page = Sheet.of("Depth estimate taught with measured teeth", "", result.head(), parts);
    Files.writeString(file, page, StandardCharsets.UTF_8);
  }

  private static Table fluids(LearnResult result) {
    Table table =
        new Table("Stops in teeth left out")
            .columns(
                Table.LEFT,
                "fluid",
                "approaches",
                "stopped",
                "within 0.5 mm, % [95 % of teeth]",
                "past the foramen, %",
                "within before teaching, %");
    for (LearnFluid f : result.fluids()) {
      table.row(f.cells().toArray(String[]::new));
    }
    return table;
  }

  private static Table steps(LearnResult result) {
    Table table =
        new Table("How far to move from the start")
            .columns(Table.LEFT, "steps", "loss in the teeth left out", "chosen");
    result.steps().forEach(row -> table.row(row.toArray(String[]::new)));
    return table;
  }

  private static Table worst(LearnResult result) {
    Table table =
        new Table("Stops furthest off")
            .columns(Table.LEFT, "tooth", "fluid", "off, mm", "estimate, mm", "trace");
    for (LearnStop s : result.worst()) {
      table.row(
          s.tooth(),
          s.fluid(),
          String.format(Locale.ROOT, "%+.2f", s.offMm()),
          String.format(Locale.ROOT, "%.2f", s.estimateMm()),
          s.file());
    }
    return table;
  }
}
