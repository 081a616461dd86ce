package org.stopwell.harness.assess;

import java.util.List;
import java.util.Locale;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;

/**
 * What came of one estimator in one condition on one network, in counts. Past the foramen, falsely
 * sure and refused count of all trials, the bands of those that stopped.
 *
 * @param estimator which estimator
 * @param condition which condition
 * @param network by which network the teeth were
 * @param trials how many trials
 * @param stopped how many were stopped at the standoff
 * @param withinHalf how many of those came to rest within 0.5 mm of it
 * @param pecking how many of the stopped were by a hand that goes up and down
 * @param peckingWithinHalf how many of those came to rest within 0.5 mm of it
 * @param withinQuarter how many of those came to rest within 0.25 mm of it
 * @param past how many went past the foramen
 * @param falselySure in how many a reading was called sure and off by more than 0.5 mm
 * @param sure how many of the stopped were sure of it
 * @param medianSeconds median time to the stop, s
 */
record Scorecard(
    Estimator estimator,
    Condition condition,
    Network network,
    long trials,
    long stopped,
    long withinHalf,
    long pecking,
    long peckingWithinHalf,
    long withinQuarter,
    long past,
    long falselySure,
    long sure,
    double medianSeconds) {
  static final double CONFIDENCE = 0.95;

  static final List<String> HEADINGS =
      List.of(
          "n",
          "stopped",
          "within 0.5 mm",
          "pecking hands",
          "within 0.25 mm",
          "past the foramen",
          "falsely sure",
          "refused",
          "sure at the stop",
          "median time, s");

  static Scorecard of(
      Estimator estimator, Condition condition, Network network, List<Outcome> all) {
    List<Outcome> stops = all.stream().filter(Outcome::stopped).toList();
    List<Outcome> pecking = stops.stream().filter(Outcome::pecking).toList();
    double[] seconds = stops.stream().mapToDouble(o -> o.stopNs() * 1e-9).sorted().toArray();
    return new Scorecard(
        estimator,
        condition,
        network,
        all.size(),
        stops.size(),
        within(stops, 500),
        pecking.size(),
        within(pecking, 500),
        within(stops, 250),
        all.stream().filter(Outcome::pastForamen).count(),
        all.stream().filter(Outcome::falselySure).count(),
        stops.stream().filter(Outcome::sure).count(),
        seconds.length == 0 ? Double.NaN : seconds[seconds.length / 2]);
  }

  private static long within(List<Outcome> stops, int microns) {
    return stops.stream().filter(o -> Math.abs(o.errorMicrons()) <= microns).count();
  }

  /** Where it was: condition and network. */
  String where() {
    return condition.words + ", " + network.word() + " network";
  }

  /** The cells of a row under {@link #HEADINGS}. */
  List<String> cells() {
    return List.of(
        Long.toString(trials),
        percent(stopped, trials),
        percent(withinHalf, stopped),
        percent(peckingWithinHalf, pecking),
        percent(withinQuarter, stopped),
        percent(past, trials),
        // aimed at is one in ten thousand
        percent(falselySure, trials, 3),
        percent(trials - stopped, trials),
        percent(sure, stopped),
        Double.isNaN(medianSeconds) ? "–" : String.format(Locale.ROOT, "%.1f", medianSeconds));
  }

  private static String percent(long count, long of) {
    return percent(count, of, 1);
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

  /** One JSON object. */
  String json() {
    return String.format(
        Locale.ROOT,
        "{\"estimator\": \"%s\", \"condition\": \"%s\", \"network\": \"%s\", \"trials\": %d,"
            + " \"stopped\": %d, \"within_0.5_mm\": %d, \"pecking\": %d,"
            + " \"pecking_within_0.5_mm\": %d, \"within_0.25_mm\": %d,"
            + " \"past_foramen\": %d, \"falsely_sure\": %d, \"refused\": %d, \"sure\": %d}",
        estimator.words(),
        condition.words,
        network.word(),
        trials,
        stopped,
        withinHalf,
        pecking,
        peckingWithinHalf,
        withinQuarter,
        past,
        falselySure,
        trials - stopped,
        sure);
  }
}
