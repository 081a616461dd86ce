package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;

class ElementaryTest {
  private static final double NEAR = 1e-11;
  private final Random random = new Random(7);

  @Test
  void logarithmAngleAndExponentialAgreeWithThoseOfTheLanguage() {
    for (int i = 0; i < 100_000; i++) {
      double x = StrictMath.exp(80 * (random.nextDouble() - 0.5));
      assertEquals(StrictMath.log(x), Elementary.log(x), NEAR * 10, "log " + x);
      double a = random.nextGaussian();
      double b = random.nextGaussian() * StrictMath.exp(10 * (random.nextDouble() - 0.5));
      assertEquals(StrictMath.atan2(a, b), Elementary.angle(a, b), NEAR, a + ", " + b);
      double e = 20 * (random.nextDouble() - 0.5);
      assertEquals(1, Elementary.exp(e) / StrictMath.exp(e), NEAR, "exp " + e);
    }
  }

  @Test
  void axesHaveTheirAngles() {
    assertEquals(0, Elementary.angle(0, 0));
    assertEquals(0, Elementary.angle(0, 3));
    assertEquals(Math.PI, Elementary.angle(0, -3), NEAR);
    assertEquals(Math.PI / 2, Elementary.angle(2, 0), NEAR);
    assertEquals(-Math.PI / 4, Elementary.angle(-2, 2), NEAR);
    assertEquals(0, Elementary.log(1));
    assertEquals(1, Elementary.exp(0));
  }
}
