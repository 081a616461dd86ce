package org.stopwell.harness.report;

import java.util.Locale;
import org.stopwell.harness.trial.Outcome;

/**
 * How an outcome is shown: stop errors in mm, times in s, shares in percent.
 *
 * @param word the unit
 * @param of what one base unit of the outcome is in it
 * @param decimals decimals that are shown
 */
record ExploreUnit(String word, double of, int decimals) {
  static ExploreUnit of(Outcome outcome) {
    return switch (outcome) {
      case STOP_ERROR -> new ExploreUnit("mm", 0.001, 3);
      case TIME -> new ExploreUnit("s", 0.001, 2);
      default -> new ExploreUnit("%", 100, 2);
    };
  }

  /** A number in this unit, without the word. */
  String number(double base) {
    return Double.isNaN(base)
        ? "–"
        : String.format(Locale.ROOT, "%." + decimals + "f", base * of).replace('-', '−');
  }

  /** A number with the word. */
  String text(double base) {
    return number(base) + " " + word;
  }

  /** How bad a trial is: a length for the outcomes that have one. */
  static String badness(Outcome outcome, long badness) {
    return switch (outcome) {
      case STOP_ERROR, EARLY_STOP, FALSELY_SURE ->
          String.format(Locale.ROOT, "%.3f mm off", badness / 1000.0);
      case OVER_TRAVEL -> String.format(Locale.ROOT, "%.3f mm past", badness / 1000.0);
      case TIME -> String.format(Locale.ROOT, "%.2f s", badness / 1000.0);
      case REFUSAL -> "refused";
    };
  }
}
