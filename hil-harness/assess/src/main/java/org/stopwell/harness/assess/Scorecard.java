package org.stopwell.harness.assess;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.harness.assess.AssessmentChoice.Pairing;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;

/**
 * The counts of one estimator in one condition on one tooth model.
 *
 * @param pairing which estimator in which condition
 * @param model the tooth model of these members
 * @param trials how many trials
 * @param stopped how many were stopped at the standoff
 * @param withinHalf how many of those came to rest within 0.5 mm of it
 * @param pecking how many of the stopped had a hand that moves up and down
 * @param peckingWithinHalf how many of those came to rest within 0.5 mm of it
 * @param withinQuarter how many of the stopped came to rest within 0.25 mm of it
 * @param past how many were past the foramen at any time
 * @param sureAndWrong in how many a reading was sure and off by more than 0.5 mm
 * @param sure how many of the stopped were sure at the stop
 * @param medianSeconds median time to the stop, s
 */
record Scorecard(
    Pairing pairing,
    ToothModel model,
    long trials,
    long stopped,
    long withinHalf,
    long pecking,
    long peckingWithinHalf,
    long withinQuarter,
    long past,
    long sureAndWrong,
    long sure,
    double medianSeconds) {
  private static final double CONFIDENCE = 0.95;

  /** What one of the headings means. */
  static final String SURE_AND_WRONG =
      "Sure and wrong: a reading of trust SURE is off by more than 0.5 mm while the file turns, with"
          + " file or reading within 1.5 mm of the foramen";

  static final List<String> HEADINGS =
      List.of(
          "trials",
          "stopped, of all",
          "within 0.5 mm, of stopped",
          "the same, of pecking hands",
          "within 0.25 mm, of stopped",
          "past the foramen, of all",
          "sure and wrong, of all",
          "refused, of all",
          "sure at the stop, of stopped",
          "median time to the stop, s");

  static Scorecard of(Pairing pairing, ToothModel model, List<VisitOutcome> all) {
    List<VisitOutcome> stops = all.stream().filter(VisitOutcome::stopped).toList();
    List<VisitOutcome> pecking = stops.stream().filter(VisitOutcome::pecking).toList();
    double[] seconds = stops.stream().mapToDouble(o -> o.stopNs() * 1e-9).sorted().toArray();
    return new Scorecard(
        pairing,
        model,
        all.size(),
        stops.size(),
        within(stops, 500),
        pecking.size(),
        within(pecking, 500),
        within(stops, 250),
        all.stream().filter(VisitOutcome::pastForamen).count(),
        all.stream().filter(VisitOutcome::sureAndWrong).count(),
        stops.stream().filter(VisitOutcome::sure).count(),
        seconds.length == 0 ? Double.NaN : seconds[seconds.length / 2]);
  }

  private static long within(List<VisitOutcome> stops, int microns) {
    return stops.stream().filter(o -> Math.abs(o.errorMicrons()) <= microns).count();
  }

  /** Estimator and condition. */
  String tried() {
    return pairing.estimator() + ", " + pairing.condition().words;
  }

  /** The tooth model. */
  String where() {
    return model.word() + " tooth model";
  }

  /** The cells of a row under {@link #HEADINGS}. */
  List<String> cells() {
    return List.of(
        Long.toString(trials),
        percent(stopped, trials, 1),
        percent(withinHalf, stopped, 1),
        percent(peckingWithinHalf, pecking, 1),
        percent(withinQuarter, stopped, 1),
        percent(past, trials, 1),
        // the aim is one in ten thousand
        percent(sureAndWrong, trials, 3),
        percent(trials - stopped, trials, 1),
        percent(sure, stopped, 1),
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
    all.put("tooth_model", model.word());
    all.put("trials", trials);
    all.put("stopped", stopped);
    all.put("within_0.5_mm", withinHalf);
    all.put("pecking", pecking);
    all.put("pecking_within_0.5_mm", peckingWithinHalf);
    all.put("within_0.25_mm", withinQuarter);
    all.put("past_foramen", past);
    all.put("sure_and_wrong", sureAndWrong);
    all.put("refused", trials - stopped);
    all.put("sure", sure);
    return all;
  }
}
