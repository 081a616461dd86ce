package org.stopwell.core.settings;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.stopwell.core.TestWeights;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeights;

class ControllerSettingsTest {
  private static final Calibration CURVE =
      new Calibration(
          List.of(new Calibration.Point(400_000, -500), new Calibration.Point(900_000, 3_000)));

  @Test
  void theLengthStageOfCommonPracticeIsTheDefault() throws SettingsException {
    ParameterValues length = ControllerSettings.of(sections(), CURVE).stage(Stage.LENGTH);
    assertEquals(300_000, length.getInt(StageParameters.SPEED));
    assertEquals(6_000, length.getInt(StageParameters.TORQUE));
    assertEquals(500, length.getInt(StageParameters.STANDOFF));
    assertEquals("hold", length.choice(StageParameters.APICAL));
  }

  @Test
  void everyParameterSaysWhatItDoesAndWhereItsDefaultComesFrom() {
    ControllerSettings.tables()
        .values()
        .forEach(
            table ->
                table
                    .parameters()
                    .forEach(
                        p -> {
                          assertTrue(p.text().endsWith("."), p.key());
                          assertFalse(p.source().isBlank(), p.key());
                        }));
  }

  @Test
  void everyMistakeIsNamedAtOnce() {
    Map<String, Map<String, ?>> written = new LinkedHashMap<>();
    written.put("sense", Map.of("low_hz", "8000", "high_hz", 7000, "colour", "red"));
    written.put("stages.length", Map.of("standoff_mm", "9", "ease_rpm", 400));
    written.put("stages.polish", Map.of());
    List<String> messages = faults(written, CURVE).stream().map(Fault::message).toList();
    assertEquals(
        List.of(
            "stages.polish: unknown section",
            "colour: unknown key",
            "standoff_mm: 9 mm is outside -1 to 3 mm",
            "file: the section is missing",
            "sense.low_hz: 8000 Hz is not below high_hz, 7000 Hz",
            "stages.length.ease_rpm: 400 rpm is above stages.length.speed_rpm, 300 rpm"),
        messages);
  }

  @Test
  void noStageAtAllIsAMistake() {
    Map<String, Map<String, ?>> written = sections();
    written.remove("stages.length");
    assertEquals("stages", faults(written, CURVE).get(0).key());
  }

  @Test
  void aStageAboveTheGuardIsRefusedWithBothValues() {
    Map<String, Map<String, ?>> written = sections();
    written.put("guard", Map.of("speed_limit_rpm", 250, "torque_limit_ncm", "0.5"));
    assertEquals(
        List.of(
            "stages.length.speed_rpm: 300 rpm is above guard.speed_limit_rpm, 250 rpm",
            "stages.length.torque_ncm: 0.6 N·cm is above guard.torque_limit_ncm, 0.5 N·cm"),
        faults(written, CURVE).stream().map(Fault::message).toList());
  }

  @Test
  void theStandoffMustLieOnTheCurve() {
    Map<String, Map<String, ?>> written = sections();
    written.put("stages.length", Map.of("standoff_mm", "-0.8"));
    assertEquals(
        "stages.length.standoff_mm: -0.8 mm is outside of the calibrated curve, -0.5 to 3 mm",
        faults(written, CURVE).get(0).message());
  }

  @Test
  void aCurveMustRise() {
    Calibration falling =
        new Calibration(
            List.of(new Calibration.Point(500_000, 0), new Calibration.Point(400_000, 3_000)));
    assertEquals(
        "calibration: feature 400000 of point 1 is not above 500000",
        faults(sections(), falling).get(0).message());
    Calibration flat =
        new Calibration(List.of(new Calibration.Point(1, 700), new Calibration.Point(2, 700)));
    assertEquals(
        "calibration: distance 700 um of point 1 is not above 700 um",
        faults(sections(), flat).get(0).message());
  }

  @Test
  void aCurveIsNeededUnlessALocatorGivesTheDistance() throws SettingsException {
    assertEquals(
        "calibration: sense.policy ratio needs a curve of at least 2 points, not 0",
        faults(sections(), Calibration.NONE).get(0).message());
    Map<String, Map<String, ?>> written = sections();
    written.put(
        "sense", Map.of("policy", "locator", "locator_step_mm", "0.001", "locator_rate_hz", 200));
    ControllerSettings.of(written, Calibration.NONE);
  }

  @Test
  void equalSettingsHaveEqualFingerprintsHoweverTheyAreWritten() throws SettingsException {
    long bare = ControllerSettings.of(sections(), CURVE).fingerprint();
    Map<String, Map<String, ?>> written = sections();
    written.put("stages.length", Map.of("standoff_mm", "0.500"));
    assertEquals(bare, ControllerSettings.of(written, CURVE).fingerprint());
    written.put("stages.length", Map.of("standoff_mm", "0.501"));
    assertNotEquals(bare, ControllerSettings.of(written, CURVE).fingerprint());
  }

  @Test
  void theOldWordsForMotionByLoadAreRefusedWithTheNewOnes() {
    Map<String, Map<String, ?>> written = sections();
    written.put("stages.length", Map.of("motion", "adaptive", "adapt_percent", 60));
    assertEquals(
        List.of(
            "adapt_percent: unknown key; write load_percent",
            "motion: adaptive is not one of forward, backward, reciprocate, by_load;"
                + " write by_load"),
        faults(written, CURVE).stream().map(Fault::message).toList());
  }

  @Test
  void everyPairThatMustRiseIsNamedWhenItDoesNot() {
    Map<String, Map<String, ?>> written = sections();
    Map<String, Object> sense = new LinkedHashMap<>();
    sense.put("low_hz", 7000);
    sense.put("high_hz", 7000);
    sense.put("leak_ohm", 20000);
    sense.put("enter_kohm", 20);
    sense.put("unwetted_kohm", 20);
    sense.put("open_kohm", 50);
    written.put("sense", sense);
    written.put(
        "stages.length", Map.of("motion", "reciprocate", "forward_deg", 90, "backward_deg", 90));
    written.put("stages.shape", Map.of("motion", "by_load", "forward_deg", 90, "backward_deg", 91));
    assertEquals(
        List.of(
            "sense.low_hz: 7000 Hz is not below high_hz, 7000 Hz",
            "sense.leak_ohm: 20000 Ohm is not below enter_kohm, 20 kOhm",
            "sense.enter_kohm: 20 kOhm is not below unwetted_kohm, 20 kOhm",
            "stages.length.backward_deg: 90 deg is not below forward_deg, 90 deg",
            "stages.shape.backward_deg: 91 deg is not below forward_deg, 90 deg"),
        faults(written, CURVE).stream().map(Fault::message).toList());
    sense.put("unwetted_kohm", 50);
    assertTrue(
        faults(written, CURVE).stream()
            .anyMatch(
                f ->
                    f.message()
                        .equals("sense.unwetted_kohm: 50 kOhm is not below open_kohm, 50 kOhm")));
    written.put("file", Map.of("size", 20));
    written.put("sense", Map.of("policy", "approach", "refuse_bound_mm", "0.4"));
    assertTrue(
        faults(written, CURVE).stream()
            .anyMatch(
                f ->
                    f.message()
                        .equals(
                            "stages.length.tolerance_mm: 0.5 mm is above sense.refuse_bound_mm,"
                                + " 0.4 mm")));
    written.put(
        "sense",
        Map.of("policy", "locator", "locator_step_mm", 1, "locator_rate_hz", 200, "enter_mm", 18));
    assertEquals(
        "sense.enter_mm: 18 mm is not below leave_mm, 18 mm",
        faults(written, Calibration.NONE).get(0).message());
  }

  @Test
  void anglesMatterOnlyToAStageThatReciprocates() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("stages.length", Map.of("forward_deg", 90, "backward_deg", 91));
    ControllerSettings.of(written, CURVE);
  }

  /** One lower frequency above the default of the upper one, which this policy does not read. */
  @Test
  void aPolicyWithOneFrequencyNeedsNoSecond() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("sense", Map.of("policy", "resistance", "low_hz", 8000));
    assertArrayEquals(new int[] {8000}, ControllerSettings.of(written, CURVE).sensedHertz());
  }

  @Test
  void aKeyThatThePolicyDoesNotReadIsRefusedWithBoth() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("sense", Map.of("policy", "ratio", "caution_errors", "0.5"));
    assertEquals(
        List.of("sense.caution_errors: policy ratio does not read this key; remove it"),
        faults(written, CURVE).stream().map(Fault::message).toList());
    written.put("file", Map.of("size", 20));
    written.put("stages.length", Map.of("torque_ncm", "0.1"));
    written.put("sense", Map.of("policy", "approach", "caution_errors", "0.5", "low_hz", 300));
    assertEquals(
        List.of("sense.low_hz: policy approach does not read this key; remove it"),
        faults(written, CURVE).stream().map(Fault::message).toList());
    written.put("sense", Map.of("policy", "approach", "caution_errors", "0.5"));
    assertArrayEquals(
        new int[] {300, 1500, 7000, 20_000}, TestWeights.settings(written, CURVE).sensedHertz());
  }

  @Test
  void aPolicyThatReadsByWeightsNeedsThemAndAFileThatTheyKnow() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("sense", Map.of("policy", "approach"));
    assertEquals(
        List.of("sense.weights: the policy reads by weights, and there are none"),
        assertThrows(SettingsException.class, () -> ControllerSettings.of(written, CURVE))
            .faults()
            .stream()
            .map(Fault::message)
            .toList());
    written.put("stages.length", Map.of("torque_ncm", "0.1"));
    int most = TestWeights.SHIPPED.validity().sizes().get(1);
    written.put("file", Map.of("size", most));
    long shipped = TestWeights.settings(written, CURVE).fingerprint();
    DepthWeights other =
        DepthWeights.bare(
            DepthNetwork.silent(DepthWeights.INPUTS, 2 * DepthWeights.TARGETS), Optional.empty());
    assertNotEquals(
        shipped, ControllerSettings.of(written, CURVE, PolicyTables.BUILT_IN, other).fingerprint());
    written.put("file", Map.of("size", most + 1));
    String message = faults(written, CURVE).get(0).message();
    assertTrue(message.startsWith("file.size: " + (most + 1) + " 1/100 mm is outside "), message);
    assertTrue(message.contains("the files that the weights were fitted for"), message);
  }

  @Test
  void aStageIsJudgedByItsOwnFile() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("stages.length", Map.of());
    written.put("file", Map.of("size", 15, "shear_strength_mpa", 800, "turns_limit", 90));
    written.put("stages.length", Map.of("torque_ncm", "0.2"));
    long alone = ControllerSettings.of(written, CURVE).fingerprint();
    written.put("stages.open", Map.of("torque_ncm", "2"));
    assertEquals(
        List.of("stages.open.torque_ncm"),
        faults(written, CURVE).stream().map(Fault::key).toList(),
        "2 N·cm breaks a file of size 15");
    written.put("stages.open.file", Map.of("size", 35, "taper", "0.08"));
    ControllerSettings settings = ControllerSettings.of(written, CURVE);
    assertEquals(15, settings.file(Stage.LENGTH).get(FileParameters.SIZE));
    assertEquals(35, settings.file(Stage.OPEN).get(FileParameters.SIZE));
    assertEquals(800, settings.file(Stage.OPEN).get(FileParameters.SHEAR_STRENGTH), "as the file");
    assertEquals(90, settings.file(Stage.OPEN).get(FileParameters.TURNS_LIMIT));
    assertEquals(15, settings.file(Stage.SHAPE).get(FileParameters.SIZE));
    written.put("stages.open", Map.of("torque_ncm", "4"));
    String message = faults(written, CURVE).get(0).message();
    assertTrue(message.contains("(size 35, taper 0.08)"), message);
    written.remove("stages.open");
    assertEquals(
        List.of("stages.open: the section is missing, and its file is given"),
        faults(written, CURVE).stream().map(Fault::message).toList());
    written.remove("stages.open.file");
    assertEquals(alone, ControllerSettings.of(written, CURVE).fingerprint());
  }

  @Test
  void theFileOfAStageStatesItsSizeAndItsTaper() {
    Map<String, Map<String, ?>> written = sections();
    written.put("file", Map.of("size", 200));
    written.put("stages.length.file", Map.of("alloy", "steel", "tip", 3));
    assertEquals(
        List.of(
            "file.size",
            "stages.length.file.tip",
            "stages.length.file.size",
            "stages.length.file.taper"),
        faults(written, CURVE).stream().map(Fault::key).limit(4).toList());
  }

  @Test
  void weightsNeedToKnowTheFilesOfTheStagesThatActOnTheReading() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("sense", Map.of("policy", "approach"));
    written.put("file", Map.of("size", 15, "taper", "0.04"));
    written.put("stages.length", Map.of("torque_ncm", "0.2"));
    written.put("stages.shape", Map.of("apical", "none", "on_doubtful", "none"));
    written.put("stages.shape.file", Map.of("size", 25, "taper", "0.06"));
    assertEquals(
        List.of("stages.shape.file.size", "stages.shape.file.taper"),
        faults(written, CURVE).stream().map(Fault::key).toList());
    written.put("stages.shape", Map.of("apical", "none", "on_doubtful", "none", "on_none", "none"));
    ControllerSettings settings = TestWeights.settings(written, CURVE);
    assertEquals(25, settings.file(Stage.SHAPE).get(FileParameters.SIZE));
  }

  @Test
  void theOldSelectorOfTheSensingPolicyIsRefusedWithTheNewOne() {
    Map<String, Map<String, ?>> written = sections();
    written.put("policies", Map.of("sensing", "built-in"));
    assertEquals(
        List.of("sensing: unknown key; write sense.policy"),
        faults(written, CURVE).stream().map(Fault::message).toList());
  }

  @Test
  void limitsMayBeReachedButNotPassed() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("guard", Map.of("speed_limit_rpm", 300, "torque_limit_ncm", "0.6"));
    written.put("stages.length", Map.of("ease_rpm", 300, "standoff_mm", "-0.5"));
    ControllerSettings.of(written, CURVE);
  }

  @Test
  void theStandoffMustLieShortOfTheFarEndOfTheCurve() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    written.put("stages.length", Map.of("standoff_mm", 3));
    assertEquals(
        "stages.length.standoff_mm: 3 mm is outside of the calibrated curve, -0.5 to 3 mm",
        faults(written, CURVE).get(0).message());
    written.put("stages.length", Map.of("standoff_mm", "2.999"));
    ControllerSettings.of(written, CURVE);
    written.put("stages.length", Map.of("standoff_mm", 3, "apical", "none"));
    ControllerSettings.of(written, CURVE);
  }

  @Test
  void aFeatureMustBeAboveZeroAndTwoPointsMakeACurve() {
    Calibration fromZero =
        new Calibration(List.of(new Calibration.Point(0, 0), new Calibration.Point(1, 3_000)));
    assertEquals(
        "calibration: feature 0 is not above 0", faults(sections(), fromZero).get(0).message());
    Calibration one = new Calibration(List.of(new Calibration.Point(1, 0)));
    assertEquals(
        "calibration: sense.policy ratio needs a curve of at least 2 points, not 1",
        faults(sections(), one).get(0).message());
  }

  /** Held fast: a record names its settings by this number. */
  @Test
  void theFingerprintOfTheDefaultsDoesNotDrift() throws SettingsException {
    assertEquals(
        "cbd13d0db4776a48",
        Long.toHexString(ControllerSettings.of(sections(), CURVE).fingerprint()));
  }

  @Test
  void everySettingAndEveryPointChangesTheFingerprint() throws SettingsException {
    Map<String, Map<String, ?>> written = sections();
    Set<Long> prints = new HashSet<>();
    int expected = 1;
    prints.add(ControllerSettings.of(written, CURVE).fingerprint());
    for (String section : List.of("file", "sense", "guard", "stages.length")) {
      for (Parameter p :
          ControllerSettings.of(written, CURVE).section(section).table().parameters()) {
        for (long other :
            new long[] {p.min(), p.max(), p.defaultValue() - 1, p.defaultValue() + 1}) {
          if (other == p.defaultValue() || other < p.min() || other > p.max()) {
            continue;
          }
          Map<String, Map<String, ?>> changed = sections();
          changed.put(section, Map.of(p.key(), p.human(other)));
          try {
            prints.add(ControllerSettings.of(changed, CURVE).fingerprint());
            expected++;
          } catch (SettingsException e) {
            continue; // contradicts another default
          }
          break;
        }
      }
    }
    List<Calibration.Point> points = CURVE.points();
    for (Calibration.Point moved :
        List.of(
            new Calibration.Point(400_001, -500),
            new Calibration.Point(400_000, -501),
            new Calibration.Point(400_000, -500, 1),
            new Calibration.Point(400_000, -500, 0, 1),
            new Calibration.Point(400_000 + (1L << 40), -500))) {
      Calibration curve =
          new Calibration(
              List.of(moved, new Calibration.Point(points.get(1).feature() + (1L << 41), 3_000)));
      prints.add(ControllerSettings.of(sections(), curve).fingerprint());
      expected++;
    }
    assertEquals(expected, prints.size());
    assertTrue(expected > 60, expected + " settings were changed");
  }

  private static Map<String, Map<String, ?>> sections() {
    Map<String, Map<String, ?>> written = new LinkedHashMap<>();
    written.put("file", Map.of());
    written.put("sense", Map.of());
    written.put("stages.length", Map.of());
    return written;
  }

  private static List<Fault> faults(Map<String, Map<String, ?>> written, Calibration curve) {
    return assertThrows(SettingsException.class, () -> TestWeights.settings(written, curve))
        .faults();
  }
}
