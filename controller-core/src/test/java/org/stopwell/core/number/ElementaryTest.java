package org.stopwell.core.number;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.util.Random;
import java.util.function.DoubleBinaryOperator;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** The platform defines {@code StrictMath} by fdlibm, so a right port gives the same bits. */
class ElementaryTest {
  private static final int EACH = 100_000;

  /** Values at the edges of the ranges of the algorithms, and what is no number. */
  private static final double[] EDGES = {
    0,
    -0.0,
    1,
    -1,
    0.5,
    -0.5,
    Double.NaN,
    Double.MIN_VALUE,
    -Double.MIN_VALUE,
    Double.MIN_NORMAL,
    1e-310,
    Double.MAX_VALUE,
    -Double.MAX_VALUE,
    Double.POSITIVE_INFINITY,
    Double.NEGATIVE_INFINITY,
    Math.PI / 4,
    Math.PI / 2,
    Math.PI,
    1.5 * Math.PI,
    2 * Math.PI,
    709.782712893384,
    709.7827128933841,
    -745.1332191019411,
    -745.1332191019412,
    -708.5
  };

  private final Random random = new Random(7);

  @Test
  void everyFunctionOfOneNumberHasTheBitsOfThePlatform() {
    compare("exp", Elementary::exp, StrictMath::exp, -750, 712);
    compare("expm1", Elementary::expm1, StrictMath::expm1, -60, 712);
    compare("log", Elementary::log, StrictMath::log, 0, 1e300);
    compare("log1p", Elementary::log1p, StrictMath::log1p, -1, 50);
    compare("cbrt", Elementary::cbrt, StrictMath::cbrt, -1e300, 1e300);
    compare("sin", Elementary::sin, StrictMath::sin, -1.6e6, 1.6e6);
    compare("cos", Elementary::cos, StrictMath::cos, -1.6e6, 1.6e6);
    compare("sin", Elementary::sin, StrictMath::sin, -7, 7);
    compare("cos", Elementary::cos, StrictMath::cos, -7, 7);
    compare("atan", Elementary::atan, StrictMath::atan, -5, 5);
    compare("acos", Elementary::acos, StrictMath::acos, -1, 1);
  }

  @Test
  void everyFunctionOfTwoNumbersHasTheBitsOfThePlatform() {
    for (int i = 0; i < EACH; i++) {
      double x = draw(i, -5, 5);
      double y = draw(i / 2, -1e9, 1e9);
      same("atan2", Elementary::atan2, StrictMath::atan2, x, y);
      same("atan2", Elementary::atan2, StrictMath::atan2, y, x);
      same("hypot", Elementary::hypot, StrictMath::hypot, x, y);
      same("pow", Elementary::pow, StrictMath::pow, Math.abs(x), draw(i / 2, -40, 40));
      same("pow", Elementary::pow, StrictMath::pow, Math.abs(y), draw(i / 2, -40, 40));
    }
    for (double x : EDGES) {
      for (double y : EDGES) {
        same("hypot", Elementary::hypot, StrictMath::hypot, x, y);
        if (Double.isFinite(x) && Double.isFinite(y)) {
          same("atan2", Elementary::atan2, StrictMath::atan2, x, y);
          if (x > 0 && Math.abs(y) < 1000) {
            same("pow", Elementary::pow, StrictMath::pow, x, y);
          }
        }
      }
    }
  }

  /** Decimals of a table, so that two equal mistakes are seen too. */
  @Test
  void knownValuesAreWithinAUnitInTheLastPlace() {
    near("2.718281828459045235360287471352662498", Elementary.exp(1));
    near("0.693147180559945309417232121458176568", Elementary.log(2));
    near("0.479425538604203000273287935215571388", Elementary.sin(0.5));
    near("0.877582561890372716116281582603829652", Elementary.cos(0.5));
    near("1.259921049894873164767210607278228351", Elementary.cbrt(2));
    near("0.463647609000806116214256231461214402", Elementary.atan(0.5));
    near("1.071773462536293164213006325023342023", Elementary.pow(2, 0.1));
    near("0.648721270700128146848650787814163572", Elementary.expm1(0.5));
    near("0.405465108108164381978013115464349137", Elementary.log1p(0.5));
  }

  @Test
  void aHalfIsRoundedToTheEvenNumber() {
    for (int i = 0; i < EACH; i++) {
      double x = draw(i, -1e6, 1e6);
      assertEquals(StrictMath.rint(x), Elementary.rint(x), 0.0, "rint of " + x);
      double half = Math.floor(x) + 0.5;
      assertEquals(StrictMath.rint(half), Elementary.rint(half), 0.0, "rint of " + half);
    }
    assertEquals(1e300, Elementary.rint(1e300));
  }

  @Test
  void whatIsOutsideOfAFunctionIsNoNumber() {
    assertTrue(Double.isNaN(Elementary.sin(1e7)));
    assertTrue(Double.isNaN(Elementary.cos(Double.POSITIVE_INFINITY)));
    assertTrue(Double.isNaN(Elementary.pow(-1, 2.5)));
    assertTrue(Double.isNaN(Elementary.pow(2, 1e10)));
    assertTrue(Double.isNaN(Elementary.atan2(1, Double.NaN)));
    assertEquals(0, Elementary.pow(0, 2));
    assertEquals(1, Elementary.pow(0, 0));
  }

  private void compare(
      String name, DoubleUnaryOperator ours, DoubleUnaryOperator theirs, double low, double high) {
    for (int i = 0; i < EACH; i++) {
      same(name, ours, theirs, draw(i, low, high));
    }
    for (double x : EDGES) {
      boolean angle = name.equals("sin") || name.equals("cos");
      if (!angle || Math.abs(x) < 1.6e6) {
        same(name, ours, theirs, x);
      }
    }
  }

  /** Every third evenly between the limits, the others of every size down to 1e-26. */
  private double draw(int i, double low, double high) {
    double most = Math.max(-low, high);
    return i % 3 == 0
        ? low + (high - low) * random.nextDouble()
        : (low < 0 && random.nextBoolean() ? -1 : 1)
            * StrictMath.exp((StrictMath.log(most) + 60) * random.nextDouble() - 60);
  }

  private static void same(
      String name, DoubleUnaryOperator ours, DoubleUnaryOperator theirs, double x) {
    same(name, (a, b) -> ours.applyAsDouble(a), (a, b) -> theirs.applyAsDouble(a), x, 0);
  }

  private static void same(
      String name, DoubleBinaryOperator ours, DoubleBinaryOperator theirs, double x, double y) {
    double a = ours.applyAsDouble(x, y);
    double b = theirs.applyAsDouble(x, y);
    if (Double.doubleToLongBits(a) != Double.doubleToLongBits(b)) {
      assertEquals(b, a, 0, name + " of " + x + ", " + y);
    }
  }

  private static void near(String decimals, double value) {
    double off = new BigDecimal(value).subtract(new BigDecimal(decimals)).abs().doubleValue();
    assertTrue(off < Math.ulp(value), () -> value + " is not " + decimals);
  }
}
