package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.stream.Stream;

/** The runs below a directory, with a filter, and the choice of two to compare. */
public final class RunsPage {
  /** Where the page is. */
  public static final String ADDRESS = "/results";

  /** Where a comparison is. */
  public static final String COMPARE = "/compare";

  private RunsPage() {}

  /**
   * One run.
   *
   * @param name name of its directory
   * @param plan name of its plan
   * @param bench its bench, and whether it is simulated
   * @param state what it does: finished or not
   * @param verdict its verdict; empty before the end
   * @param trials trials so far, of those planned
   * @param started when it began
   * @param page address of the list of its trials
   * @param report address of its report; empty without one
   * @param problem why it cannot be read; empty where it can
   */
  public record Run(
      String name,
      String plan,
      String bench,
      String state,
      String verdict,
      String trials,
      String started,
      String page,
      String report,
      String problem) {}

  /**
   * What is asked for; every part may be empty.
   *
   * @param text words that name, plan, bench or verdict must hold, each of them
   * @param state state
   * @param verdict verdict
   * @param plan name of the plan
   */
  public record Filter(String text, String state, String verdict, String plan) {
    boolean takes(Run run) {
      String all =
          String.join(" ", run.name(), run.plan(), run.bench(), run.verdict(), run.problem())
              .toLowerCase(Locale.ROOT);
      return Stream.of(text.toLowerCase(Locale.ROOT).split("\\s+")).allMatch(all::contains)
          && (state.isEmpty() || state.equals(run.state()))
          && (verdict.isEmpty() || verdict.equals(run.verdict()))
          && (plan.isEmpty() || plan.equals(run.plan()));
    }
  }

  /**
   * Writes the page.
   *
   * @param all every run, the newest first
   * @param filter what is asked for
   * @param place the way back
   * @return HTML
   */
  public static String html(List<Run> all, Filter filter, Place place) {
    List<Run> shown = all.stream().filter(filter::takes).toList();
    List<Content> parts = new ArrayList<>();
    parts.add(
        Html.form(
            new Form(
                "Filter of the runs",
                ADDRESS,
                Form.FILTER,
                List.of(
                    Form.Field.text("text", "Search", filter.text()),
                    choice("state", "State", filter.state(), all, Run::state),
                    choice("verdict", "Verdict", filter.verdict(), all, Run::verdict),
                    choice("plan", "Plan", filter.plan(), all, Run::plan)))));
    if (all.isEmpty()) {
      parts.add(Html.paragraph("No run yet. Start one with: stopwell run PLAN"));
    } else if (shown.isEmpty()) {
      parts.add(Html.paragraph("No run matches the filter. " + all.size() + " are hidden."));
    } else {
      parts.add(Html.table(table(shown, all.size())));
    }
    List<String> names = all.stream().filter(r -> r.problem().isEmpty()).map(Run::name).toList();
    if (names.size() > 1) {
      Html.section(
              "compare-section",
              "Compare two runs",
              Html.paragraph(
                  "The page shows how far the mean stop of each condition moved, against a margin,"
                      + " and which trials moved most."),
              Html.form(
                  new Form(
                      "Two runs to compare",
                      COMPARE,
                      "Compare",
                      List.of(
                          new Form.Field("run", "Run", names.get(0), names, ""),
                          new Form.Field("baseline", "Baseline", names.get(1), names, ""),
                          Form.Field.text("margin_mm", "Margin, mm", "0.05")))))
          .ifPresent(parts::add);
    }
    return Sheet.of("Runs on this machine", "", List.of(), parts, place);
  }

  private static Form.Field choice(
      String name, String label, String value, List<Run> all, Function<Run, String> of) {
    List<String> choices = new ArrayList<>(List.of(""));
    all.stream().map(of).filter(v -> !v.isEmpty()).distinct().sorted().forEach(choices::add);
    return new Form.Field(name, label, value, choices, "all");
  }

  private static Table table(List<Run> shown, int all) {
    Table table =
        new Table(
                shown.size() == all
                    ? "All " + Words.count(all, "run") + ", the newest first."
                    : shown.size() + " of " + Words.count(all, "run") + ", the newest first.")
            .columns(Table.LEFT, "Run", "Plan", "State", "Verdict")
            .columns(Table.NUMBER, "Trials")
            .columns(Table.LEFT, "Started", "Report");
    for (Run run : shown) {
      if (!run.problem().isEmpty()) {
        table.row(run.name(), run.problem(), "", "", "", "", "");
        continue;
      }
      table.row(
          List.of(
              new Table.Cell(new Prose().link(run.name(), run.page()), new Prose()),
              Table.Cell.of(run.plan(), run.bench()),
              Table.Cell.of(run.state()),
              Table.Cell.of(run.verdict()),
              Table.Cell.of(run.trials()),
              Table.Cell.of(run.started()),
              run.report().isEmpty()
                  ? Table.Cell.of("none")
                  : new Table.Cell(new Prose().link("Report", run.report()), new Prose())));
    }
    return table;
  }
}
