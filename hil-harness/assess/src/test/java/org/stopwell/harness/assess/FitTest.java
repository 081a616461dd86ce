package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.concurrent.ForkJoinPool;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.random.RandomStream;

class FitTest {
  private static final int[] SIZES = {2, 16, 2};
  private static final int EXAMPLES = 20_000;

  private static double[] fitted() {
    return fitted(FloatNetwork.NOTHING);
  }

  private static double[] fitted(int corrected) {
    RandomStream random = RandomStream.of(5, "fit test");
    Examples examples = new Examples(2, 1);
    for (int i = 0; i < EXAMPLES; i++) {
      double a = random.nextBetween(-1, 1);
      double b = random.nextBetween(-1, 1);
      examples.add(new double[] {a, b}, Family.TOOTH);
      examples.targets()[examples.lastTarget()] =
          (float) (a * a + b + (0.1 + 0.2 * (b + 1)) * random.nextGaussian());
    }
    return Fit.fit(
            examples, examples.rows(), SIZES, corrected, 120, RandomStream.of(5, "fit"), line -> {})
        .weights();
  }

  @ParameterizedTest(name = "as a correction of input {0}")
  @ValueSource(ints = {FloatNetwork.NOTHING, 1})
  void aCurveAndTheSpreadAroundItAreFound(int corrected) {
    FloatNetwork network = FloatNetwork.of(SIZES, corrected, fitted(corrected));
    for (double a = -0.8; a <= 0.8; a += 0.4) {
      for (double b = -0.8; b <= 0.8; b += 0.4) {
        float[] out = network.run(new float[] {(float) a, (float) b}, 0, network.room());
        double spread = 0.1 + 0.2 * (b + 1);
        assertEquals(a * a + b, out[0], 0.12, a + ", " + b);
        assertEquals(1, StrictMath.exp(out[1]) / spread, 0.25, a + ", " + b);
      }
    }
  }

  @Test
  void theSameExamplesGiveTheSameWeights() {
    assertArrayEquals(fitted(), fitted());
  }

  @Test
  void oneCoreGivesTheSameWeightsAsAll() throws Exception {
    ForkJoinPool one = new ForkJoinPool(1);
    try {
      assertArrayEquals(fitted(), one.submit(() -> fitted()).get());
    } finally {
      one.shutdown();
    }
  }
}
