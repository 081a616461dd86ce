package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.Function;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.harness.trace.TraceScore;
import org.stopwell.harness.trace.TraceScoreFile;
import org.stopwell.harness.trace.TraceScorer;
import org.stopwell.harness.trace.TraceSummary;
import org.stopwell.harness.trace.TraceSummary.Measure;
import org.stopwell.harness.trace.TraceSummary.Share;

/**
 * The scores of a directory of traces, for people and for programs.
 *
 * @param settings name of the settings file
 * @param stage stage of work
 * @param coast how the travel from the decision to rest was found, in words
 * @param simulated whether the traces are simulated
 * @param scores one for each trace, at least one
 * @param summaries their counts by fluid
 * @param notes what a reader must know about these traces
 */
public record TraceScoreReport(
    String settings,
    String stage,
    String coast,
    boolean simulated,
    List<TraceScore> scores,
    List<TraceSummary> summaries,
    List<String> notes) {
  static final String INTERVALS =
      "Intervals are exact, 95 %, and count teeth: one share for each tooth.";

  /** Copies the lists. */
  public TraceScoreReport {
    scores = List.copyOf(scores);
    summaries = List.copyOf(summaries);
    notes = List.copyOf(notes);
  }

  /** Travel between two samples beyond which a decision can come late, µm: 0.1 mm, assumed. */
  private static final int COARSE_MICRONS = 100;

  /**
   * The report of scored traces.
   *
   * @param settings name of the settings file
   * @param stage stage of work
   * @param scorer what scored them
   * @param traces where they are
   * @param scores one for each trace
   * @return the report
   */
  public static TraceScoreReport of(
      String settings,
      String stage,
      TraceScorer scorer,
      TraceDirectory traces,
      List<TraceScore> scores) {
    String coast =
        scorer.coastMicrons() < 0
            ? "what the file travels in the trace within reaction_ms, "
                + scorer.reactionNs() / 1_000_000
                + " ms"
            : Numbers.plainMillimetres(scorer.coastMicrons()) + ", as asked for";
    return new TraceScoreReport(
        settings,
        stage,
        coast,
        traces.simulated(),
        scores,
        TraceSummary.byFluid(scores),
        notes(scorer, traces, scores));
  }

  private static List<String> notes(
      TraceScorer scorer, TraceDirectory traces, List<TraceScore> scores) {
    List<String> notes = new ArrayList<>();
    if (!traces.unread().isEmpty()) {
      notes.add(
          "manifest.csv: columns without meaning here: " + String.join(", ", traces.unread()));
    }
    List<String> taught =
        scores.stream()
            .map(s -> s.approach().tooth())
            .distinct()
            .filter(scorer.taught()::contains)
            .toList();
    if (!taught.isEmpty()) {
      notes.add(
          "the weights were taught with "
              + Words.count(taught.size(), "tooth", "teeth")
              + " of these, so the scores are no test of them: "
              + String.join(", ", taught));
    }
    long slow = scores.stream().filter(scorer::slow).count();
    if (slow > 0) {
      notes.add(
          Words.count(slow, "trace")
              + " sampled slowly, up to every "
              + scores.stream().mapToLong(TraceScore::sampleNs).max().orElse(0) / 1_000_000
              + " ms: scored with guard.signal_age_ms at twice the time between two samples,"
              + " not at "
              + scorer.signalAgeNs() / 1_000_000
              + " ms");
    }
    long coarse = scores.stream().filter(s -> s.travelMicrons() > COARSE_MICRONS).count();
    if (coarse > 0) {
      notes.add(
          "sampling too coarse: in "
              + Words.count(coarse, "trace")
              + " the file travels more than "
              + Numbers.plainMillimetres(COARSE_MICRONS)
              + " between two samples near the foramen; the decision can come late by that much");
    }
    return notes;
  }

  int toleranceMicrons() {
    return scores.get(0).toleranceMicrons();
  }

  int standoffMicrons() {
    return scores.get(0).standoffMicrons();
  }

  /** What was scored and how, a sentence each. */
  List<String> head() {
    TraceSummary all = summaries.get(summaries.size() - 1);
    List<String> head = new ArrayList<>();
    head.add(
        Words.count(all.traces(), simulated ? "simulated trace" : "trace")
            + " of "
            + Words.count(all.teeth(), "tooth", "teeth")
            + ", settings "
            + settings
            + ", stage "
            + stage);
    head.add(
        "standoff (set distance short of the foramen) "
            + Numbers.plainMillimetres(standoffMicrons())
            + ", tolerance "
            + Numbers.plainMillimetres(toleranceMicrons()));
    head.add("coast (travel from the decision to rest): " + coast);
    head.addAll(notes);
    return head;
  }

  /** The words for what is counted. */
  String words(Measure measure) {
    String tolerance = Numbers.plainMillimetres(toleranceMicrons());
    return switch (measure) {
      case STOPPED -> "stopped, of all";
      case WITHIN -> "within " + tolerance + ", of stopped";
      case PAST -> "past the foramen, of driven";
      case REFUSED -> "refused, of all";
      case NO_STOP -> "no decision, of all";
      case SURE -> "SURE at the stop, of stopped";
      case SURE_AND_WRONG -> "off by more than " + tolerance + ", of SURE";
      case SURE_AND_FAR_WRONG ->
          "off by more than " + Numbers.plainMillimetres(2 * toleranceMicrons()) + ", of SURE";
      case COVERED -> "stated bound covers, of stated";
    };
  }

  /**
   * Prints the counts.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    head().forEach(out);
    out.accept("");
    TextTable table = new TextTable("l" + "r".repeat(summaries.size()));
    rows().forEach(row -> table.row(row.toArray(String[]::new)));
    table.print(out);
    out.accept("");
    out.accept(INTERVALS);
  }

  /** The table: a head, then a row for each measure. */
  List<List<String>> rows() {
    List<List<String>> rows = new ArrayList<>();
    rows.add(row("", TraceSummary::name));
    rows.add(row("traces", s -> Integer.toString(s.traces())));
    rows.add(row("teeth", s -> Integer.toString(s.teeth())));
    for (Measure measure : Measure.values()) {
      rows.add(row(words(measure), s -> percent(s.share(measure))));
    }
    return rows;
  }

  private List<String> row(String head, Function<TraceSummary, String> cell) {
    List<String> row = new ArrayList<>(List.of(head));
    summaries.forEach(s -> row.add(cell.apply(s)));
    return row;
  }

  private static String percent(Share share) {
    if (share.interval().isEmpty()) {
      return "–";
    }
    Interval exact = share.interval().get();
    return String.format(
        Locale.ROOT,
        "%.1f %% (%.1f–%.1f)",
        100 * share.counted().estimate().orElseThrow(),
        Math.floor(1000 * exact.low()) / 10,
        Math.ceil(1000 * exact.high()) / 10);
  }

  /**
   * Everything by name.
   *
   * @return for JSON
   */
  public Map<String, Object> values() {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("settings", settings);
    all.put("stage", stage);
    all.put("standoff_mm", standoffMicrons() / 1000.0);
    all.put("tolerance_mm", toleranceMicrons() / 1000.0);
    all.put("coast", coast);
    all.put("simulated", simulated);
    all.put("notes", notes);
    all.put("confidence", TraceSummary.CONFIDENCE);
    all.put("fluids", summaries.stream().map(TraceScoreReport::values).toList());
    all.put("traces", scores.stream().map(TraceScoreFile::values).toList());
    return all;
  }

  private static Map<String, Object> values(TraceSummary summary) {
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("fluid", summary.name());
    values.put("traces", summary.traces());
    values.put("teeth", summary.teeth());
    summary
        .shares()
        .forEach(
            (measure, share) -> {
              Map<String, Object> of = new LinkedHashMap<>();
              of.put("count", share.counted().count());
              of.put("of", share.counted().trials());
              share.counted().estimate().ifPresent(e -> of.put("share", e));
              share
                  .interval()
                  .ifPresent(
                      i -> {
                        of.put("low", i.low());
                        of.put("high", i.high());
                      });
              values.put(measure.name().toLowerCase(Locale.ROOT), of);
            });
    return values;
  }
}
