package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PositionFilterTest {

  @Test
  void scalarsAndMatricesAgree() {
    PositionFilter scalars = new PositionFilter(700, 300);
    MatrixFilter matrices = new MatrixFilter(700, 300);
    long seed = 3;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    scalars.start(3_000, 2_500);
    matrices.start(3_000, 2_500);
    for (int i = 0; i < 5_000; i++) {
      double dt = 0.001 + 0.02 * random.nextDouble();
      double z = 3_000 - i * 0.5 + 50 * random.nextGaussian();
      double variance = 400 + 4_000 * random.nextDouble();
      scalars.predict(dt);
      matrices.predict(dt);
      scalars.update(z, variance);
      matrices.update(z, variance);
      assertEquals(matrices.x(), scalars.x(), 1e-6);
      assertEquals(matrices.v(), scalars.v(), 1e-5);
    }
  }

  @Test
  void allThatMovesTheFilterMovesItsHash() {
    PositionFilter filter = new PositionFilter(700, 300);
    long blank = filter.mixInto(1);
    filter.start(3_000, 2_500);
    long started = filter.mixInto(1);
    assertNotEquals(blank, started);
    filter.predict(0.01);
    long later = filter.mixInto(1);
    assertNotEquals(started, later);
    filter.update(2_990, 2_500);
    assertNotEquals(later, filter.mixInto(1));
    assertNotEquals(filter.mixInto(1), filter.mixInto(2));
  }

  /**
   * Steady state of the white-acceleration filter (Kalata, IEEE Trans AES 1984;20:174): with the
   * tracking index λ = σa·T²/σz, r = (4 + λ − √(8λ + λ²))/4, the gain of the distance is 1 − r².
   */
  @Test
  void theGainSettlesWhereTheTrackingIndexSays() {
    double period = 0.01;
    double sigmaA = 20_000;
    double sigmaZ = 50;
    PositionFilter filter = new PositionFilter(sigmaA * Math.sqrt(period), 0);
    filter.start(0, sigmaZ * sigmaZ);
    for (int i = 0; i < 2_000; i++) {
      filter.predict(period);
      filter.update(0, sigmaZ * sigmaZ);
    }
    double lambda = sigmaA * period * period / sigmaZ;
    double r = (4 + lambda - Math.sqrt(8 * lambda + lambda * lambda)) / 4;
    double alpha = 1 - r * r;
    // After the update the variance of the distance is alpha times that of a measurement.
    assertEquals(alpha, filter.variance() / (sigmaZ * sigmaZ), 1e-9);
  }

  @Test
  void aSteadyFeedIsFollowedWithoutLag() {
    PositionFilter filter = new PositionFilter(700, 300);
    filter.start(5_000, 900);
    for (int i = 1; i <= 2_000; i++) {
      filter.predict(0.005);
      filter.update(10_000 - 5 * i, 900);
    }
    assertEquals(0, filter.x(), 1);
    assertEquals(-1_000, filter.v(), 10);
    assertEquals(-150, filter.ahead(0.15), 2);
    assertTrue(filter.variance() < 900);
  }

  /** A hand that goes 1 mm up and down while it feeds 0.5 mm/s, read every 20 ms to 30 µm. */
  @ParameterizedTest(name = "{0} strokes a second")
  @ValueSource(doubles = {0.5, 0.7, 1, 1.5, 2})
  void aHandThatGoesUpAndDownIsForeseenToTurnBack(double hertz) {
    PositionFilter knows = new PositionFilter(700, 300);
    PositionFilter feedsOnly = new PositionFilter(2_800, 0);
    double rate = 2 * Math.PI * hertz;
    knows.start(8_000, 900);
    feedsOnly.start(8_000, 900);
    double worst = 0;
    double worstWithout = 0;
    for (int i = 1; i <= 500; i++) {
      double t = i * 0.02;
      for (PositionFilter filter : new PositionFilter[] {knows, feedsOnly}) {
        filter.predict(0.02);
        filter.update(place(t, rate), 900);
      }
      if (t > 5) {
        worst = Math.max(worst, Math.abs(knows.ahead(0.15) - place(t + 0.15, rate)));
        worstWithout =
            Math.max(worstWithout, Math.abs(feedsOnly.ahead(0.15) - place(t + 0.15, rate)));
      }
    }
    System.out.printf("%.1f Hz: %.0f µm, without strokes %.0f µm%n", hertz, worst, worstWithout);
    assertTrue(worst < 110 && worst < worstWithout, worst + " of " + worstWithout + " µm");
  }

  private static double place(double t, double rate) {
    return 8_000 - 500 * t + 500 * Math.sin(rate * t);
  }

  /** Long gaps, as in a signal that was lost, leave a filter that still works. */
  @Test
  void aLongGapLosesTheStrokesAndNothingElse() {
    PositionFilter filter = new PositionFilter(700, 300);
    filter.start(5_000, 900);
    for (int i = 1; i <= 100; i++) {
      filter.predict(0.02);
      filter.update(place(i * 0.02, 2 * Math.PI), 900);
    }
    filter.predict(1e4);
    assertTrue(Double.isFinite(filter.x()) && filter.variance() > 0);
    filter.update(1_234, 900);
    assertEquals(1_234, filter.x(), 1);
  }
}
