package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.IntFunction;
import java.util.stream.Collectors;
import org.stopwell.harness.claim.ComparedCondition;
import org.stopwell.harness.claim.Comparison;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.HeaderChanges;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

/** A run against a baseline as a page of its own. */
public final class ComparisonPage {
  private ComparisonPage() {}

  /**
   * One of the two runs.
   *
   * @param name name of its directory
   * @param evidence what counts of it
   * @param traces the trace of a trial by its index, where one can be had
   */
  public record Side(String name, Evidence evidence, IntFunction<Optional<TraceSeries>> traces) {
    Optional<TraceSeries> trace(int index) {
      return traces.apply(index);
    }
  }

  /**
   * Writes the page.
   *
   * @param summary the comparison
   * @param before the baseline
   * @param after the run under test
   * @param place where the page stands in the console
   * @return HTML that needs nothing beside it
   */
  public static String html(ComparisonSummary summary, Side before, Side after, Place place) {
    Comparison comparison = summary.comparison();
    String label = Words.label(summary.label());
    List<Content> parts = new ArrayList<>();
    parts.add(Html.verdict(summary.verdict(), meaning(summary)));
    if (!comparison.conditions().isEmpty()) {
      Figure figure =
          new Figure(
              "",
              List.of(new ShiftChart(comparison.conditions(), summary.marginMicrons()).draw(label)),
              ShiftChart.LEGEND,
              "Figure 1" + label,
              "Mean stop error of this run less that of the baseline. A condition that must stop"
                  + " passes when its whole interval lies within the margin. A condition that may"
                  + " refuse passes unless its whole interval lies outside. Neither passes with"
                  + " more failures than chance explains.");
      Html.section("shift-section", "Shift of each condition", Html.figure(figure), table(summary))
          .ifPresent(parts::add);
    }
    changes(summary).ifPresent(parts::add);
    MovedTrials.section(before, after)
        .or(
            () ->
                Html.section(
                    "moved-section",
                    "Trials that moved most",
                    Html.paragraph(
                        "The runs have no trial in common (same number, condition and seed), so no"
                            + " pair can be shown.")))
        .ifPresent(parts::add);
    return Sheet.of(
        "Comparison of " + after.name() + " with " + before.name() + label,
        summary.label().isEmpty()
            ? ""
            : "At least one of both runs is labelled: " + summary.label() + ".",
        List.of(
            "This run: " + words(after),
            "Baseline: " + words(before),
            "Margin: a mean stop may move by ±"
                + Numbers.plainMillimetres(summary.marginMicrons())
                + ".",
            "Stop error: true distance to the foramen at standstill minus standoff (set distance"
                + " short of the foramen). A negative shift: the file stops deeper than before."),
        parts,
        place);
  }

  private static String words(Side side) {
    return side.name()
        + ", "
        + Words.run(side.evidence().header())
        + ", "
        + Words.count(side.evidence().trials().size(), "trial");
  }

  private static String meaning(ComparisonSummary summary) {
    Comparison comparison = summary.comparison();
    Optional<Withheld> withheld = summary.withheld();
    if (withheld.isPresent()) {
      return withheld.get() + ": " + withheld.get().sentence();
    }
    String together =
        "more trials fail, or end without a stop, than chance explains"
            + " over all conditions together.";
    return switch (comparison.verdict()) {
      case PASS ->
          comparison.conditions().stream().allMatch(c -> c.paired() && c.same())
              ? "Every trial is identical to that of the baseline, step by step."
              : "Every condition moved less than the margin, and no condition got worse.";
      case FAIL -> {
        List<String> failed =
            comparison.conditions().stream()
                .filter(c -> c.verdict() == Verdict.FAIL)
                .map(ComparedCondition::name)
                .toList();
        yield failed.isEmpty()
            ? "M" + together.substring(1)
            : "Worse than the baseline: "
                + String.join("; ", failed)
                + (comparison.isWorseTogether() ? ". Also, " + together : ".");
      }
      default ->
          "Not decided: "
              + (comparison.onlyBefore().isEmpty()
                  ? comparison.conditions().stream()
                      .filter(c -> c.verdict() != Verdict.PASS)
                      .map(ComparedCondition::name)
                      .collect(Collectors.joining("; "))
                  : "this run lacks " + String.join("; ", comparison.onlyBefore()))
              + ".";
    };
  }

  private static Content table(ComparisonSummary summary) {
    Table table =
        new Table("Each condition in numbers. Each canal counts as one number.")
            .columns(Table.LEFT, "Condition", "Verdict")
            .columns(
                Table.NUMBER, "Pairs", "Shift", "90 % interval", "Newly failed", "Newly no stop");
    for (ComparedCondition c : summary.comparison().conditions()) {
      table.row(
          c.name(),
          Words.verdict(c.verdict()),
          c.paired() ? Integer.toString(c.pairs()) : "none",
          c.shift().isEmpty() ? "–" : Numbers.signedMillimetres(c.shift()),
          c.shift().isEmpty()
              ? "–"
              : c.isConstant() ? "same in every pair" : Numbers.millimetres(c.shiftInterval()),
          change(c.paired(), c.newlyFailed(), c.newlyPassed()),
          change(c.paired(), c.newlyWithoutStop(), c.newlyStopped()));
    }
    List<Content> parts = new ArrayList<>(List.of(Html.table(table)));
    Comparison comparison = summary.comparison();
    if (!comparison.onlyBefore().isEmpty()) {
      parts.add(
          Html.paragraph(
              "Only in the baseline: " + String.join("; ", comparison.onlyBefore()) + "."));
    }
    if (!comparison.onlyAfter().isEmpty()) {
      parts.add(
          Html.paragraph(
              "Only in this run, not compared: "
                  + String.join("; ", comparison.onlyAfter())
                  + "."));
    }
    return Html.all(parts);
  }

  /** Pairs that got worse; where the trials are no pairs, the counts of both runs. */
  private static String change(boolean paired, int worse, int better) {
    return paired ? Integer.toString(worse) : worse + " (baseline " + better + ")";
  }

  private static Optional<Content> changes(ComparisonSummary summary) {
    String title = "What changed between the runs";
    if (summary.changes().isEmpty()) {
      return Html.section(
          "changes-section",
          title,
          Html.paragraph("Nothing: build, bench, plan and settings are the same."));
    }
    Table table =
        new Table("Build, bench, plan and settings; lines that are the same are left out.")
            .columns(Table.LEFT, "What", "Baseline", "This run");
    for (HeaderChanges.Change change : summary.changes()) {
      table.row(change.what(), word(change.before()), word(change.after()));
    }
    return Html.section("changes-section", title, Html.table(table));
  }

  private static String word(String text) {
    return text.isEmpty() ? "–" : text;
  }
}
