package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import org.stopwell.core.frame.State;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Said;
import org.stopwell.harness.trial.TrialResult;

/** One trial as a page of its own: trace, error chain, and why the file stopped. */
public final class TrialPage {
  private TrialPage() {}

  /**
   * One course of the trial.
   *
   * @param series its steps
   * @param said every change of state with its reason; empty where it is not known
   * @param note where the course comes from, one sentence
   */
  public record Course(TraceSeries series, List<Said> said, String note) {
    /** Takes a copy. */
    public Course {
      said = List.copyOf(said);
    }

    private OptionalDouble stopSeconds() {
      return said.stream()
          .filter(s -> s.to() == State.HOLDING)
          .mapToDouble(s -> s.timeNs() / 1e9)
          .reduce((first, last) -> last);
    }
  }

  /**
   * The same trial with other settings.
   *
   * @param name what the settings are called
   * @param course its course
   * @param result its result; empty where only the recording could be replayed
   * @param endsNs where the recording ends to apply to these settings, ns; empty where it does not
   */
  public record Other(
      String name, Course course, Optional<TrialResult> result, OptionalLong endsNs) {}

  /**
   * Writes the page.
   *
   * @param header the run, with the names of its conditions
   * @param trial the trial as it counts
   * @param own its recorded course
   * @param other the same trial with other settings
   * @param place where the page stands in the console
   * @return HTML that needs nothing beside it
   */
  public static String html(
      RunHeader header, TrialResult trial, Course own, Optional<Other> other, Place place) {
    String label = Words.label(header.label());
    Condition condition = Report.condition(header, trial);
    List<Content> parts = new ArrayList<>();
    parts.add(Html.verdict(trial.verdict(), trial.message()));
    if (!place.settings().isEmpty()) {
      List<String> choices = new ArrayList<>(List.of(""));
      choices.addAll(place.settings());
      parts.add(
          Html.form(
              new Form(
                  "Replay with other settings",
                  Integer.toString(trial.index() + 1),
                  "Draw over the trace",
                  List.of(
                      new Form.Field(
                          "settings", "Settings", place.chosen(), choices, "as recorded")))));
    }
    parts.add(numbers(trial, other));
    trace(trial, condition, own, other, label).ifPresent(parts::add);
    chain(trial, other, label).ifPresent(parts::add);
    said(trial, own, other).ifPresent(parts::add);
    List<String> notes = new ArrayList<>();
    notes.add("Run: " + Words.run(header));
    notes.add(
        "Condition: "
            + trial.condition()
            + ". Standoff (set distance short of the foramen) "
            + Numbers.plainMillimetres(condition.standoffMicrons())
            + ", tolerance ±"
            + Numbers.plainMillimetres(condition.toleranceMicrons()));
    notes.add(own.note());
    other.ifPresent(
        o -> notes.add("Drawn over it, with settings " + o.name() + ": " + o.course().note()));
    return Sheet.of(
        "Trial "
            + (trial.index() + 1)
            + " of "
            + header.planName()
            + other.map(o -> ", with other settings").orElse("")
            + label,
        Words.banner(header),
        notes,
        parts,
        place);
  }

  private static Content numbers(TrialResult trial, Optional<Other> other) {
    Table table = new Table("The result in numbers.").columns(Table.LEFT, "Result");
    List<TrialResult> results = new ArrayList<>(List.of(trial));
    other.flatMap(Other::result).ifPresent(results::add);
    table.columns(Table.LEFT, "Recorded");
    if (results.size() > 1) {
      table.columns(Table.LEFT, "With " + other.orElseThrow().name());
    }
    row(table, "Verdict", results, t -> Words.verdict(t.verdict()) + " " + t.code());
    row(
        table,
        "Stop error",
        results,
        t -> t.stopped() ? Numbers.signedMillimetres(t.stopErrorMicrons()) : "no stop");
    row(
        table,
        "Distance to the foramen at standstill",
        results,
        t -> t.stopped() ? Numbers.plainMillimetres(t.remainingMicrons()) : "no stop");
    row(
        table,
        "Least distance to the foramen",
        results,
        t ->
            Numbers.plainMillimetres(Math.abs(t.deepestMicrons()))
                + (t.deepestMicrons() < 0 ? " past it" : " short of it"));
    row(
        table,
        "Reading at the decision",
        results,
        t ->
            t.stopped()
                ? Numbers.plainMillimetres(t.readingMicrons())
                    + (t.boundMicrons() > 0
                        ? " ± " + Numbers.plainMillimetres(t.boundMicrons()) + " (stated bound)"
                        : "")
                : "no stop");
    row(table, "Trust and cause", results, t -> t.trust() + " " + t.cause());
    row(table, "Last state and reason", results, t -> t.state() + " " + t.reason());
    row(
        table,
        "Decision to stop after",
        results,
        t -> t.stopped() ? seconds(t.stopTimeNs()) : "no stop");
    row(table, "Duration", results, t -> seconds(t.durationNs()));
    row(table, "Seed", results, t -> Long.toString(t.seed()));
    return Html.table(table);
  }

  private interface Value {
    String of(TrialResult trial);
  }

  private static void row(Table table, String name, List<TrialResult> results, Value value) {
    List<String> cells = new ArrayList<>(List.of(name));
    results.forEach(r -> cells.add(value.of(r)));
    table.row(cells.toArray(String[]::new));
  }

  private static String seconds(long ns) {
    return String.format(Locale.ROOT, "%.3f\u00a0s", ns / 1e9);
  }

  private static Optional<Content> trace(
      TrialResult trial, Condition condition, Course own, Optional<Other> other, String label) {
    if (own.series().steps().size() < 2) {
      return Optional.empty();
    }
    List<Drawing> drawings = new ArrayList<>();
    List<Legend.Entry> legend = new ArrayList<>(Legend.TRACE);
    if (other.isPresent()) {
      Other o = other.get();
      TraceChart.Over over =
          new TraceChart.Over(
              o.course().series(), o.result().isPresent(), o.course().stopSeconds());
      drawings.add(TraceChart.whole("trace", trial, condition, own.series(), over).all(label));
      if (trial.stopped()) {
        drawings.add(
            TraceChart.closeUp("trace", trial, condition, own.series(), over).position(label));
      }
      legend.addAll(Legend.OVER);
    } else {
      drawings.add(TraceChart.whole("trace", trial, condition, own.series()).all(label));
      if (trial.stopped()) {
        drawings.add(TraceChart.closeUp("trace", trial, condition, own.series()).position(label));
      }
    }
    return Html.section(
        "trace-section",
        "Trace",
        Html.figure(
            new Figure(
                "",
                drawings,
                legend,
                "Figure 1" + label,
                trial.stopped()
                    ? "The whole trial, then the time around the decision to stop."
                    : "The whole trial. The file did not stop at the standoff.")));
  }

  private static Optional<Content> chain(TrialResult trial, Optional<Other> other, String label) {
    List<Drawing> drawings = new ArrayList<>();
    if (ChainChart.isSplit(trial)) {
      drawings.add(ChainChart.of("chain", trial).draw(label));
    }
    other
        .flatMap(Other::result)
        .filter(ChainChart::isSplit)
        .ifPresent(
            t ->
                drawings.add(
                    ChainChart.of("chain-other", t)
                        .draw(", with " + other.orElseThrow().name() + label)));
    if (drawings.isEmpty()) {
      return Optional.empty();
    }
    return Html.section(
        "chain-section",
        "Error chain",
        Html.figure(
            new Figure(
                "",
                drawings,
                List.of(),
                "Figure 2" + label,
                "Where the stop error comes from: six shares, from the standoff to the place of"
                    + " rest."
                    + (drawings.size() > 1 ? " Recorded above, with other settings below." : ""))));
  }

  private static Optional<Content> said(TrialResult trial, Course own, Optional<Other> other) {
    List<Content> parts = new ArrayList<>();
    parts.add(
        own.said().isEmpty()
            ? Html.paragraph(
                "This build does not reproduce the recording step by step, so it cannot state the"
                    + " reasons of the recorded controller. Last reason: "
                    + trial.reason()
                    + ".")
            : Html.table(table("Every change of state, as recorded.", own.said())));
    other.ifPresent(
        o -> {
          parts.add(
              Html.table(
                  table(
                      "Every change of state with settings " + o.name() + ".", o.course().said())));
          o.endsNs()
              .ifPresent(
                  at ->
                      parts.add(
                          Html.caution(
                              "From "
                                  + seconds(at)
                                  + " on these settings command the motor in another way. The"
                                  + " recording ends there to apply: what a physical bench would"
                                  + " have done after it is not known.")));
        });
    return Html.section("said-section", "Why it started and stopped", Html.all(parts));
  }

  private static Table table(String caption, List<Said> said) {
    Table table =
        new Table(caption).columns(Table.LEFT, "Time", "State").columns(Table.SENTENCE, "Reason");
    for (Said s : said) {
      table.row(seconds(s.timeNs()), s.to().name(), s.sentence());
    }
    return table;
  }
}
