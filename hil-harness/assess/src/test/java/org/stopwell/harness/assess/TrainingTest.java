package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.weights.ShippedWeights;

/** The recipe of the shipped weights, in small: the long form is in docs/proof.md. */
class TrainingTest {
  private static final int CANALS = 120;

  /**
   * Each input of a network begins with the mean of the training and one over its deviation. Both
   * are there before the first round of the fit.
   */
  @Test
  void theShippedWeightsWereFittedToThePopulationThatTheRecipeDraws() {
    Examples examples = new Training(CANALS, line -> {}).readings();
    DepthNetwork small =
        Fit.fit(
                examples,
                examples.rows(),
                Training.ALONE,
                FloatNetwork.NOTHING,
                0,
                RandomStream.of(1, "test"),
                line -> {})
            .whole(examples);
    DepthNetwork shipped = ShippedWeights.get().alone();
    double worst = 0;
    for (int i = 0; i < DepthEstimate.INPUTS; i++) {
      double deviations = Math.abs(small.mean(i) - shipped.mean(i)) * shipped.scale(i);
      double ratio = small.scale(i) / shipped.scale(i);
      worst = Math.max(worst, deviations);
      assertTrue(deviations < 0.35, "mean of input " + i + " is off by " + deviations);
      assertTrue(ratio > 0.5 && ratio < 2, "deviation of input " + i + " is off by " + ratio);
    }
    System.out.println("greatest difference of a mean: " + worst + " deviations (seed 770001)");
  }

  @Test
  void theRecipeGivesTheSameWeightsEveryTime() {
    String once = DepthWeightsText.encode(new Training(24, line -> {}).weights("test"));
    assertEquals(once, DepthWeightsText.encode(new Training(24, line -> {}).weights("test")));
  }
}
