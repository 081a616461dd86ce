package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;

/**
 * The estimate with invented networks, whose words are known: what it does with them does not
 * depend on the weights that are shipped.
 */
class DepthEstimateTest {
  private static final int SIZE_INPUT = ApproachMemory.FEATURES;
  private static final int TARGETS = DepthEstimate.TARGETS;
  private static final double SIZE = 2;

  /** Standard errors of distance, leak, column and what lies beyond; all different. */
  private static final double[] ERRORS = {0.1, 0.3, 0.5, 0.1};

  private final ControllerInput in = new ControllerInput();

  /** Four frequencies in fluid, all of the same resistance. */
  private ControllerInput wet(double ohms) {
    in.frequencyCount = 4;
    for (int i = 0; i < 4; i++) {
      in.zRealMilliOhms[i] = (int) (1000 * ohms);
      in.zImagMilliOhms[i] = 0;
    }
    return in;
  }

  /** The first feature, as the networks see it: grows with the admittance. */
  private static double admittance(double ohms) {
    return 9 - StrictMath.log(ohms);
  }

  /**
   * Weights of a network that says the same whatever it reads; the one with a record says by how
   * much the other's distance is wrong.
   */
  private static double[] saying(boolean withRecord, double... words) {
    double[] weights = new double[DepthNetwork.weightCount(DepthEstimate.sizes(withRecord))];
    int last = weights.length - 2 * TARGETS;
    System.arraycopy(words, 0, weights, last, words.length);
    for (int t = 0; t < TARGETS; t++) {
      weights[last + TARGETS + t] = StrictMath.log(ERRORS[t]);
    }
    return weights;
  }

  /** Adds the value of one input, held within 0 to 5, to what a network says of one target. */
  private static double[] listening(double[] weights, boolean withRecord, int input, int target) {
    int[] sizes = DepthEstimate.sizes(withRecord);
    weights[2 * input + 1] = 1;
    int at = 2 * sizes[0];
    weights[at + input * sizes[1]] = 1;
    at += (sizes[0] + 1) * sizes[1];
    weights[at] = 1;
    at += (sizes[1] + 1) * sizes[2];
    weights[at + target] = 1;
    return weights;
  }

  private static DepthEstimate estimate(double[] alone, double[] learned) {
    return new DepthEstimate(SIZE, 4, alone, learned);
  }

  private void update(DepthEstimate estimate, double ohms, int times) {
    for (int i = 0; i < times; i++) {
      assertTrue(estimate.add(wet(ohms)));
      estimate.update(true);
    }
  }

  @Test
  void whatTheNetworkSaysIsTheDistanceAndItsError() {
    DepthEstimate estimate = estimate(saying(false, 1.5, 0.3), saying(true, 0.7));
    assertFalse(estimate.present());
    update(estimate, 3000, 1);
    assertTrue(estimate.present());
    assertEquals(1.5, estimate.remainingMm(), 1e-12);
    assertEquals(ERRORS[0], estimate.errorMm(), 1e-12);
    assertEquals(0.3, estimate.leakShare(), 1e-12);
    assertEquals(SIZE, estimate.features()[SIZE_INPUT]);
    assertEquals(4, estimate.features()[SIZE_INPUT + 1]);
    estimate.forget();
    assertFalse(estimate.present());
  }

  @Test
  void aTipOutOfTheFluidEndsTheEstimate() {
    DepthEstimate estimate = estimate(saying(false, 1.5), saying(true));
    update(estimate, 3000, 1);
    wet(1).zImagMilliOhms[0] = -900_000_000;
    assertFalse(estimate.add(in));
    assertFalse(estimate.present());
    assertTrue(estimate.add(wet(3000)));
    assertFalse(estimate.present(), "nothing before the next estimate");
  }

  @Test
  void aRecordNeedsAnEstimate() {
    DepthEstimate estimate = estimate(saying(false, 1), saying(true, -0.2));
    estimate.record();
    assertFalse(estimate.recorded());
    assertEquals(Optional.empty(), estimate.learnedCanal());
    update(estimate, 3000, 1);
    assertEquals(1, estimate.remainingMm(), 1e-12, "without a record only one network is asked");
    estimate.record();
    assertTrue(estimate.recorded());
    update(estimate, 3000, 1);
    assertEquals(0.8, estimate.remainingMm(), 1e-12);
    assertEquals(StrictMath.hypot(0.2, ERRORS[0]), estimate.errorMm(), 1e-12, "moved by 0.2 mm");
    estimate.update(false);
    assertEquals(1, estimate.remainingMm(), 1e-12, "a stage that may not use the record does not");
    estimate.drop();
    update(estimate, 3000, 1);
    assertEquals(1, estimate.remainingMm(), 1e-12);
  }

  @Test
  void theSecondNetworkSeesTheApproachAndTheRecord() {
    int features = DepthEstimate.INPUTS;
    assertEquals(SIZE, learnedReading(SIZE_INPUT), 1e-12, "the file now");
    assertEquals(SIZE, learnedReading(features + SIZE_INPUT), 1e-12, "the file then");
    assertEquals(1, learnedReading(2 * features + DepthEstimate.REMAINING), 1e-12);
    assertEquals(0.25, learnedReading(2 * features + DepthEstimate.LEAK_SHARE), 1e-12);
    assertEquals(1, learnedReading(DepthEstimate.CORRECTED), 1e-12, "the other network now");
    assertEquals(0.25, learnedReading(DepthEstimate.CORRECTED + DepthEstimate.LEAK_SHARE), 1e-12);
    assertEquals(admittance(3000), learnedReading(features), 1e-9, "the reading then");
    assertEquals(admittance(2500), learnedReading(0), 1e-9, "the reading now");
  }

  private double learnedReading(int input) {
    DepthEstimate estimate =
        estimate(
            saying(false, 1, 0.25), listening(saying(true), true, input, DepthEstimate.LEAK_SHARE));
    update(estimate, 3000, 1);
    estimate.record();
    for (int i = 0; i < 300; i++) {
      estimate.add(wet(2500));
    }
    estimate.update(true);
    return estimate.leakShare();
  }

  @Test
  void aRecordThatMovesTheDistanceTooFarIsDroppedAtTheFifthTime() {
    // 2.5 · hypot(0.1, 0.1) = 0.354 mm
    DepthEstimate estimate = estimate(saying(false, 1), saying(true, -0.4));
    update(estimate, 3000, 1);
    estimate.record();
    update(estimate, 3000, 4);
    assertTrue(estimate.recorded());
    assertEquals(0.6, estimate.remainingMm(), 1e-12);
    update(estimate, 3000, 1);
    assertFalse(estimate.recorded());
    assertEquals(1, estimate.remainingMm(), 1e-12);
  }

  @Test
  void aRecordThatBothErrorsExplainIsKept() {
    DepthEstimate estimate = estimate(saying(false, 1), saying(true, -0.3));
    update(estimate, 3000, 1);
    estimate.record();
    update(estimate, 3000, 50);
    assertTrue(estimate.recorded());
  }

  @Test
  void doubtsPassWhenTheRecordFitsAgain() {
    double fits = StrictMath.exp(9 - 0.9);
    double differs = StrictMath.exp(9 - 2.1);
    DepthEstimate estimate =
        estimate(saying(false, 1), listening(saying(true, -0.9), true, 0, DepthEstimate.REMAINING));
    update(estimate, fits, 1);
    estimate.record();
    update(estimate, fits, 20);
    update(estimate, differs, 4);
    update(estimate, fits, 1);
    update(estimate, differs, 1);
    assertTrue(estimate.recorded(), "four against it, one for it, one against it");
    update(estimate, differs, 1);
    assertFalse(estimate.recorded());
  }

  @Test
  void anotherResistanceBeyondTheForamenDropsTheRecord() {
    assertTrue(keepsRecordWhenBeyondMovesBy(0.3));
    assertFalse(keepsRecordWhenBeyondMovesBy(0.4), "more than 2.5 · hypot(0.1, 0.1) = 0.354");
    assertTrue(keepsRecordWhenBeyondMovesBy(-0.3));
    assertFalse(keepsRecordWhenBeyondMovesBy(-0.4));
  }

  private boolean keepsRecordWhenBeyondMovesBy(double move) {
    DepthEstimate estimate =
        estimate(listening(saying(false, 1), false, 0, DepthEstimate.BEYOND), saying(true));
    update(estimate, StrictMath.exp(9 - 1.5), 1);
    estimate.record();
    for (int i = 0; i < 300; i++) {
      estimate.add(wet(StrictMath.exp(9 - 1.5 - move)));
    }
    for (int i = 0; i < 10; i++) {
      estimate.update(true);
    }
    return estimate.recorded();
  }

  @Test
  void aKeptRecordIsTakenUpByTheSameWeightsOnly() {
    DepthEstimate before = estimate(saying(false, 1), saying(true, -0.2));
    update(before, 3000, 1);
    before.record();
    LearnedCanal canal = before.learnedCanal().orElseThrow();
    assertEquals(1, canal.numbers()[DepthEstimate.INPUTS], 1e-12);

    DepthEstimate after = estimate(saying(false, 1), saying(true, -0.2));
    assertTrue(after.recall(canal));
    assertTrue(after.recorded());
    assertEquals(1, after.recordValues()[DepthEstimate.INPUTS], 1e-12);
    update(after, 3000, 1);
    assertEquals(0.8, after.remainingMm(), 1e-12);

    DepthEstimate other = estimate(saying(false, 1.1), saying(true, -0.2));
    assertFalse(other.recall(canal));
    assertFalse(other.recorded());
  }

  @Test
  void theStateHashTellsDistancesAndRecordsApart() {
    DepthEstimate near = estimate(saying(false, 1), saying(true));
    DepthEstimate far = estimate(saying(false, 2), saying(true));
    assertEquals(near.mixInto(1), far.mixInto(1), "no estimate yet");
    update(near, 3000, 1);
    update(far, 3000, 1);
    assertNotEquals(near.mixInto(1), far.mixInto(1));
    long without = near.mixInto(1);
    near.record();
    assertNotEquals(without, near.mixInto(1));
  }

  @Test
  void theNetworksHaveTheShapesThatTheirWeightsNeed() {
    assertEquals(DepthEstimate.INPUTS, DepthEstimate.sizes(false)[0]);
    assertEquals(DepthEstimate.LEARNED_INPUTS, DepthEstimate.sizes(true)[0]);
    assertEquals(
        DepthNetwork.weightCount(DepthEstimate.sizes(false)), ApproachSensing.weights().length);
  }

  @Test
  void aRecordIsPartOfTheState() {
    DepthEstimate estimate = estimate(saying(false, 1.5), saying(true, 0.7));
    update(estimate, 3000, 1);
    long without = estimate.mixInto(0);
    estimate.record();
    long first = estimate.mixInto(0);
    assertNotEquals(without, first);
    update(estimate, 4000, 1);
    estimate.record();
    long second = estimate.mixInto(0);
    estimate.drop();
    assertNotEquals(second, estimate.mixInto(0));
    assertNotEquals(first, second);
  }
}
