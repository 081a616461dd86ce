package org.stopwell.harness.cli;

import org.jspecify.annotations.Nullable;

/** Refuses numbers of options that are outside of their limits. */
final class Range {
  private Range() {}

  /** A number without a unit; null is an option that was not given. */
  static void check(String option, @Nullable Number value, Number low, Number high)
      throws UsageException {
    check(option, value, low, high, "");
  }

  /** A number whose limits have a unit; not a number is outside of every limit. */
  static void check(String option, @Nullable Number value, Number low, Number high, String unit)
      throws UsageException {
    if (value != null
        && !(value.doubleValue() >= low.doubleValue()
            && value.doubleValue() <= high.doubleValue())) {
      throw new UsageException(
          (option + " " + value + " is outside " + low + " to " + high + " " + unit).strip());
    }
  }
}
