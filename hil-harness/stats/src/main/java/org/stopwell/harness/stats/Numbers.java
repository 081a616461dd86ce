package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Optional;
import java.util.OptionalDouble;

/** How numbers are written for people: the same everywhere, in any locale. */
public final class Numbers {
  /** The text in place of a number that cannot be estimated. */
  public static final String NOT_ESTIMABLE = "not estimable";

  private Numbers() {}

  /**
   * A length with three decimals and its sign.
   *
   * @param microns the length, µm
   * @return such as {@code +0.042 mm}
   */
  public static String signedMillimetres(double microns) {
    BigDecimal mm = rounded(microns / 1000, 3, RoundingMode.HALF_UP);
    return sign(mm) + mm.abs().toPlainString() + " mm";
  }

  /**
   * A length with three decimals.
   *
   * @param microns the length, µm
   * @return such as {@code 0.042 mm}, or "not estimable"
   */
  public static String millimetres(OptionalDouble microns) {
    return microns.isEmpty()
        ? NOT_ESTIMABLE
        : rounded(microns.getAsDouble() / 1000, 3, RoundingMode.HALF_UP).toPlainString() + " mm";
  }

  /**
   * A length with three decimals and its sign.
   *
   * @param microns the length, µm
   * @return such as {@code −0.042 mm}, or "not estimable"
   */
  public static String signedMillimetres(OptionalDouble microns) {
    return microns.isEmpty() ? NOT_ESTIMABLE : signedMillimetres(microns.getAsDouble());
  }

  /**
   * A small length with its sign, a mean with one decimal.
   *
   * @param microns the length, µm
   * @return such as {@code −42 µm} or {@code −41.6 µm}
   */
  public static String signedMicrons(double microns) {
    BigDecimal value =
        rounded(microns, microns == Math.rint(microns) ? 0 : 1, RoundingMode.HALF_UP);
    return sign(value) + value.abs().toPlainString() + " µm";
  }

  /**
   * A small mean length with its sign, always to a tenth: in a column every number has the same
   * digits.
   *
   * @param microns the length, µm
   * @return such as {@code −42.0 µm}, or "not estimable"
   */
  public static String signedMicrons(OptionalDouble microns) {
    if (microns.isEmpty()) {
      return NOT_ESTIMABLE;
    }
    BigDecimal value = rounded(microns.getAsDouble(), 1, RoundingMode.HALF_UP);
    return sign(value) + value.abs().toPlainString() + " µm";
  }

  /**
   * A small length.
   *
   * @param microns the length, µm
   * @return such as {@code 42 µm}, or "not estimable"
   */
  public static String microns(OptionalDouble microns) {
    return microns.isEmpty()
        ? NOT_ESTIMABLE
        : rounded(microns.getAsDouble(), 0, RoundingMode.HALF_UP).toPlainString() + " µm";
  }

  /**
   * An interval of lengths, its ends rounded outwards.
   *
   * @param microns the interval, µm
   * @return such as {@code −0.042 to +0.013 mm}, or "not estimable"
   */
  public static String millimetres(Optional<Interval> microns) {
    if (microns.isEmpty()) {
      return NOT_ESTIMABLE;
    }
    BigDecimal low = rounded(microns.get().low() / 1000, 3, RoundingMode.FLOOR);
    BigDecimal high = rounded(microns.get().high() / 1000, 3, RoundingMode.CEILING);
    return sign(low)
        + low.abs().toPlainString()
        + " to "
        + sign(high)
        + high.abs().toPlainString()
        + " mm";
  }

  /**
   * A length as people write a setting: no needless zeros.
   *
   * @param microns the length, µm
   * @return such as {@code 0.5 mm}
   */
  public static String plainMillimetres(int microns) {
    return BigDecimal.valueOf(microns, 3).stripTrailingZeros().toPlainString() + " mm";
  }

  /**
   * A share in percent as people write a limit: no needless zeros.
   *
   * @param share 0 to 1
   * @return such as {@code 95 %}
   */
  public static String plainPercent(double share) {
    return rounded(share * 100, 6, RoundingMode.HALF_UP).stripTrailingZeros().toPlainString()
        + " %";
  }

  /**
   * An estimated share in percent with one decimal.
   *
   * @param share 0 to 1
   * @return such as {@code 98.3 %}, or "not estimable"
   */
  public static String percent(OptionalDouble share) {
    return share.isEmpty()
        ? NOT_ESTIMABLE
        : rounded(share.getAsDouble() * 100, 1, RoundingMode.HALF_UP).toPlainString() + " %";
  }

  /**
   * A lower bound of a share in percent, rounded down.
   *
   * @param share 0 to 1
   * @return such as {@code 95.0 %}, or "not estimable"
   */
  public static String lowerPercent(OptionalDouble share) {
    return share.isEmpty()
        ? NOT_ESTIMABLE
        : rounded(share.getAsDouble() * 100, 2, RoundingMode.FLOOR).toPlainString() + " %";
  }

  /**
   * An upper bound of a share in percent, rounded up.
   *
   * @param share 0 to 1
   * @return such as {@code 4.99 %}, or "not estimable"
   */
  public static String upperPercent(OptionalDouble share) {
    return share.isEmpty()
        ? NOT_ESTIMABLE
        : rounded(share.getAsDouble() * 100, 2, RoundingMode.CEILING).toPlainString() + " %";
  }

  /**
   * An interval of shares in percent, its ends rounded outwards.
   *
   * @param shares 0 to 1
   * @return such as {@code 94.6 to 99.9 %}, or "not estimable"
   */
  public static String percent(Optional<Interval> shares) {
    return shares.isEmpty()
        ? NOT_ESTIMABLE
        : rounded(shares.get().low() * 100, 1, RoundingMode.FLOOR).toPlainString()
            + " to "
            + rounded(shares.get().high() * 100, 1, RoundingMode.CEILING).toPlainString()
            + " %";
  }

  /**
   * A plain number with two decimals.
   *
   * @param value a number
   * @return such as {@code 3.49}
   */
  public static String hundredths(double value) {
    return rounded(value, 2, RoundingMode.HALF_UP).toPlainString();
  }

  /** Twelve digits are kept before rounding, so that 0.95 × 100 is 95 and not 95.000…01. */
  private static BigDecimal rounded(double value, int decimals, RoundingMode mode) {
    return new BigDecimal(value).setScale(12, RoundingMode.HALF_EVEN).setScale(decimals, mode);
  }

  private static String sign(BigDecimal value) {
    return value.signum() > 0 ? "+" : value.signum() < 0 ? "−" : "";
  }
}
