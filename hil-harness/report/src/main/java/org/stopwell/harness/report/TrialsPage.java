package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/** The trials of one run, with a filter. */
public final class TrialsPage {
  /** More rows make a page slow and no clearer; assumed. */
  private static final int MOST = 500;

  private TrialsPage() {}

  /**
   * What is asked for; every part may be empty.
   *
   * @param text words that number, condition, verdict, cause or message must hold, each of them
   * @param condition name of the condition
   * @param verdict verdict
   */
  public record Filter(String text, String condition, String verdict) {
    boolean takes(TrialResult t) {
      String all =
          String.join(
                  " ",
                  Integer.toString(t.index() + 1),
                  t.condition(),
                  t.verdict().name(),
                  t.code(),
                  t.message())
              .toLowerCase(Locale.ROOT);
      return Arrays.stream(text.toLowerCase(Locale.ROOT).split("\\s+")).allMatch(all::contains)
          && (condition.isEmpty() || condition.equals(t.condition()))
          && (verdict.isEmpty() || verdict.equals(t.verdict().name()));
    }
  }

  /**
   * Writes the page.
   *
   * @param name name of the run directory
   * @param evidence what counts of the run
   * @param filter what is asked for
   * @param address address of this page; a trial is one step below it
   * @param place the way back
   * @return HTML
   */
  public static String html(
      String name, Evidence evidence, Filter filter, String address, Place place) {
    RunHeader header = evidence.header();
    List<TrialResult> all = evidence.trials();
    List<TrialResult> shown = all.stream().filter(filter::takes).toList();
    List<Content> parts = new ArrayList<>();
    List<String> conditions = new ArrayList<>(List.of(""));
    header.conditions().stream().map(Condition::name).forEach(conditions::add);
    List<String> verdicts = new ArrayList<>(List.of(""));
    all.stream().map(t -> t.verdict().name()).distinct().sorted().forEach(verdicts::add);
    parts.add(
        Html.form(
            new Form(
                "Filter of the trials",
                address,
                Form.FILTER,
                List.of(
                    Form.Field.text("text", "Search", filter.text()),
                    new Form.Field("condition", "Condition", filter.condition(), conditions, "all"),
                    new Form.Field("verdict", "Verdict", filter.verdict(), verdicts, "all")))));
    if (all.isEmpty()) {
      parts.add(Html.paragraph("No trial yet."));
    } else if (shown.isEmpty()) {
      parts.add(Html.paragraph("No trial matches the filter. " + all.size() + " are hidden."));
    } else {
      parts.add(Html.table(table(shown, all.size(), address)));
    }
    return Sheet.of(
        "Trials of " + name + Words.label(header.label()),
        Words.banner(header),
        List.of(
            "Plan "
                + header.planName()
                + (header.origin().imported() ? "" : ", " + header.bench().kind() + " bench"),
            "Stop error: true distance to the foramen at standstill minus standoff (set distance"
                + " short of the foramen). Above 0: stopped early; below 0: late."),
        parts,
        place);
  }

  private static Table table(List<TrialResult> shown, int all, String address) {
    Table table =
        new Table(
                (shown.size() == all ? "All " + all : shown.size() + " of " + all)
                    + (all == 1 ? " trial" : " trials")
                    + (shown.size() > MOST ? "; the first " + MOST + " are listed" : "")
                    + ", in run order.")
            .columns(Table.LEFT, "Trial", "Condition", "Verdict")
            .columns(Table.NUMBER, "Stop error", "Least distance to the foramen")
            .columns(Table.SENTENCE, "Message");
    shown.stream()
        .limit(MOST)
        .forEach(
            t ->
                table.row(
                    List.of(
                        new Table.Cell(
                            new Prose()
                                .link("Trial " + (t.index() + 1), address + "/" + (t.index() + 1)),
                            new Prose()),
                        Table.Cell.of(t.condition()),
                        Table.Cell.of(Words.verdict(t.verdict()), t.code()),
                        Table.Cell.of(
                            t.stopped() ? Numbers.signedMillimetres(t.stopErrorMicrons()) : "–"),
                        Table.Cell.of(
                            ConditionSummary.isAnalysed(t.verdict())
                                ? Numbers.signedMillimetres(t.deepestMicrons())
                                : "–"),
                        Table.Cell.of(t.message()))));
    return table;
  }
}
