package org.stopwell.core.weights;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A network in whole numbers, worked out by hand. */
class DepthPassTest {
  private static final double UNIT = 1 << DepthNetwork.OUTPUT_BITS;

  /** A layer that takes its sums as they are. */
  private static DepthLayer layer(int[]... rows) {
    int[] multipliers = new int[rows[0].length];
    Arrays.fill(multipliers, 2);
    return new DepthLayer(rows, multipliers, 1);
  }

  private static String refusal(int[][] rows, int[] multipliers, int shift) {
    return String.valueOf(
        assertThrows(IllegalArgumentException.class, () -> new DepthLayer(rows, multipliers, shift))
            .getMessage());
  }

  @Test
  void aNetworkWorkedOutByHand() {
    // hidden: a + 2b + 2 and -a - b; a leak of a half
    DepthLayer hidden = layer(new int[] {1, -1}, new int[] {2, -1}, new int[] {8192, 0});
    DepthLayer out = layer(new int[] {32, 0}, new int[] {0, 32}, new int[] {-65_536, 0});
    DepthNetwork network =
        new DepthNetwork(
            new float[] {1, 0},
            new float[] {2, 1},
            List.of(hidden, out),
            new int[] {12},
            DepthNetwork.LEAK_ONE / 2);
    assertArrayEquals(new int[] {2, 2, 2}, network.sizes());
    assertArrayEquals(new int[] {12, 12, 16}, network.bits());
    assertEquals(8, network.products());
    assertEquals(8, network.weightBits());
    DepthPass pass = new DepthPass(network);
    pass.inputs()[0] = 1.5;
    pass.inputs()[1] = 0.25;
    pass.run();
    assertArrayEquals(new int[] {4096, 1024}, pass.normalised());
    assertEquals(2 * (1 + 2 * 0.25 + 2) - 1, pass.output(0));
    assertEquals(2 * 0.5 * -1.25, pass.output(1));
  }

  @Test
  void halvesAreRoundedUp() {
    int[] to = new int[4];
    new DepthLayer(new int[][] {{1, -1, 3, -3}, {0, 0, 0, 0}}, new int[] {1, 1, 1, 1}, 1)
        .run(new int[] {1}, to, 100);
    assertArrayEquals(new int[] {1, 0, 2, -1}, to);
  }

  @Test
  void wildInputsAreHeldAndLogarithmsToo() {
    DepthLayer only = layer(new int[] {16, 0}, new int[] {0, 9 << 16});
    DepthNetwork network =
        new DepthNetwork(new float[1], new float[] {1}, List.of(only), new int[0], 0);
    DepthPass pass = new DepthPass(network);
    pass.inputs()[0] = 1e9;
    pass.run();
    assertEquals(DepthNetwork.REACH, pass.output(0));
    assertEquals(3, pass.output(1));
    pass.inputs()[0] = -1e9;
    pass.run();
    assertEquals(-DepthNetwork.REACH, pass.output(0));
  }

  @Test
  void aHiddenValueLeaksBeforeItIsHeld() {
    // -5 · 4096 · 16 = -327 680 leaks as -10 240; held first it would be -1024
    DepthLayer hidden = layer(new int[] {16}, new int[] {0});
    DepthLayer out = layer(new int[] {1, 0}, new int[] {0, 0});
    DepthNetwork network =
        new DepthNetwork(new float[1], new float[] {1}, List.of(hidden, out), new int[] {12}, 1024);
    DepthPass pass = new DepthPass(network);
    pass.inputs()[0] = -5;
    pass.run();
    assertEquals(-10_240 / UNIT, pass.output(0));
  }

  @Test
  void aSumThatCouldOverflowIsRefused() {
    int[][] rows = new int[3][1];
    rows[0][0] = 32_767;
    rows[1][0] = 32_767;
    rows[2][0] = 65_536 - 3;
    assertEquals(2 * 32_767L * 32_767 + 65_533, Integer.MAX_VALUE - 65_536L);
    new DepthLayer(rows, new int[] {1}, 1);
    rows[2][0] = 131_071;
    String message = refusal(rows, new int[] {1}, 1);
    assertTrue(message.contains("above 2147483647"), message);
  }

  @Test
  void numbersOutsideOfTheirLimitsAreRefused() {
    int[][] one = {{1}, {0}};
    for (String[] wrong :
        new String[][] {
          {"weight 32768", refusal(new int[][] {{32_768}, {0}}, new int[] {1}, 1)},
          {"multiplier -1", refusal(one, new int[] {-1}, 1)},
          {"shift 0", refusal(one, new int[] {1}, 0)},
          {"shift 63", refusal(one, new int[] {1}, 63)},
          {"row 1 has 2", refusal(new int[][] {{1}, {0, 0}}, new int[] {1}, 1)},
        }) {
      assertTrue(wrong[1].startsWith(wrong[0]), wrong[1]);
    }
  }
}
