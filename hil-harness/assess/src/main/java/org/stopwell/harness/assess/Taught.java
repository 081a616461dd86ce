package org.stopwell.harness.assess;

import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthNetwork;

/**
 * What a training leaves behind: the network, how its standard errors become the stated bound, and
 * how it notices a reading unlike everything that it learned.
 *
 * @param network of a single approach
 * @param factor the stated 95 % bound over the standard error
 * @param novelty measures it
 * @param noveltyLimit novelty beyond which a reading is unlike everything learned
 */
record Taught(FloatNetwork network, double factor, Whitening novelty, double noveltyLimit) {
  /** What turns a standard error into the stated bound, in whole numbers. */
  DepthBound bound() {
    return new DepthBound(
        Quantiser.layer(
            novelty.rows(), DepthNetwork.INPUT_BITS, DepthBound.SUM_BITS, Quantiser.BITS),
        new double[] {0},
        new double[] {kept(factor)},
        kept(noveltyLimit));
  }

  /** Two decimals are enough, and read well in the file. */
  private static double kept(double value) {
    return Math.rint(value * 100) / 100;
  }
}
