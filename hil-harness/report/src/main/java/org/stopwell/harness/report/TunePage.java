package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.trial.Outcome;
import org.stopwell.harness.tune.TuneResult;
import org.stopwell.harness.tune.TuneWords;

/** The answer of a tuning as a page of its own. */
public final class TunePage {
  private TunePage() {}

  /**
   * Writes the page.
   *
   * @param result the answer
   * @return HTML that needs nothing beside it
   */
  public static String html(TuneResult result) {
    List<Content> parts = new ArrayList<>();
    if (result.complete()) {
      parts.add(Html.verdict(result.verdict(), meaning(result)));
    }
    parts.add(Html.list(result.findings()));
    parts.add(Html.table(table("Settings, old and tuned", TuneLines.settings(result))));
    parts.add(
        Html.table(
            table(
                "Tuned settings on the canals of the search and on fresh ones [95 % interval]",
                TuneLines.optimism(result))));
    result
        .tuned()
        .filter(t -> !t.paired().isEmpty())
        .ifPresent(
            t ->
                parts.add(
                    Html.table(
                        table(
                            "Price: tuned minus old on the same fresh canals [95 % interval]",
                            TuneLines.price(result, t)))));
    if (result.chosen().measured().trials() > 0) {
      parts.add(Html.figure(TuneChart.early(result).simulated(1)));
      parts.add(Html.figure(TuneChart.time(result).simulated(2)));
    }
    if (result.judged().size() > 1) {
      parts.add(
          Html.table(
              table(
                  "Old, tuned and neighbouring settings on the same fresh canals [95 % interval]",
                  TuneLines.judged(result))));
    }
    return Sheet.of(
        "Tuning " + result.space().head().name(),
        "Simulated. Every number on this page comes from a model, not from hardware.",
        notes(result),
        parts);
  }

  private static String meaning(TuneResult r) {
    return switch (r.verdict()) {
      case PASS -> "The fresh canals confirm every limit of the target.";
      case FAIL -> "The fresh canals refute a limit of the target.";
      default -> "The fresh canals do not decide.";
    };
  }

  private static List<String> notes(TuneResult r) {
    TuneTarget target = r.space().target().orElseThrow();
    List<String> notes = new ArrayList<>();
    if (!r.space().head().purpose().isEmpty()) {
      notes.add(r.space().head().purpose());
    }
    notes.add(TuneLines.head(r) + ".");
    notes.add(
        "The search met "
            + r.space().head().repeats()
            + " canals, the same at every point. The judgement met "
            + target.freshCanals()
            + " other canals. Neighbours: one value moved by a tenth of its range.");
    for (TuneTarget.Limit limit : target.limits()) {
      notes.add(
          capital(limit.measure().words())
              + ": limit "
              + TuneWords.value(limit.measure(), limit.atMost())
              + ". The search keeps a margin, so that the judgement can confirm it.");
    }
    notes.add(Outcome.EARLY);
    notes.add("Seed " + r.space().head().seed() + ", build " + r.build() + ".");
    return notes;
  }

  private static String capital(String words) {
    return Character.toUpperCase(words.charAt(0)) + words.substring(1);
  }

  private static Table table(String caption, List<List<String>> rows) {
    List<String> head = rows.get(0);
    Table table =
        new Table(caption)
            .columns(Table.LEFT, capital(head.get(0)))
            .columns(
                Table.NUMBER,
                head.subList(1, head.size()).stream()
                    .map(TunePage::capital)
                    .toArray(String[]::new));
    rows.subList(1, rows.size())
        .forEach(row -> table.row(row.stream().map(TunePage::cell).toArray(String[]::new)));
    return table;
  }

  /** On a narrow screen a key breaks after its dots, and an interval does not break. */
  private static String cell(String text) {
    int interval = text.indexOf('[');
    return interval < 0
        ? Words.breakable(text)
        : text.substring(0, interval) + text.substring(interval).replace(' ', '\u00a0');
  }
}
