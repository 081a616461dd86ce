package org.stopwell.core.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.Calibration;

/** The monitor by another quantity, to the last micron: standoff 0.5 mm, margin 0.3 mm. */
class ReckoningTest {
  /** 10 kΩ at the foramen and 2 kΩ more per millimetre, up to 3 mm. */
  private static final Calibration CURVE =
      new Calibration(
          List.of(
              new Calibration.Point(400_000, -1_000, 8_000_000),
              new Calibration.Point(800_000, 3_000, 16_000_000)));

  private final ControllerInput in = new ControllerInput();
  private final Reckoning reckoning = new Reckoning(500, 300, CURVE);

  @Test
  void theAxisStopsAfterTheTravelToTheMarginAndATenth() {
    refer(1_500, 10_000);
    refer(1_000, 10_500);
    // 1.0 mm - 0.9 t = 0.2 mm at t = 0.8889 mm
    assertFalse(deepAt(11_388));
    assertTrue(deepAt(11_389));
  }

  @Test
  void theAxisDoesNotCountBeforeASecondReference() {
    refer(1_500, 10_000);
    assertFalse(deepAt(20_000));
    refer(1_251, 20_000);
    assertFalse(deepAt(30_000));
    refer(1_250, 20_000);
    assertTrue(deepAt(30_000));
  }

  @Test
  void anAxisThatIsLostTellsNothing() {
    refer(1_500, 10_000);
    refer(1_000, 10_500);
    in.insertionMicrons = 20_000;
    in.insertionPresent = false;
    reckoning.travel(in);
    reckoning.travel(in);
    assertFalse(reckoning.isBeyond());
  }

  @Test
  void theMagnitudeStopsWhereTheCanalsOwnCurveIsAtTheMargin() {
    // 12.5 kΩ by the curve, 25 kΩ measured: the canal has twice as much everywhere
    reckoning.refer(1_250, in, 25e6 * 25e6);
    assertFalse(lowAt(20.8001e6));
    assertTrue(lowAt(20.7999e6));
    reckoning.forget();
    assertFalse(lowAt(1e6));
  }

  @Test
  void aReferenceLiesBetweenAStartAndOneAndAHalfMillimetresBeforeTheStandoff() {
    reckoning.refer(2_001, in, 1e18);
    reckoning.refer(799, in, 1e18);
    assertFalse(lowAt(1e6));
    reckoning.refer(800, in, 1e18);
    assertTrue(lowAt(1e6));
  }

  @Test
  void aReadingThatIsNearDoesNotMoveTheReference() {
    reckoning.refer(1_250, in, 25e6 * 25e6);
    reckoning.refer(999, in, 1e6 * 1e6);
    assertTrue(lowAt(20e6));
  }

  @Test
  void oneSampleAndOneStepAreNotEnough() {
    reckoning.refer(1_250, in, 25e6 * 25e6);
    reckoning.magnitude(1);
    assertFalse(reckoning.isBeyond());
    reckoning.magnitude(1e18);
    reckoning.magnitude(1);
    assertFalse(reckoning.isBeyond());
  }

  @Test
  void theMagnitudeTellsOnlyBeforeTheForamenAndWhereItFalls() {
    assertTrue(Reckoning.watchesMagnitude(CURVE, 0, 300));
    assertFalse(Reckoning.watchesMagnitude(CURVE, -1, 300));
    assertFalse(Reckoning.watchesMagnitude(CURVE, 500, 0));
    assertFalse(Reckoning.watchesMagnitude(Calibration.NONE, 500, 300));
  }

  @Test
  void aCurveIsHeldAtItsEnds() {
    assertEquals(8e6, CURVE.lowAt(-2_000));
    assertEquals(10e6, CURVE.lowAt(0));
    assertEquals(16e6, CURVE.lowAt(4_000));
    assertEquals(500_000, CURVE.featureAt(0));
    assertEquals(800_000, CURVE.featureAt(4_000));
  }

  private void refer(int remainingMicrons, int insertionMicrons) {
    in.insertionPresent = true;
    in.insertionMicrons = insertionMicrons;
    reckoning.refer(remainingMicrons, in, -1);
  }

  private boolean deepAt(int insertionMicrons) {
    in.insertionMicrons = insertionMicrons;
    reckoning.travel(in);
    reckoning.travel(in);
    return reckoning.isBeyond();
  }

  private boolean lowAt(double milliOhms) {
    reckoning.magnitude(milliOhms * milliOhms);
    reckoning.magnitude(milliOhms * milliOhms);
    return reckoning.isBeyond();
  }
}
