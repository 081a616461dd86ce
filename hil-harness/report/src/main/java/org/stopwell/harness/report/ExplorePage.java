package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.explore.ExploreResult;
import org.stopwell.harness.explore.ExploreResult.FactorResult;
import org.stopwell.harness.explore.ParetoFront;
import org.stopwell.harness.trial.Outcome;

/** The answer of an exploration as a page of its own. */
public final class ExplorePage {
  private ExplorePage() {}

  /**
   * Writes the page.
   *
   * @param result the answer
   * @param commands what repeats the worst trials, the worst first
   * @return HTML that needs nothing beside it
   */
  public static String html(ExploreResult result, List<String> commands) {
    List<Content> parts = new ArrayList<>();
    int figures = 0;
    result.problems().forEach(problem -> parts.add(Html.caution(problem)));
    if (result.factors().stream().anyMatch(f -> f.index().isPresent())) {
      parts.add(Html.figure(ExploreChart.indices(result).simulated(++figures)));
      parts.add(Html.table(indices(result)));
    }
    if (result.factors().stream().anyMatch(f -> f.effect().isPresent())) {
      parts.add(Html.figure(ExploreChart.effects(result).simulated(++figures)));
      parts.add(Html.table(effects(result)));
    }
    // A share has the values 0 and 1 alone; the notes state it.
    if (result.counts().withOutcome() > 0 && !result.space().head().outcome().isShare()) {
      parts.add(Html.figure(ExploreChart.histogram(result).simulated(++figures)));
    }
    if (result.surface().isPresent()) {
      parts.add(
          Html.figure(ExploreChart.surface(result, result.surface().get()).simulated(++figures)));
      parts.add(Html.paragraph(ExploreLines.surface(result)));
    }
    if (!result.points().isEmpty()) {
      parts.add(Html.figure(ExploreChart.front(result).simulated(++figures)));
      parts.add(Html.table(front(result)));
    }
    if (!commands.isEmpty()) {
      parts.add(Html.table(worst(result, commands)));
    }
    parts.add(Html.table(spreads(result)));
    return Sheet.of(
        "Exploration " + result.space().head().name(),
        "Simulated. Every number on this page comes from a model, not from hardware.",
        notes(result),
        parts);
  }

  private static List<String> notes(ExploreResult r) {
    List<String> notes = new ArrayList<>();
    if (!r.space().head().purpose().isEmpty()) {
      notes.add(r.space().head().purpose());
    }
    notes.addAll(ExploreLines.head(r));
    notes.add("Seed " + r.space().head().seed() + ", build " + r.build() + ".");
    notes.add(
        "Stop error: true distance to the foramen at standstill minus standoff. "
            + Outcome.EARLY
            + " The answer holds for the ranges below and for the model of the"
            + " virtual bench.");
    return notes;
  }

  private static Table indices(ExploreResult r) {
    Table table =
        new Table("Share of the variance of the outcome [95 % interval]")
            .columns(Table.LEFT, "Factor")
            .columns(Table.NUMBER, "Total", "Alone");
    for (FactorResult f : ExploreLines.byTotal(r)) {
      f.index()
          .ifPresent(
              i ->
                  table.row(
                      f.key(),
                      ExploreLines.index(i.total(), i.totalInterval()),
                      ExploreLines.index(i.first(), i.firstInterval())));
    }
    return table;
  }

  private static Table effects(ExploreResult r) {
    ExploreUnit unit = ExploreUnit.of(r.space().head().outcome());
    Table table =
        new Table("Elementary effects over the whole range of a factor, " + unit.word())
            .columns(Table.LEFT, "Factor")
            .columns(Table.NUMBER, "µ*", "95 % interval", "µ", "σ", "Effects");
    for (FactorResult f : ExploreLines.byEffect(r)) {
      f.effect()
          .ifPresent(
              e ->
                  table.row(
                      f.key(),
                      unit.number(e.meanAbsolute()),
                      e.count() > 1
                          ? unit.number(e.interval().low())
                              + " to "
                              + unit.number(e.interval().high())
                          : "–",
                      unit.number(e.mean()),
                      unit.number(e.spread()),
                      Long.toString(e.count())));
    }
    return table;
  }

  private static Table front(ExploreResult r) {
    Table table =
        new Table("Points of the settings that no other point beats [95 % interval]")
            .columns(Table.LEFT, "Point")
            .columns(
                Table.NUMBER, r.settings().stream().map(Words::breakable).toArray(String[]::new))
            .columns(Table.NUMBER, "Past the foramen", "Early", "Time, s");
    r.points().stream()
        .filter(ParetoFront.Point::onFront)
        .sorted(java.util.Comparator.comparingLong(p -> p.overTravel().count()))
        .forEach(p -> table.row(ExploreLines.cells(p).toArray(String[]::new)));
    return table;
  }

  private static Table worst(ExploreResult r, List<String> commands) {
    Table table =
        new Table("Worst trials; each command repeats one")
            .columns(Table.LEFT, "Rank", "How bad", "Command");
    for (int i = 0; i < commands.size(); i++) {
      table.row(
          Integer.toString(i + 1),
          ExploreUnit.badness(r.space().head().outcome(), r.worst().get(i).badness()),
          commands.get(i));
    }
    return table;
  }

  private static Table spreads(ExploreResult r) {
    Table table = new Table("Factors and their spread").columns(Table.LEFT, "Factor", "Spread");
    r.factors().forEach(f -> table.row(f.key(), f.spread()));
    return table;
  }
}
