package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class DepthNetworkTest {
  @Test
  void weightsSurviveTheirTextToTheBitOfTheirPrecision() {
    double[] weights = {0, 1, -1.5, 0.3333333, -1234.5678, 1e-20};
    double[] once = DepthNetwork.decode(DepthNetwork.encode(weights));
    assertArrayEquals(weights, once, 0.05);
    assertArrayEquals(once, DepthNetwork.decode(DepthNetwork.encode(once)));
    assertEquals(0.3333333, once[3], 0.3333333 / 30_000);
  }

  @Test
  void aNetworkWorkedOutByHand() {
    // two inputs, two hidden, one estimate with the logarithm of its error
    double[] weights = {
      1, 2, // first input: mean 1, reciprocal deviation 2
      0, 1, // second input as it is
      1, -1, // first input to both hidden units
      0.5, 2, // second input to both
      0.25, 0, // offsets
      3, 0.1, // first hidden unit to estimate and error
      1, 0, // second
      -1, -2, // offsets
    };
    DepthNetwork network = new DepthNetwork(new int[] {2, 2, 2}, DepthNetwork.NOTHING, weights);
    network.inputs()[0] = 1.5;
    network.inputs()[1] = -2;
    network.run();
    // scaled inputs 1 and -2; hidden 0.25, and -5 bent to -0.25
    assertEquals(3 * 0.25 - 0.25 - 1, network.outputs()[0], 1e-12);
    assertEquals(0.1 * 0.25 - 2, network.outputs()[1], 1e-12);
  }

  @Test
  void theFirstEstimateMayCorrectAnInputAsItCame() {
    double[] weights = {10, 1, 0.5, 0, 0.25, -2};
    DepthNetwork network = new DepthNetwork(new int[] {1, 2}, 0, weights);
    network.inputs()[0] = 12;
    network.run();
    assertEquals(12 + 0.5 * 2 + 0.25, network.outputs()[0], 1e-12);
    assertEquals(-2, network.outputs()[1], 1e-12);
  }

  @Test
  void wildInputsAreHeld() {
    double[] weights = {0, 1, 1, 0, 0, 0};
    DepthNetwork network = new DepthNetwork(new int[] {1, 2}, DepthNetwork.NOTHING, weights);
    network.inputs()[0] = 1e9;
    network.run();
    assertEquals(DepthNetwork.REACH, network.outputs()[0]);
  }

  @Test
  void onlyTheErrorsAreBounded() {
    // one input that counts for nothing, two estimates and the logarithms of their errors
    double[] weights = {0, 0, 0, 0, 0, 0, 9, -9, 9, -9};
    DepthNetwork network = new DepthNetwork(new int[] {1, 4}, DepthNetwork.NOTHING, weights);
    network.run();
    assertArrayEquals(
        new double[] {9, -9, DepthNetwork.MOST_LOG, DepthNetwork.LEAST_LOG}, network.outputs());
  }

  @Test
  void theWeightsAreCountedLayerByLayer() {
    assertEquals(2 * 2 + 3 * 2 + 3 * 2, DepthNetwork.weightCount(2, 2, 2));
    assertEquals(2 * 5 + 6 * 3 + 4 * 7, DepthNetwork.weightCount(5, 3, 7));
  }
}
