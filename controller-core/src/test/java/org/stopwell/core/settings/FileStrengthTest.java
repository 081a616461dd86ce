package org.stopwell.core.settings;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FileStrengthTest {

  /** τ·π·d³/16 at 1000 MPa, computed apart: size, taper, mN·m. */
  @ParameterizedTest
  @CsvSource({
    "20,0.04,6.434",
    "25,0.04,9.946",
    "25,0.06,15.611",
    "30,0.04,14.547",
    "40,0.04,27.608"
  })
  void aSolidRoundBearsTorqueByItsDiameterThreeMillimetresFromTheTip(
      int size, String taper, double milliNewtonMetres) throws SettingsException {
    FileStrength strength =
        strength(Map.of("size", size, "taper", taper, "shear_strength_mpa", 1_000));
    assertEquals(milliNewtonMetres, strength.torqueMicroNewtonMetres() / 1_000.0, 0.001);
  }

  /** ISO 3630-1:1992 least torque in mN·m, from memory: 15 0.785, 25 2.942, 40 9.807. */
  @ParameterizedTest
  @CsvSource({"15,0.785", "20,1.765", "25,2.942", "30,4.413", "35,6.374", "40,9.807"})
  void steelOfTaperTwoHundredthsIsTakenFromTheStandard(int size, double milliNewtonMetres)
      throws SettingsException {
    FileStrength strength = strength(Map.of("size", size, "taper", "0.02", "alloy", "steel"));
    assertEquals(milliNewtonMetres, strength.torqueMicroNewtonMetres() / 1_000.0, 0.001);
  }

  @Test
  void strainInACurveIsDiameterOverTwiceTheRadius() throws SettingsException {
    // d = 0.40 mm three millimetres from the tip of size 28, taper 0.04; R = 5 mm gives 4 %.
    assertEquals(0.04, strength(Map.of("size", 28, "curve_radius_mm", 5)).bendingStrain(), 1e-9);
    assertEquals(0.10, strength(Map.of("size", 28, "curve_radius_mm", 2)).bendingStrain(), 1e-9);
    assertEquals(0, strength(Map.of("size", 28)).bendingStrain());
  }

  @Test
  void theMarginIsWhatTheTorqueLeavesUnused() throws SettingsException {
    FileStrength strength =
        strength(Map.of("size", 25, "taper", "0.06", "shear_strength_mpa", 1_000));
    assertEquals(100 - 100 * 6.0 / 15.611, strength.marginPercent(6_000), 0.01);
    assertTrue(strength.marginPercent(16_000) < 0);
  }

  @Test
  void aTorqueAboveTheStrengthOfTheFileIsRefusedWithBothValues() {
    Calibration curve =
        new Calibration(List.of(new Calibration.Point(1, -500), new Calibration.Point(2, 3_000)));
    SettingsException refused =
        assertThrows(
            SettingsException.class,
            () ->
                ControllerSettings.of(
                    Map.of(
                        "file", Map.of("size", 15, "taper", "0.02"),
                        "sense", Map.of(),
                        "stages.length", Map.of("torque_ncm", "0.6")),
                    curve));
    assertEquals(
        "stages.length.torque_ncm: 0.6 N·cm is above the strength of the file, 0.1273 N·cm (size"
            + " 15, taper 0.02)",
        refused.getMessage());
  }

  private static FileStrength strength(Map<String, ?> written) throws SettingsException {
    return new FileStrength(FileParameters.TABLE.resolve(written));
  }
}
