package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trace.TraceScore;

/** The scores of a directory of traces as a page of its own. */
public final class TraceScorePage {
  private static final String TITLE = "Scores of recorded traces";
  private static final int MOST_WORST = 20;

  private TraceScorePage() {}

  /**
   * The page.
   *
   * @param report the scores
   * @return HTML that needs nothing beside it
   */
  public static String of(TraceScoreReport report) {
    List<Content> parts = new ArrayList<>();
    List<List<String>> rows = report.rows();
    Table table = new Table("Shares by fluid. " + TraceScoreReport.INTERVALS);
    table.columns(Table.LEFT, "Result");
    table.columns(Table.LEFT, rows.get(0).subList(1, rows.get(0).size()).toArray(String[]::new));
    rows.subList(1, rows.size()).forEach(row -> table.row(row.toArray(String[]::new)));
    parts.add(Html.table(table));
    TraceScoreChart chart = new TraceScoreChart(report);
    Stream.of(chart.errors(), chart.bounds(), chart.depths())
        .flatMap(Optional::stream)
        .forEach(figure -> parts.add(Html.figure(figure)));
    worst(report).ifPresent(parts::add);
    boolean simulated = report.simulated();
    return Sheet.of(
        TITLE + (simulated ? " (simulated)" : ""),
        simulated
            ? "Simulated. Every trace on this page comes from a model, not from a tooth."
            : "",
        report.head(),
        parts);
  }

  /** What a laboratory looks at first: past the foramen, then the greatest errors. */
  private static Optional<Content> worst(TraceScoreReport report) {
    List<TraceScore> bad =
        report.scores().stream()
            .filter(s -> s.past() || (s.stopped() && !s.within(1)))
            .sorted(
                Comparator.comparing((TraceScore s) -> !s.past())
                    .thenComparing(s -> s.stopped() ? -Math.abs(s.errorMicrons()) : 0))
            .limit(MOST_WORST)
            .toList();
    if (bad.isEmpty()) {
      return Optional.empty();
    }
    Table table =
        new Table("Past the foramen first, then by stop error; at most " + MOST_WORST + " traces.")
            .columns(Table.LEFT, "trace", "tooth", "fluid", "outcome", "trust")
            .columns(Table.NUMBER, "stop error", "bound");
    for (TraceScore s : bad) {
      table.row(
          String.valueOf(s.approach().file().getFileName()),
          s.approach().tooth(),
          s.approach().fluid(),
          s.outcome() + " " + s.reason() + (s.past() ? ", past the foramen" : ""),
          s.trust() + " " + s.cause(),
          s.stopped() ? Numbers.signedMillimetres(s.errorMicrons()) : "–",
          s.boundMicrons() > 0 ? Numbers.plainMillimetres(s.boundMicrons()) : "–");
    }
    return Optional.of(Html.all(List.of(Html.heading("Worst traces"), Html.table(table))));
  }
}
