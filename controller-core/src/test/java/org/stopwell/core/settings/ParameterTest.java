package org.stopwell.core.settings;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** What people write becomes checked numbers; what is wrong is named and left at its default. */
class ParameterTest {
  private static final Parameter HEIGHT =
      Parameter.of("height_mm")
          .unit("mm", 3)
          .range("0.1", "2.5")
          .initially("0.5")
          .text("How high.")
          .source("assumed");
  private static final Parameter COUNT =
      Parameter.of("count").range("1", "9").initially("3").text("How many.").source("assumed");
  private static final Parameter WAY =
      Parameter.of("way").choice("up", "down", "still").text("Where to.").source("assumed");
  private static final Parameter LOUD =
      Parameter.of("loud").flag(true).text("Whether.").source("assumed");
  private static final ParameterTable TABLE = new ParameterTable(List.of(HEIGHT, COUNT, WAY, LOUD));

  private final List<Fault> faults = new ArrayList<>();

  private List<String> said() {
    return faults.stream().map(Fault::message).toList();
  }

  @Test
  void whatIsRightIsTaken() throws SettingsException {
    ParameterValues values =
        TABLE.resolve(Map.of("height_mm", "1.25", "count", 9, "way", "down", "loud", false));
    assertEquals(1_250, values.get(HEIGHT));
    assertEquals(9, values.getInt(COUNT));
    assertEquals("down", values.choice(WAY));
    assertFalse(values.flag(LOUD));
    assertTrue(values.isGiven(HEIGHT));
    assertEquals("1.25", HEIGHT.human(values.get(HEIGHT)));
    assertEquals("down", WAY.human(values.get(WAY)));
    assertEquals("false", LOUD.human(values.get(LOUD)));
  }

  @Test
  void whatIsMissingHasItsDefault() throws SettingsException {
    ParameterValues values = TABLE.resolve(Map.of());
    assertEquals(500, values.get(HEIGHT));
    assertEquals("up", values.choice(WAY));
    assertTrue(values.flag(LOUD));
    assertFalse(values.isGiven(HEIGHT));
    assertFalse(new ParameterTable(List.of(quiet())).resolve(Map.of()).flag(quiet()));
  }

  private static Parameter quiet() {
    return Parameter.of("quiet").flag(false).text("Whether.").source("assumed");
  }

  @Test
  void everyMistakeIsNamedAtOnceAndLeavesItsDefault() {
    ParameterValues values =
        TABLE.resolve(
            Map.of("height_mm", "tall", "count", "many", "way", "left", "loud", "maybe", "x", 1),
            faults);
    assertEquals(
        List.of(
            "x: unknown key",
            "height_mm: tall is not a number in mm",
            "count: many is not a number",
            "way: left is not one of up, down, still",
            "loud: maybe is not true or false"),
        said());
    assertEquals(500, values.get(HEIGHT));
    assertEquals(3, values.get(COUNT));
    assertEquals("up", values.choice(WAY));
    assertFalse(values.flag(LOUD));
  }

  @Test
  void aNumberTooFineOrOutOfBoundsIsNamedWithItsLimitAndUnit() {
    ParameterValues values = TABLE.resolve(Map.of("height_mm", "0.5001", "count", "10"), faults);
    assertEquals(
        List.of("height_mm: 0.5001 is finer than 3 decimals in mm", "count: 10 is outside 1 to 9"),
        said());
    assertEquals(500, values.get(HEIGHT));
    assertEquals(3, values.get(COUNT));
    faults.clear();
    assertEquals(500, TABLE.resolve(Map.of("height_mm", "2.501"), faults).get(HEIGHT));
    assertEquals(List.of("height_mm: 2.501 mm is outside 0.1 to 2.5 mm"), said());
  }

  @Test
  void bothLimitsAreAllowed() throws SettingsException {
    assertEquals(100, TABLE.resolve(Map.of("height_mm", "0.1")).get(HEIGHT));
    assertEquals(2_500, TABLE.resolve(Map.of("height_mm", "2.5")).get(HEIGHT));
    assertEquals(2, WAY.max());
  }

  @Test
  void aRequiredKeyMustStandThere() {
    Parameter height =
        Parameter.of("height_mm")
            .unit("mm", 3)
            .range("0", "9")
            .required()
            .text("How high.")
            .source("assumed");
    ParameterTable strict = new ParameterTable(List.of(height));
    SettingsException thrown =
        assertThrows(SettingsException.class, () -> strict.resolve(Map.of()));
    assertTrue(String.valueOf(thrown.getMessage()).contains("height_mm: missing; How high."));
    assertThrows(IllegalArgumentException.class, () -> new ParameterTable(List.of(HEIGHT, HEIGHT)));
  }
}
