package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class PositionFilterTest {

  @Test
  void scalarsAndMatricesAgree() {
    PositionFilter scalars = new PositionFilter(20_000);
    MatrixFilter matrices = new MatrixFilter(20_000);
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

  /**
   * Steady state of the white-acceleration filter (Kalata, IEEE Trans AES 1984;20:174): with the
   * tracking index λ = σa·T²/σz, r = (4 + λ − √(8λ + λ²))/4, the gain of the distance is 1 − r².
   */
  @Test
  void theGainSettlesWhereTheTrackingIndexSays() {
    double period = 0.01;
    double sigmaA = 20_000;
    double sigmaZ = 50;
    PositionFilter filter = new PositionFilter(sigmaA);
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
    PositionFilter filter = new PositionFilter(20_000);
    filter.start(5_000, 900);
    for (int i = 1; i <= 1_000; i++) {
      filter.predict(0.005);
      filter.update(5_000 - 5 * i, 900);
    }
    assertEquals(0, filter.x(), 0.01);
    assertEquals(-1_000, filter.v(), 0.01);
    assertTrue(filter.variance() < 900);
  }
}
