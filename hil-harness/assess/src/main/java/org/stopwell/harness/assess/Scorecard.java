package org.stopwell.harness.assess;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.harness.assess.AssessmentChoice.Pairing;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;

/**
 * The counts of one estimator in one condition on one family of teeth.
 *
 * @param pairing which estimator in which condition
 * @param family the family of these members
 * @param trials how many trials
 * @param driven in how many the motor turned
 * @param stopped how many were stopped at the standoff
 * @param withinHalf how many of those came to rest within 0.5 mm of it
 * @param pecking how many of the stopped had a hand that moves up and down
 * @param peckingWithinHalf how many of those came to rest within 0.5 mm of it
 * @param past how many were past the foramen at any time
 * @param readWithinHalf how many of the stopped were read within 0.5 mm where the stop was decided
 * @param bounded how many of the stopped had a stated bound there
 * @param covered how many of those bounds held
 * @param sure how many of the stopped were sure there
 * @param sureOffHalf how many of those were read wrong by more than 0.5 mm
 * @param sureOffOne how many of those were read wrong by more than 1 mm
 * @param sureAndWrong in how many a reading was sure and off by more than 0.5 mm at any time
 * @param medianSeconds median time to the stop, s
 */
record Scorecard(
    Pairing pairing,
    Family family,
    long trials,
    long driven,
    long stopped,
    long withinHalf,
    long pecking,
    long peckingWithinHalf,
    long past,
    long readWithinHalf,
    long bounded,
    long covered,
    long sure,
    long sureOffHalf,
    long sureOffOne,
    long sureAndWrong,
    double medianSeconds) {
  private static final double CONFIDENCE = 0.95;

  /** What one of the headings means. */
  static final String SURE_AND_WRONG =
      "Sure and wrong at any time: a reading of trust SURE is off by more than 0.5 mm while the file"
          + " turns, with file or reading within 1.5 mm of the foramen";

  static final List<String> HEADINGS =
      List.of(
          "trials",
          "stopped, of all",
          "at rest within 0.5 mm, of stopped",
          "the same, of pecking hands",
          "past the foramen, of driven",
          "refused, of all",
          "read within 0.5 mm at the decision, of stopped",
          "stated bound holds at the decision",
          "SURE at the decision, of stopped",
          "off by more than 0.5 mm, of SURE",
          "off by more than 1 mm, of SURE",
          "sure and wrong at any time, of all",
          "median time to the stop, s");

  static Scorecard of(Pairing pairing, Family family, List<VisitOutcome> all) {
    List<VisitOutcome> stops = all.stream().filter(VisitOutcome::stopped).toList();
    List<VisitOutcome> pecking = stops.stream().filter(VisitOutcome::pecking).toList();
    List<VisitOutcome> bounded = stops.stream().filter(o -> o.boundMicrons() > 0).toList();
    List<VisitOutcome> sure = stops.stream().filter(VisitOutcome::sure).toList();
    double[] seconds = stops.stream().mapToDouble(o -> o.stopNs() * 1e-9).sorted().toArray();
    return new Scorecard(
        pairing,
        family,
        all.size(),
        all.stream().filter(VisitOutcome::driven).count(),
        stops.size(),
        within(stops, 500),
        pecking.size(),
        within(pecking, 500),
        all.stream().filter(VisitOutcome::pastForamen).count(),
        stops.stream().filter(o -> !o.offBy(500)).count(),
        bounded.size(),
        bounded.stream().filter(VisitOutcome::covered).count(),
        sure.size(),
        sure.stream().filter(o -> o.offBy(500)).count(),
        sure.stream().filter(o -> o.offBy(1000)).count(),
        all.stream().filter(VisitOutcome::sureAndWrong).count(),
        seconds.length == 0 ? Double.NaN : seconds[seconds.length / 2]);
  }

  private static long within(List<VisitOutcome> stops, int microns) {
    return stops.stream().filter(o -> Math.abs(o.errorMicrons()) <= microns).count();
  }

  /** Estimator and condition. */
  String tried() {
    return pairing.estimator() + ", " + pairing.condition().words;
  }

  /** The family of teeth. */
  String where() {
    return "family " + family.word();
  }

  /** The cells of a row under {@link #HEADINGS}. */
  List<String> cells() {
    return List.of(
        Long.toString(trials),
        percent(stopped, trials, 1),
        percent(withinHalf, stopped, 1),
        percent(peckingWithinHalf, pecking, 1),
        percent(past, driven, 1),
        percent(trials - stopped, trials, 1),
        percent(readWithinHalf, stopped, 1),
        percent(covered, bounded, 1),
        percent(sure, stopped, 1),
        percent(sureOffHalf, sure, 1),
        percent(sureOffOne, sure, 1),
        percent(sureAndWrong, trials, 1),
        Double.isNaN(medianSeconds) ? "–" : String.format(Locale.ROOT, "%.1f", medianSeconds));
  }

  private static String percent(long count, long of, int decimals) {
    if (of == 0) {
      return "–";
    }
    Interval exact = new Proportion(count, of).clopperPearson(CONFIDENCE).orElseThrow();
    String share = "%." + decimals + "f";
    return String.format(
        Locale.ROOT,
        share + " %% (" + share + "–" + share + ")",
        100.0 * count / of,
        100 * exact.low(),
        100 * exact.high());
  }

  /** The counts by name, for JSON. */
  Map<String, Object> json() {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("estimator", pairing.estimator().toString());
    all.put("condition", pairing.condition().words);
    all.put("family", family.word());
    all.put("trials", trials);
    all.put("driven", driven);
    all.put("stopped", stopped);
    all.put("within_0.5_mm", withinHalf);
    all.put("pecking", pecking);
    all.put("pecking_within_0.5_mm", peckingWithinHalf);
    all.put("past_foramen", past);
    all.put("refused", trials - stopped);
    all.put("read_within_0.5_mm", readWithinHalf);
    all.put("bounded", bounded);
    all.put("covered", covered);
    all.put("sure", sure);
    all.put("sure_off_0.5_mm", sureOffHalf);
    all.put("sure_off_1_mm", sureOffOne);
    all.put("sure_and_wrong", sureAndWrong);
    return all;
  }
}
