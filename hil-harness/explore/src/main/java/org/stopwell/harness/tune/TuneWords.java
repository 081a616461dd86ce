package org.stopwell.harness.tune;

import java.util.Locale;
import java.util.Optional;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;

/** How the numbers of a tuning are written. */
public final class TuneWords {
  private TuneWords() {}

  /**
   * A measure with its unit.
   *
   * @param measure which
   * @param value a share, s or mm
   * @return such as {@code 0.45 %}, {@code 12.34 s} or {@code 0.312 mm}
   */
  public static String value(TuneTarget.Measure measure, double value) {
    if (Double.isNaN(value)) {
      return Numbers.NOT_ESTIMABLE;
    }
    return number(measure, value) + " " + unit(measure);
  }

  /**
   * A measure with its 95 % interval.
   *
   * @param measure which
   * @param of what was measured
   * @return such as {@code 0.45 % [0.21, 0.85]}
   */
  public static String withInterval(TuneTarget.Measure measure, Measured of) {
    return value(measure, of.value(measure)) + bracket(measure, of.interval(measure, 0.95));
  }

  /**
   * A paired difference with its interval.
   *
   * @param of the difference
   * @return such as {@code −1.20 points [−2.00, −0.40]}
   */
  public static String difference(Paired of) {
    if (Double.isNaN(of.difference())) {
      return Numbers.NOT_ESTIMABLE;
    }
    return signed(number(of.measure(), of.difference()))
        + (of.measure().isShare() ? " points" : " " + of.measure().unit())
        + of.interval()
            .map(
                i ->
                    " ["
                        + signed(number(of.measure(), i.low()))
                        + ", "
                        + signed(number(of.measure(), i.high()))
                        + "]")
            .orElse("");
  }

  private static String bracket(TuneTarget.Measure measure, Optional<Interval> interval) {
    return interval
        .map(i -> " [" + number(measure, i.low()) + ", " + number(measure, i.high()) + "]")
        .orElse("");
  }

  private static String unit(TuneTarget.Measure measure) {
    return measure.isShare() ? "%" : measure.unit();
  }

  private static String number(TuneTarget.Measure measure, double value) {
    String text =
        switch (measure) {
          case OVER_TRAVEL, EARLY_STOP, REFUSAL -> String.format(Locale.ROOT, "%.2f", 100 * value);
          case TIME -> String.format(Locale.ROOT, "%.2f", value);
          case STOP_ERROR_SPREAD -> String.format(Locale.ROOT, "%.3f", value);
        };
    boolean zero = text.matches("-[0.]+");
    return zero ? text.substring(1) : text.replace('-', '−');
  }

  private static String signed(String number) {
    return number.startsWith("−") || number.matches("[0.]+") ? number : "+" + number;
  }
}
