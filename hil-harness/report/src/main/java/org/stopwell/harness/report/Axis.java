package org.stopwell.harness.report;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;

/**
 * One axis of a drawing: from values to places, with round ticks.
 *
 * @param low value at the start
 * @param high value at the end, above low
 * @param from place of low
 * @param to place of high
 */
record Axis(double low, double high, double from, double to) {
  Axis {
    if (!(low < high)) {
      throw new IllegalArgumentException("axis from " + low + " to " + high);
    }
  }

  double at(double value) {
    return from + (value - low) / (high - low) * (to - from);
  }

  double atClamped(double value) {
    return at(Math.max(low, Math.min(high, value)));
  }

  /** Round values within the axis, at most this many. */
  List<BigDecimal> ticks(int most) {
    double span = high - low;
    BigDecimal step = BigDecimal.ONE.scaleByPowerOfTen((int) Math.floor(Math.log10(span / most)));
    int[] factors = {1, 2, 5, 10};
    int i = 0;
    BigDecimal wide = step;
    while (span / wide.doubleValue() > most) {
      wide = step.multiply(BigDecimal.valueOf(factors[++i]));
    }
    List<BigDecimal> ticks = new ArrayList<>();
    BigDecimal tick =
        wide.multiply(BigDecimal.valueOf((long) Math.ceil(low / wide.doubleValue() - 1e-9)));
    while (tick.doubleValue() <= high + span * 1e-9) {
      ticks.add(tick);
      tick = tick.add(wide);
    }
    return ticks;
  }

  /** A place with one decimal, as short as it goes. */
  static String px(double place) {
    long tenths = Math.round(place * 10);
    return tenths % 10 == 0 ? Long.toString(tenths / 10) : BigDecimal.valueOf(tenths, 1).toString();
  }
}
