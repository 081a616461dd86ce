package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.core.sense.ApproachSensing;
import org.stopwell.core.sense.DepthEstimate;

/** The recipe of the shipped weights, in small: the long form is in docs/proof.md. */
class TrainingTest {
  private static final int CANALS = 160;

  /** Each input of a network begins with the mean of the training and one over its deviation. */
  @Test
  void theShippedWeightsWereFittedToThePopulationThatTheRecipeDraws() {
    double[] small = new Training(CANALS, line -> {}).alone();
    double[] shipped = ApproachSensing.weights();
    assertEquals(small.length, shipped.length);
    double worst = 0;
    for (int i = 0; i < DepthEstimate.INPUTS; i++) {
      double deviations = Math.abs(small[2 * i] - shipped[2 * i]) * shipped[2 * i + 1];
      double ratio = small[2 * i + 1] / shipped[2 * i + 1];
      worst = Math.max(worst, deviations);
      assertTrue(deviations < 0.35, "mean of input " + i + " is off by " + deviations);
      assertTrue(ratio > 0.5 && ratio < 2, "deviation of input " + i + " is off by " + ratio);
    }
    System.out.println("greatest difference of a mean: " + worst + " deviations (seed 770001)");
  }

  @Test
  void theRecipeGivesTheSameWeightsEveryTime() {
    double[] once = new Training(60, line -> {}).alone();
    assertArrayEquals(once, new Training(60, line -> {}).alone());
    assertTrue(once[once.length - 1] != 0);
  }
}
