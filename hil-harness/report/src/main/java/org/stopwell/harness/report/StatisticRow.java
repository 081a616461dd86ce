package org.stopwell.harness.report;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;

/** One statistic on the page: its name, its number, and how it was come by. */
final class StatisticRow {
  private StatisticRow() {}

  /** Opens a finding; its number follows. */
  static void open(Markup out, String name) {
    out.start("div").element("dt", Words.tied(name)).start("dd");
  }

  /** Closes the number of a finding and says how it was come by. */
  static void how(Markup out, String how) {
    out.end().element("dd", Words.tied(how)).end();
  }

  static void write(Markup out, String name, String result, String how) {
    open(out, name);
    out.text(Words.tied(result));
    how(out, how);
  }

  static String millimetres(double microns) {
    return Double.isNaN(microns)
        ? Numbers.NOT_ESTIMABLE
        : Numbers.millimetres(OptionalDouble.of(microns));
  }

  /** An interval of lengths that have no sign. */
  static String plain(Optional<Interval> microns) {
    return Numbers.millimetres(microns).replace("+", "");
  }

  static String decimals(int decimals, double value) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }

  static String probability(double p) {
    return p < 0.0001 ? "< 0.0001" : decimals(4, p);
  }
}
