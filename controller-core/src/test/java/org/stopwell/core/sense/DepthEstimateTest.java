package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthLayer;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeights;

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

  private static final double UNIT = 1 << DepthNetwork.OUTPUT_BITS;

  /** What rounding to whole numbers leaves: an input has 12 bits behind the point. */
  private static final double EXACT = 2e-4;

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
   * A network that says the same whatever it reads; the one with a record says by how much the
   * other's distance is wrong.
   */
  private static DepthNetwork saying(boolean withRecord, double... words) {
    return network(withRecord, -1, 0, words);
  }

  /** Says the same of all targets, and adds the value of one input to what it says of one. */
  private static DepthNetwork listening(
      boolean withRecord, int input, int target, double... words) {
    return network(withRecord, input, target, words);
  }

  private static DepthNetwork network(boolean withRecord, int input, int target, double... words) {
    int inputs = withRecord ? DepthWeights.RECORDED_INPUTS : DepthWeights.INPUTS;
    int[][] rows = new int[inputs + 1][2 * TARGETS];
    for (int t = 0; t < TARGETS; t++) {
      rows[inputs][t] = t < words.length ? (int) Math.rint(words[t] * UNIT) : 0;
      rows[inputs][TARGETS + t] = (int) Math.rint(StrictMath.log(ERRORS[t]) * UNIT);
    }
    float[] scale = new float[inputs];
    if (input >= 0) {
      rows[input][target] = 1 << (DepthNetwork.OUTPUT_BITS - DepthNetwork.INPUT_BITS);
      scale[input] = 1;
    }
    int[] twice = new int[2 * TARGETS];
    Arrays.fill(twice, 2);
    return new DepthNetwork(
        new float[inputs], scale, List.of(new DepthLayer(rows, twice, 1)), new int[0], 0);
  }

  private static DepthEstimate estimate(DepthNetwork alone, DepthNetwork recorded) {
    return new DepthEstimate(SIZE, 4, DepthWeights.bare(alone, Optional.of(recorded)));
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
    assertEquals(1.5, estimate.remainingMm(), EXACT);
    assertEquals(ERRORS[0], estimate.errorMm(), EXACT);
    assertEquals(0.3, estimate.leakShare(), EXACT);
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
    assertEquals(1, estimate.remainingMm(), EXACT, "without a record only one network is asked");
    estimate.record();
    assertTrue(estimate.recorded());
    update(estimate, 3000, 1);
    assertEquals(0.8, estimate.remainingMm(), EXACT);
    assertEquals(StrictMath.hypot(0.2, ERRORS[0]), estimate.errorMm(), EXACT, "moved by 0.2 mm");
    estimate.update(false);
    assertEquals(1, estimate.remainingMm(), EXACT, "a stage that may not use the record does not");
    estimate.drop();
    update(estimate, 3000, 1);
    assertEquals(1, estimate.remainingMm(), EXACT);
  }

  @Test
  void theSecondNetworkSeesTheApproachAndTheRecord() {
    int features = DepthEstimate.INPUTS;
    assertEquals(SIZE, learnedReading(SIZE_INPUT), EXACT, "the file now");
    assertEquals(SIZE, learnedReading(features + SIZE_INPUT), EXACT, "the file then");
    assertEquals(1, learnedReading(2 * features + DepthEstimate.REMAINING), EXACT);
    assertEquals(0.25, learnedReading(2 * features + DepthEstimate.LEAK_SHARE), EXACT);
    assertEquals(1, learnedReading(DepthEstimate.CORRECTED), EXACT, "the other network now");
    assertEquals(0.25, learnedReading(DepthEstimate.CORRECTED + DepthEstimate.LEAK_SHARE), EXACT);
    assertEquals(admittance(3000), learnedReading(features), EXACT, "the reading then");
    assertEquals(admittance(2500), learnedReading(0), EXACT, "the reading now");
  }

  private double learnedReading(int input) {
    DepthEstimate estimate =
        estimate(saying(false, 1, 0.25), listening(true, input, DepthEstimate.LEAK_SHARE));
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
    assertEquals(0.6, estimate.remainingMm(), EXACT);
    update(estimate, 3000, 1);
    assertFalse(estimate.recorded());
    assertEquals(1, estimate.remainingMm(), EXACT);
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
        estimate(saying(false, 1), listening(true, 0, DepthEstimate.REMAINING, -0.9));
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
    DepthEstimate estimate = estimate(listening(false, 0, DepthEstimate.BEYOND, 1), saying(true));
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
    assertEquals(1, canal.numbers()[DepthEstimate.INPUTS], EXACT);

    DepthEstimate after = estimate(saying(false, 1), saying(true, -0.2));
    assertTrue(after.recall(canal));
    assertTrue(after.recorded());
    update(after, 3000, 1);
    assertEquals(0.8, after.remainingMm(), EXACT);

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
  void theFeaturesFillTheInputsOfTheWeights() {
    assertEquals(ApproachMemory.FEATURES + 2, DepthWeights.INPUTS);
    assertEquals(ApproachMemory.FREQUENCIES, DepthWeights.FREQUENCIES);
  }

  @Test
  void weightsWithoutARecordNetworkUseNoRecord() {
    DepthEstimate estimate =
        new DepthEstimate(SIZE, 4, DepthWeights.bare(saying(false, 1), Optional.empty()));
    update(estimate, 3000, 1);
    estimate.record();
    update(estimate, 3000, 1);
    assertEquals(1, estimate.remainingMm(), EXACT);
    assertEquals(Optional.empty(), estimate.learnedCanal());
    DepthEstimate other = estimate(saying(false, 1), saying(true, -0.2));
    update(other, 3000, 1);
    other.record();
    assertFalse(estimate.recall(other.learnedCanal().orElseThrow()));
  }

  @Test
  void theBoundIsTheErrorTimesTheFactorOfTheNovelty() {
    // one sum that is the first input: novelty is its square
    int[][] rows = new int[DepthWeights.INPUTS + 1][1];
    rows[0][0] = 1;
    DepthBound bound =
        new DepthBound(
            new DepthLayer(rows, new int[] {2}, 1), new double[] {1, 4}, new double[] {2, 5}, 3);
    DepthWeights bare =
        DepthWeights.bare(listening(false, 0, DepthEstimate.BEYOND, 1), Optional.empty());
    DepthWeights weights =
        new DepthWeights(bare.origin(), bare.validity(), bare.alone(), bare.recorded(), bound);
    DepthEstimate estimate = new DepthEstimate(SIZE, 4, weights);
    update(estimate, StrictMath.exp(9 - 0.5), 1);
    assertEquals(2 * ERRORS[0], estimate.boundFactor() * estimate.errorMm(), EXACT);
    assertFalse(estimate.unfamiliar());
    estimate = new DepthEstimate(SIZE, 4, weights);
    update(estimate, StrictMath.exp(9 - StrictMath.sqrt(2)), 1);
    assertEquals(3 * ERRORS[0], estimate.boundFactor() * estimate.errorMm(), 10 * EXACT);
    assertFalse(estimate.unfamiliar());
    estimate = new DepthEstimate(SIZE, 4, weights);
    update(estimate, StrictMath.exp(9 - 1.8), 1);
    assertTrue(estimate.unfamiliar(), "novelty 3.24");
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
