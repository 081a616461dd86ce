package org.stopwell.harness.report;

import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import org.stopwell.harness.explore.ExploreResult;
import org.stopwell.harness.explore.ExploreResult.FactorResult;
import org.stopwell.harness.explore.ParetoFront;
import org.stopwell.harness.explore.SobolIndices;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;

/** The answer of an exploration for a terminal. */
public final class ExploreLines {
  /** Points of the front that are printed; the table has all. */
  private static final int MOST_POINTS = 12;

  private ExploreLines() {}

  /**
   * Prints the answer.
   *
   * @param result the answer
   * @param commands what repeats the worst trials, the worst first
   * @param out receives the lines
   */
  public static void print(ExploreResult result, List<String> commands, Consumer<String> out) {
    head(result).forEach(out);
    result.problems().forEach(out);
    indices(result, out);
    effects(result, out);
    result.surface().ifPresent(s -> out.accept(surface(result)));
    front(result, out);
    if (!commands.isEmpty()) {
      out.accept("Worst trials; each command repeats one:");
      TextTable table = new TextTable("lrl");
      for (int i = 0; i < commands.size(); i++) {
        ExploreResult.Worst w = result.worst().get(i);
        table.row(
            Integer.toString(i + 1),
            ExploreUnit.badness(result.space().head().outcome(), w.badness()),
            commands.get(i));
      }
      table.print(out);
    }
  }

  /** What was explored, and what the trials gave. */
  static List<String> head(ExploreResult r) {
    ExploreUnit unit = ExploreUnit.of(r.space().head().outcome());
    ExploreResult.Counts c = r.counts();
    return List.of(
        r.space().head().name()
            + ": "
            + r.space().plan().head().name()
            + ", "
            + r.space().condition().name()
            + "; "
            + c.trials()
            + " of "
            + r.planned()
            + " trials, design "
            + r.space().head().design().key()
            + ", simulated",
        "Stopped "
            + share(c.stopped(), c.trials())
            + ", refused "
            + share(c.refused(), c.trials())
            + ", past the foramen "
            + share(c.overTravel(), c.trials())
            + ", early "
            + share(c.early(), c.trials())
            + (c.impossible() > 0 ? "; impossible values in " + c.impossible() : "")
            + ".",
        "Mean "
            + r.space().head().outcome().words()
            + " "
            + unit.text(r.mean())
            + ", standard deviation "
            + unit.text(r.deviation())
            + ", of "
            + c.withOutcome()
            + " trials that have it."
            + (c.incomplete() > 0
                ? " Left out: "
                    + c.incomplete()
                    + " of "
                    + c.rows()
                    + " rows in which a trial has none."
                : ""));
  }

  private static String share(long count, long of) {
    return Numbers.percent(new Proportion(count, of).estimate());
  }

  private static void indices(ExploreResult r, Consumer<String> out) {
    if (r.factors().stream().allMatch(f -> f.index().isEmpty())) {
      return;
    }
    out.accept("Share of the variance [95 % interval]:");
    TextTable table = new TextTable("lll");
    table.row("factor", "total", "alone");
    for (FactorResult f : byTotal(r)) {
      f.index()
          .ifPresent(
              i ->
                  table.row(
                      f.key(),
                      index(i.total(), i.totalInterval()),
                      index(i.first(), i.firstInterval())));
    }
    table.print(out);
  }

  /** The factors, the most important first. */
  static List<FactorResult> byTotal(ExploreResult r) {
    return r.factors().stream()
        .sorted(
            java.util.Comparator.comparingDouble(
                    (FactorResult f) -> f.index().map(SobolIndices.Index::total).orElse(-9.0))
                .reversed())
        .toList();
  }

  /** The factors, the strongest first. */
  static List<FactorResult> byEffect(ExploreResult r) {
    return r.factors().stream()
        .sorted(
            java.util.Comparator.comparingDouble(
                    (FactorResult f) ->
                        f.effect()
                            .filter(e -> e.count() > 1)
                            .map(e -> e.meanAbsolute())
                            .orElse(-9.0))
                .reversed())
        .toList();
  }

  static String index(double value, Interval interval) {
    return String.format(Locale.ROOT, "%.2f [%.2f, %.2f]", value, interval.low(), interval.high())
        .replace('-', '−')
        .replace("−0.00", "0.00");
  }

  private static void effects(ExploreResult r, Consumer<String> out) {
    if (r.factors().stream().allMatch(f -> f.effect().isEmpty())) {
      return;
    }
    ExploreUnit unit = ExploreUnit.of(r.space().head().outcome());
    out.accept("Elementary effects over the whole range of a factor, " + unit.word() + ":");
    TextTable table = new TextTable("lrrrr");
    table.row("factor", "µ*", "µ", "σ", "effects");
    for (FactorResult f : byEffect(r)) {
      f.effect()
          .ifPresent(
              e ->
                  table.row(
                      f.key(),
                      unit.number(e.meanAbsolute()),
                      unit.number(e.mean()),
                      unit.number(e.spread()),
                      Long.toString(e.count())));
    }
    table.print(out);
  }

  /** How good the fitted surface is. */
  static String surface(ExploreResult r) {
    ExploreUnit unit = ExploreUnit.of(r.space().head().outcome());
    return r.surface()
        .map(
            s ->
                (s.isPlane() ? "Fitted plane: " : "Fitted surface of second degree: ")
                    + s.terms().size()
                    + " terms, error "
                    + unit.text(s.error())
                    + " on trials left out, which explains "
                    + Numbers.percent(
                        java.util.OptionalDouble.of(Math.max(0, Math.min(1, s.explained()))))
                    + " of the variance.")
        .orElse("");
  }

  private static void front(ExploreResult r, Consumer<String> out) {
    List<ParetoFront.Point> front = r.points().stream().filter(ParetoFront.Point::onFront).toList();
    if (front.isEmpty()) {
      return;
    }
    out.accept(
        "Pareto front: "
            + front.size()
            + " of "
            + r.points().size()
            + " points of the settings. [95 % interval]");
    TextTable table = new TextTable("l" + "r".repeat(r.settings().size() + 2) + "r");
    List<String> head = new java.util.ArrayList<>(List.of("point"));
    head.addAll(r.settings());
    head.addAll(List.of("past the foramen", "early", "time, s"));
    table.row(head.toArray(String[]::new));
    front.stream()
        .sorted(java.util.Comparator.comparingLong(p -> p.overTravel().count()))
        .limit(MOST_POINTS)
        .forEach(p -> table.row(cells(p).toArray(String[]::new)));
    table.print(out);
    if (front.size() > MOST_POINTS) {
      out.accept("  and " + (front.size() - MOST_POINTS) + " more in points.csv");
    }
  }

  /** The cells of a point of the front. */
  static List<String> cells(ParetoFront.Point p) {
    List<String> row = new java.util.ArrayList<>(List.of(Integer.toString(p.place() + 1)));
    row.addAll(p.values());
    row.add(share(p.overTravel()));
    row.add(share(p.early()));
    row.add(String.format(Locale.ROOT, "%.1f", p.seconds()));
    return row;
  }

  private static String share(Proportion p) {
    return Numbers.percent(p.estimate()) + " [" + Numbers.percent(p.clopperPearson(0.95)) + "]";
  }
}
