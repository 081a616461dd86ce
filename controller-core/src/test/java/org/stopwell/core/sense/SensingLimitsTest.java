package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.ApproachCanal;
import org.stopwell.core.TestWeights;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.SettingsException;

/** The limits of a reading, to the last milliohm: 1000 kΩ is open, 150 dry, below 100 inside. */
class SensingLimitsTest {
  private static final int[] HERTZ = {300, 1500, 7000, 20_000};

  private static final Calibration CURVE =
      new Calibration(
          List.of(
              new Calibration.Point(400_000, -1_000, 18_000_000),
              new Calibration.Point(800_000, 3_000, 26_000_000)));

  private static final long SAMPLE_NS = 5_000_000;

  private final ControllerInput in = new ControllerInput();
  private final Measurement out = new Measurement();

  private static Sensing sensing(String policy) {
    return sensing(policy, policy.equals("approach") ? Calibration.NONE : CURVE);
  }

  private static Sensing sensing(String policy, Calibration curve) {
    try {
      return Policies.BUILT_IN.sensing(
          TestWeights.settings(
              Map.of(
                  "file",
                  Map.of("size", 15, "taper", "0.02"),
                  "sense",
                  sense(policy),
                  "stages.length",
                  Map.of("torque_ncm", "0.1")),
              curve));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  private static Map<String, ?> sense(String policy) {
    return policy.equals("approach")
        ? Map.of("policy", policy)
        : policy.equals("ratio")
            ? Map.of("policy", policy, "low_hz", 300, "high_hz", 7000)
            : policy.equals("resistance")
                ? Map.of("policy", policy, "low_hz", 300)
                : Map.of("policy", policy);
  }

  private Measurement read(Sensing sensing, int reMilliOhms, int imMilliOhms) {
    return read(sensing, reMilliOhms, imMilliOhms, 1);
  }

  /** The other frequencies have a share of the magnitude of the lowest. */
  private Measurement read(Sensing sensing, int reMilliOhms, int imMilliOhms, double share) {
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 4;
    for (int i = 0; i < 4; i++) {
      in.frequencyHz[i] = HERTZ[i];
      in.zRealMilliOhms[i] = (int) Math.rint(reMilliOhms * (i == 0 ? 1 : share));
      in.zImagMilliOhms[i] = (int) Math.rint(imMilliOhms * (i == 0 ? 1 : share));
    }
    out.clear();
    sensing.read(in, out);
    return out;
  }

  @ParameterizedTest
  @ValueSource(strings = {"ratio", "approach"})
  void openDryAndInsideBeginAtTheirLimits(String policy) {
    Sensing sensing = sensing(policy);
    assertTrue(read(sensing, 1_000_000_000, 0).open);
    assertFalse(read(sensing, 999_999_999, 0).open);
    assertTrue(read(sensing, 999_999_999, 0).unwetted);
    assertTrue(read(sensing, 600_000_000, -800_000_000).open, "by both parts: 3-4-5");
    assertTrue(read(sensing, 150_000_000, 0).unwetted);
    assertFalse(read(sensing, 149_999_999, 0).unwetted);
    assertFalse(read(sensing, 149_999_999, 0).outside);
    assertFalse(read(sensing, 100_000_000, 0).inside);
    assertTrue(read(sensing, 99_999_999, 0).inside);
    assertFalse(read(sensing, 60_000_000, -80_000_000).inside);
  }

  @ParameterizedTest
  @ValueSource(strings = {"ratio", "approach"})
  void otherSignalsAreOfNoUse(String policy) {
    Sensing sensing = sensing(policy);
    assertFalse(read(sensing, 20_000_000, 0, 0.5).unusable);
    in.positionKind = PositionKind.DISTANCE;
    assertTrue(again(sensing));
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 2;
    assertTrue(again(sensing), "the higher frequency is not among the first two");
    in.frequencyCount = 4;
    in.frequencyHz[2] = 7001;
    assertTrue(again(sensing));
    in.frequencyHz[2] = 7000;
    in.frequencyHz[0] = 301;
    assertTrue(again(sensing));
    in.frequencyHz[0] = 300;
    assertFalse(again(sensing));
  }

  private boolean again(Sensing sensing) {
    out.clear();
    sensing.read(in, out);
    return out.unusable;
  }

  @Test
  void noResistanceAtAllIsNoPlace() {
    assertFalse(read(sensing("ratio"), 0, 0).placed);
    assertTrue(out.leaking);
  }

  @Test
  void aRatioAtTheEndOfTheCurveIsStillAPlace() {
    assertFalse(read(sensing("ratio"), 20_000_000, 0, 0.8).far);
    assertTrue(read(sensing("ratio"), 20_000_000, 0, 0.800_001).far);
  }

  @Test
  void aResistanceLeaksBelowHalfOfTheDeepEndOfItsCurve() {
    Calibration curve =
        new Calibration(
            List.of(
                new Calibration.Point(18_000_000, -1_000),
                new Calibration.Point(26_000_000, 3_000)));
    Sensing sensing = sensing("resistance", curve);
    assertTrue(read(sensing, 8_999_999, 0).leaking, "above the floor of 5 kΩ");
    assertFalse(read(sensing, 9_000_000, 0).leaking);
  }

  /** The curve of the settings, known within 0.3 mm at one end and 0.5 mm at the other. */
  @Test
  void theBoundIsThatOfTheCurveWidenedByTheNoise() {
    Calibration bounded =
        new Calibration(
            List.of(
                new Calibration.Point(400_000, -1_000, 18_000_000, 300),
                new Calibration.Point(800_000, 3_000, 26_000_000, 500)));
    Sensing sensing = sensing("ratio", bounded);
    read(sensing, 20_000_000, 0, 0.6);
    // noise: 4 mm per 0.4 times 0.3 % of 0.6, and 0.03 mm
    double sd = Math.hypot(18, 30);
    assertEquals(sd, out.sdMicrons, 0.01);
    assertEquals(Math.hypot(400, 1.96 * sd), out.boundMicrons, 0.01, "half way along the curve");
    read(sensing, 20_000_000, 0, 0.399);
    assertEquals(0, out.boundMicrons, "the distance is held at the end of the curve");
    read(sensing, 20_000_000, 0, 0.801);
    assertEquals(0, out.boundMicrons, "beyond the curve");
  }

  @Test
  void aCurveOfOneCanalStatesNoBound() {
    read(sensing("ratio"), 20_000_000, 0, 0.6);
    assertTrue(out.placed);
    assertEquals(0, out.boundMicrons);
    Calibration half =
        new Calibration(
            List.of(
                new Calibration.Point(400_000, -1_000, 18_000_000, 300),
                new Calibration.Point(800_000, 3_000, 26_000_000)));
    read(sensing("ratio", half), 20_000_000, 0, 0.6);
    assertEquals(0, out.boundMicrons, "one end does not state it");
  }

  @Test
  void aRatioAboveOneIsNoCanal() {
    // the noise of the settings is 0.3 %: four times that is allowed
    assertFalse(read(sensing("ratio"), 20_000_000, 0, 1.012).impossible);
    assertTrue(read(sensing("ratio"), 20_000_000, 0, 1.012_001).impossible);
    assertFalse(out.placed);
    assertFalse(read(sensing("resistance", CURVE), 20_000_000, 0, 2).impossible);
  }

  @Test
  void theMagnitudeIsTheWitnessOfTheRatioAndNothingOfItself() {
    read(sensing("ratio"), 20_000_000, 0, 0.6);
    assertEquals(20_000_000, out.witness);
    assertEquals(22_000_000, out.expectedWitness, 1, "half way along the curve");
    read(sensing("resistance", CURVE), 20_000_000, 0, 0.6);
    assertEquals(0, out.witness);
    assertEquals(0, out.expectedWitness);
  }

  @Test
  void theApproachIsWorkedOutAtEveryFourthSample() {
    Sensing sensing = sensing("approach");
    for (int sample = 0; sample < 12; sample++) {
      in.sampleTimeNs += SAMPLE_NS;
      assertEquals(sample % 4 != 0, read(sensing, 20_000_000, 0).repeated, "sample " + sample);
    }
    sensing.forget();
    assertFalse(read(sensing, 20_000_000, 0).repeated, "begun anew");
  }

  /**
   * An approach smooths its samples, so its distance is that of some time ago; a ratio does not.
   */
  @ParameterizedTest
  @ValueSource(strings = {"ratio", "approach"})
  void aDistanceSaysHowOldItIs(String policy) {
    Sensing sensing = sensing(policy);
    for (int sample = 0; sample < 3; sample++) {
      in.sampleTimeNs = sample * 5_000_000L;
      read(sensing, 20_000_000, 0);
    }
    // of three samples the smoothed one is the oldest by 0.88², the next by 0.12·0.88
    double expected = policy.equals("ratio") ? 0 : 0.88 * 0.88 * 10e6 + 0.12 * 0.88 * 5e6;
    assertEquals(expected, out.lagNs, 1);
  }

  @Test
  void onlyTheLengthStageLearnsACanalAndOnlyAtItsEnd() {
    read(sensing("approach"), 20_000_000, 0);
    assertFalse(learns(Stage.SHAPE, Stage.SHAPE));
    assertTrue(learns(Stage.LENGTH, Stage.LENGTH));
    assertFalse(learns(Stage.SHAPE, Stage.LENGTH), "it did not see the way down");
  }

  /** Goes down a simulated canal to 0.4 mm past the foramen, and says whether it was learned. */
  private boolean learns(Stage above, Stage atTheEnd) {
    Sensing sensing = sensing("approach");
    for (int microns = 7_500; microns >= -400; microns--) {
      for (int i = 0; i < 4; i++) {
        in.zRealMilliOhms[i] = (int) (1000 * ApproachCanal.ohms(microns, 2 * i));
        in.zImagMilliOhms[i] = (int) (1000 * ApproachCanal.ohms(microns, 2 * i + 1));
      }
      in.sampleTimeNs += SAMPLE_NS;
      in.stage = out.placed && out.remainingMicrons < 500 ? atTheEnd : above;
      out.clear();
      sensing.read(in, out);
      assertTrue(sensing.learned().isEmpty() || out.remainingMicrons < 2_000);
    }
    assertTrue(out.remainingMicrons < 500, "at the end: " + out.remainingMicrons + " um");
    return sensing.learned().isPresent();
  }

  @Test
  void whatOtherWeightsHaveLearnedIsNotTakenUp() {
    Sensing sensing = sensing("approach");
    assertFalse(sensing.recall(new LearnedCanal(1, new double[LearnedCanal.NUMBERS])));
    assertTrue(sensing.learned().isEmpty());
  }
}
