package org.stopwell.harness.assess;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import tools.jackson.jr.ob.JSON;

/** The result of an assessment as text, JSON and page. */
public final class AssessmentResult {
  private static final String LABEL =
      "Simulated. Bench and research use only; not a medical device; not for use on a person.";

  private static final String STYLE =
      """
      body{font-family:sans-serif;margin:1em auto;padding:0 1em;max-width:60em;line-height:1.4}
      table{border-collapse:collapse;width:100%;font-size:85%}
      td,th{border:1px solid #bbb;padding:.3em .4em;text-align:left;vertical-align:top}
      svg{width:100%;max-width:44em;height:auto;display:block;margin-top:1em}
      """;

  private final AssessmentChoice choice;
  private final ParameterValues limits;
  private final List<Scorecard> cards;
  private final List<VisitOutcome> leaks;

  AssessmentResult(
      AssessmentChoice choice,
      ParameterValues limits,
      List<Scorecard> cards,
      List<VisitOutcome> leaks) {
    this.choice = choice;
    this.limits = limits;
    this.cards = List.copyOf(cards);
    this.leaks = List.copyOf(leaks);
  }

  private List<String> head() {
    return List.of(
        "Population seed " + choice.seed() + ", members 0 to " + (choice.trials() - 1) + ".",
        "Even members use the tooth model of the training; odd members use two other models in"
            + " turn.",
        "The weights come from "
            + Training.CANALS
            + " canals of seed "
            + Training.SEED
            + "; half of these have a tooth model that is drawn at random.",
        choice.lateralCanals()
            ? "About a quarter of the canals have a lateral canal."
            : "No member has a lateral canal of its own; the other tooth model always has one.",
        "A stop is judged by its distance from the standoff, which is the set distance short of the"
            + " foramen (0.5 mm).",
        "Brackets: exact 95 % interval (Clopper and Pearson).",
        Scorecard.SURE_AND_WRONG + ".");
  }

  /**
   * The tables for a screen.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder(LABEL).append('\n');
    head().forEach(line -> out.append(line).append('\n'));
    for (Scorecard card : cards) {
      out.append('\n').append(card.tried()).append(", ").append(card.where()).append('\n');
      List<String> cells = card.cells();
      for (int i = 0; i < cells.size(); i++) {
        out.append(String.format("  %-32s %s%n", Scorecard.HEADINGS.get(i), cells.get(i)));
      }
    }
    return out.toString();
  }

  /**
   * The tables for a machine.
   *
   * @return one JSON object
   * @throws IOException never
   */
  public String json() throws IOException {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("simulated", true);
    all.put("seed", choice.seed());
    all.put("lateral_canals", choice.lateralCanals());
    all.put("trials", choice.trials());
    all.put("results", cards.stream().map(Scorecard::json).toList());
    return JSON.std.asString(all) + "\n";
  }

  /**
   * Writes page, table and picture.
   *
   * @param directory where to; created if needed
   * @throws IOException when they cannot be written
   */
  public void write(Path directory) throws IOException {
    Files.createDirectories(directory);
    String drawing = "";
    // without an estimate of an unknown canal there is nothing to draw
    if (!leaks.isEmpty()) {
      drawing =
          LeakChart.of(
              leaks,
              limits.get(SenseParameters.SURE_ERROR) * 1e-3,
              limits.get(SenseParameters.REFUSE_ERROR) * 1e-3);
      write(directory.resolve("error-by-leak.svg"), drawing);
    }
    write(directory.resolve("assessment.json"), json());
    write(directory.resolve("assessment.html"), page(drawing));
  }

  /** A table for each estimator and condition, with a column for each tooth model. */
  private String page(String drawing) {
    StringBuilder tables = new StringBuilder();
    int models = ToothModel.values().length;
    for (int at = 0; at < cards.size(); at += models) {
      List<Scorecard> group = cards.subList(at, at + models);
      tables.append("<h2>").append(group.get(0).tried()).append("</h2>\n<table><tr><th>");
      group.forEach(card -> tables.append("</th><th>").append(card.where()));
      tables.append("</th></tr>\n");
      for (int row = 0; row < Scorecard.HEADINGS.size(); row++) {
        tables.append("<tr><th>").append(Scorecard.HEADINGS.get(row)).append("</th>");
        for (Scorecard card : group) {
          tables.append("<td>").append(card.cells().get(row)).append("</td>");
        }
        tables.append("</tr>\n");
      }
      tables.append("</table>\n");
    }
    return """
        <!DOCTYPE html>
        <html lang="en"><head><meta charset="utf-8">
        <meta name="viewport" content="width=device-width, initial-scale=1">
        <title>Assessment of the depth estimate (simulated)</title>
        <style>
        %s</style></head>
        <body><h1>Assessment of the depth estimate (simulated)</h1>
        <p><strong>%s</strong></p>
        <ul><li>%s</li></ul>
        %s%s</body></html>
        """
        .formatted(STYLE, LABEL, String.join("</li>\n<li>", head()), tables, drawing);
  }

  private static void write(Path file, String text) throws IOException {
    Files.writeString(file, text, StandardCharsets.UTF_8);
  }
}
