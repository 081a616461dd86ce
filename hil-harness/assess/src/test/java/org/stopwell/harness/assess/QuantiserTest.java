package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.weights.DepthLayer;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthPass;
import org.stopwell.rig.random.RandomStream;

/** Whole numbers say what the numbers with fractions say, and the way back gives these again. */
class QuantiserTest {
  private static final int[] SIZES = {12, 40, 20, 4};
  private static final int EXAMPLES = 400;

  private final RandomStream random = RandomStream.of(31, "quantiser test");

  private double[] weights(int... sizes) {
    double[] all = new double[Quantiser.weightCount(sizes)];
    for (int i = 0; i < all.length; i++) {
      all[i] = random.nextGaussian() * (i < 2 * sizes[0] ? 1 : 1 / StrictMath.sqrt(sizes[1]));
    }
    for (int i = 0; i < sizes[0]; i++) {
      all[2 * i] = (float) all[2 * i];
      all[2 * i + 1] = (float) Math.abs(all[2 * i + 1]);
    }
    return all;
  }

  private float[] examples() {
    float[] rows = new float[EXAMPLES * SIZES[0]];
    for (int i = 0; i < rows.length; i++) {
      rows[i] = (float) random.nextGaussian();
    }
    return rows;
  }

  /** Root mean square difference of the first output, over its root mean square. */
  private static double difference(double[] weights, DepthNetwork whole, float[] rows) {
    FloatNetwork fractions = FloatNetwork.of(SIZES, FloatNetwork.NOTHING, weights);
    DepthPass pass = new DepthPass(whole);
    double misses = 0;
    double squares = 0;
    for (int k = 0; k < EXAMPLES; k++) {
      for (int i = 0; i < SIZES[0]; i++) {
        pass.inputs()[i] = rows[k * SIZES[0] + i];
      }
      double said = fractions.run(rows, k * SIZES[0], fractions.room())[0];
      pass.run();
      double miss = said - pass.output(0);
      misses += miss * miss;
      squares += said * said;
    }
    return StrictMath.sqrt(misses / squares);
  }

  @ParameterizedTest(name = "{0} bits")
  @CsvSource({"16, 0.001", "8, 0.02", "6, 0.08"})
  void wholeNumbersSayTheSame(int bits, double limit) {
    double[] weights = weights(SIZES);
    float[] rows = examples();
    DepthNetwork whole = Quantiser.quantise(SIZES, weights, rows, bits);
    double found = difference(weights, whole, rows);
    assertTrue(found < limit, found + " of the output");
    assertTrue(found > limit / 50, found + ": the limit is too wide to find anything");
    assertEquals(bits <= 8 ? 8 : 16, whole.weightBits());
    assertArrayEquals(SIZES, whole.sizes());
  }

  @Test
  void theWayBackGivesTheWeightsToHalfAUnit() {
    double[] weights = weights(SIZES);
    float[] rows = examples();
    DepthNetwork whole = Quantiser.quantise(SIZES, weights, rows, 16);
    double[] back = Quantiser.weights(whole);
    assertEquals(weights.length, back.length);
    for (int i = 0; i < weights.length; i++) {
      assertEquals(weights[i], back[i], 1e-3, "weight " + i);
    }
    double[] again = Quantiser.weights(Quantiser.quantise(SIZES, back, rows, 16));
    double most = 0;
    for (int i = 0; i < back.length; i++) {
      most = Math.max(most, Math.abs(again[i] - back[i]));
    }
    assertTrue(most < 1e-4, "there and back again moves a weight by " + most);
  }

  /** Weights that are all as great as they can be: the sum must fit 32 bits. */
  @Test
  void aWideLayerIsScaledSoThatItsSumFits() {
    double[][] rows = new double[1025][2];
    for (double[] row : rows) {
      Arrays.fill(row, 1);
      row[1] = 0;
    }
    DepthLayer layer = Quantiser.layer(rows, 12, 9, 16);
    assertTrue(layer.weight(0, 0) < 100, "weight " + layer.weight(0, 0));
    double step = Quantiser.step(layer, 0, 12, 9);
    assertEquals(1, layer.weight(0, 0) * step, 0.02);
    assertEquals(0, layer.weight(0, 1), "an output without weights is 0");
    assertEquals(0, layer.multiplier(1));
  }
}
