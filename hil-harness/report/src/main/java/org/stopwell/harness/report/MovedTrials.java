package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/** The trials of two runs that differ most: same number, same seed, another end. */
final class MovedTrials {
  private static final int LISTED = 10;
  private static final int DRAWN = 3;

  private record Pair(TrialResult before, TrialResult after) {
    boolean stopped() {
      return before.stopped() && after.stopped();
    }

    int shift() {
      return stopped() ? after.stopErrorMicrons() - before.stopErrorMicrons() : 0;
    }

    boolean changed() {
      return before.verdict() != after.verdict()
          || before.stopped() != after.stopped()
          || !before.code().equals(after.code());
    }

    boolean moved() {
      return changed() || shift() != 0;
    }
  }

  private MovedTrials() {}

  /** A section, empty where the runs have no trial in common. */
  static Optional<Content> section(ComparisonPage.Side before, ComparisonPage.Side after) {
    List<Pair> pairs = pairs(before, after);
    if (pairs.isEmpty()) {
      return Optional.empty();
    }
    String id = "moved-section";
    String title = "Trials that moved most";
    List<Pair> moved =
        pairs.stream()
            .filter(Pair::moved)
            .sorted(
                Comparator.comparing((Pair p) -> !p.changed())
                    .thenComparing(p -> -Math.abs((long) p.shift()))
                    .thenComparing(p -> p.after().index()))
            .toList();
    if (moved.isEmpty()) {
      return Html.section(
          id,
          title,
          Html.paragraph("No trial moved: every pair has the same stop error, verdict and cause."));
    }
    List<Content> parts = new ArrayList<>();
    parts.add(
        Html.paragraph(
            Words.count(moved.size(), "pair")
                + " of "
                + pairs.size()
                + (moved.size() == 1 ? " differs. " : " differ. ")
                + "Pairs with another verdict or cause come first, then the largest shifts."));
    parts.add(Html.table(table(moved)));
    for (int i = 0; i < Math.min(DRAWN, moved.size()); i++) {
      figure(moved.get(i), before, after).ifPresent(parts::add);
    }
    return Html.section(id, title, Html.all(parts));
  }

  private static List<Pair> pairs(ComparisonPage.Side before, ComparisonPage.Side after) {
    Map<Integer, TrialResult> old = new HashMap<>();
    before.evidence().trials().forEach(t -> old.put(t.index(), t));
    List<Pair> pairs = new ArrayList<>();
    for (TrialResult is : after.evidence().trials()) {
      TrialResult was = old.get(is.index());
      if (was != null
          && was.seed() == is.seed()
          && was.condition().equals(is.condition())
          && was.device().tooth().equals(is.device().tooth())
          && ConditionSummary.isAnalysed(was.verdict())
          && ConditionSummary.isAnalysed(is.verdict())) {
        pairs.add(new Pair(was, is));
      }
    }
    return pairs;
  }

  private static Table table(List<Pair> moved) {
    Table table =
        new Table("Stop errors; at most " + LISTED + " trials.")
            .columns(Table.LEFT, "Trial", "Condition")
            .columns(Table.NUMBER, "Baseline", "This run", "Shift")
            .columns(Table.LEFT, "Verdict");
    moved.stream()
        .limit(LISTED)
        .forEach(
            p ->
                table.row(
                    Integer.toString(p.after().index() + 1),
                    p.after().condition(),
                    stop(p.before()),
                    stop(p.after()),
                    p.stopped() ? Numbers.signedMillimetres(p.shift()) : "–",
                    p.changed()
                        ? verdict(p.before()) + " → " + verdict(p.after())
                        : verdict(p.after())));
    return table;
  }

  private static String stop(TrialResult trial) {
    return trial.stopped() ? Numbers.signedMillimetres(trial.stopErrorMicrons()) : "no stop";
  }

  private static String verdict(TrialResult trial) {
    return Words.verdict(trial.verdict()) + " " + trial.code();
  }

  /** Both courses, on one scale. */
  private static Optional<Content> figure(
      Pair pair, ComparisonPage.Side before, ComparisonPage.Side after) {
    int index = pair.after().index();
    Optional<TraceSeries> was = before.trace(index);
    Optional<TraceSeries> is = after.trace(index);
    if (was.isEmpty() || is.isEmpty()) {
      return Optional.empty();
    }
    double floor =
        Math.min(0, Math.min(pair.before().deepestMicrons(), pair.after().deepestMicrons()) / 1e3);
    List<Drawing> drawings =
        List.of(
            draw("was-" + index, pair.before(), before, was.get(), floor),
            draw("is-" + index, pair.after(), after, is.get(), floor));
    return Optional.of(
        Html.beside(
            new Figure(
                "Trial " + (index + 1) + ", condition " + pair.after().condition(),
                drawings,
                Legend.COURSE,
                "",
                "Left or above: baseline "
                    + before.name()
                    + ". "
                    + pair.before().message()
                    + " Right or below: this run "
                    + after.name()
                    + ". "
                    + pair.after().message())));
  }

  private static Drawing draw(
      String id, TrialResult trial, ComparisonPage.Side side, TraceSeries series, double floor) {
    Condition condition = Report.condition(side.evidence().header(), trial);
    TraceChart chart =
        trial.stopped()
            ? TraceChart.closeUp(id, trial, condition, series)
            : TraceChart.whole(id, trial, condition, series);
    return chart.downTo(floor).position(", " + side.name());
  }
}
