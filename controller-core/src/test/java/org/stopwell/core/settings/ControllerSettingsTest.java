package org.stopwell.core.settings;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Stage;

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
            "stages.length.torque_ncm: 0.6 N cm is above guard.torque_limit_ncm, 0.5 N cm"),
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
    written.put("sense", Map.of("policy", "locator"));
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

  private static Map<String, Map<String, ?>> sections() {
    Map<String, Map<String, ?>> written = new LinkedHashMap<>();
    written.put("file", Map.of());
    written.put("sense", Map.of());
    written.put("stages.length", Map.of());
    return written;
  }

  private static List<Fault> faults(Map<String, Map<String, ?>> written, Calibration curve) {
    return assertThrows(SettingsException.class, () -> ControllerSettings.of(written, curve))
        .faults();
  }
}
