package org.stopwell.core.weights;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class DepthBoundTest {
  private static final DepthLayer NO_SUMS = DepthBound.NORMAL.sums();

  private static String refusal(double[] novelties, double[] factors, double limit) {
    return String.valueOf(
        assertThrows(
                IllegalArgumentException.class,
                () -> new DepthBound(NO_SUMS, novelties, factors, limit))
            .getMessage());
  }

  @Test
  void theFactorIsStraightBetweenItsPointsAndLevelBeyond() {
    DepthBound bound = new DepthBound(NO_SUMS, new double[] {1, 2, 4}, new double[] {2, 3, 7}, 9);
    assertEquals(2, bound.factor(0));
    assertEquals(2, bound.factor(1));
    assertEquals(2.5, bound.factor(1.5));
    assertEquals(3, bound.factor(2));
    assertEquals(5, bound.factor(3));
    assertEquals(7, bound.factor(4));
    assertEquals(7, bound.factor(1e9));
    assertEquals(9, bound.limit());
  }

  @Test
  void withoutSumsNothingIsNovel() {
    assertEquals(0, DepthBound.NORMAL.novelty(new int[DepthWeights.INPUTS], new int[0]));
    assertEquals(1.96, DepthBound.NORMAL.factor(0));
  }

  @Test
  void noveltyIsTheMeanSquareOfTheSums() {
    // sums 2a and a - b of inputs 3 and 1
    DepthLayer sums = new DepthLayer(new int[][] {{2, 1}, {0, -1}, {0, 0}}, new int[] {2, 2}, 1);
    DepthBound bound = new DepthBound(sums, new double[] {0}, new double[] {2}, 9);
    assertEquals((36 + 4) / 2.0, bound.novelty(new int[] {3 << 12, 1 << 12}, new int[2]));
  }

  @Test
  void aFactorThatFallsIsRefused() {
    assertTrue(refusal(new double[] {0, 1}, new double[] {2, 1.9}, 9).contains("does not rise"));
    assertTrue(refusal(new double[] {1, 1}, new double[] {2, 3}, 9).contains("does not rise"));
    assertTrue(refusal(new double[] {0}, new double[] {0}, 9).contains("does not rise"));
    assertTrue(refusal(new double[] {0}, new double[] {2, 3}, 9).contains("2 factors for 1"));
    assertTrue(refusal(new double[] {}, new double[] {}, 9).contains("0 factors"));
    assertTrue(refusal(new double[] {0}, new double[] {2}, Double.NaN).contains("NaN"));
  }
}
