package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** One value of a settings file is replaced, and nothing else changes. */
class SettingsTextTest {
  private static final String TEXT =
      """
      settings: 1
      name: mine # as in the cupboard
      file: {size: 15, taper: 0.04}

      stages:
        length:
          speed_rpm: 300
          # Nine tenths of the strength.
          torque_ncm: 0.24   # measured
          apical: hold
      """;

  private static Optional<String> with(String section, String key, String value) {
    return new SettingsText("mine.yaml", TEXT).with(section, key, value);
  }

  @Test
  void valuesAreReadBySection() {
    SettingsText text = new SettingsText("mine.yaml", TEXT);
    assertEquals(Map.of("size", "15", "taper", "0.04"), text.values("file"));
    assertEquals("0.24", text.values("stages.length").get("torque_ncm"));
    assertTrue(text.has("stages.length"));
    assertFalse(text.has("stages.open"));
  }

  @Test
  void aValueIsReplacedInItsLineWithItsComment() {
    assertEquals(
        Optional.of(TEXT.replace("torque_ncm: 0.24", "torque_ncm: 0.2")),
        with("stages.length", "torque_ncm", "0.2"));
  }

  @Test
  void aNewKeyGoesBelowTheOthersOfItsSection() {
    assertEquals(
        Optional.of(TEXT + "    standoff_mm: 0.6\n"), with("stages.length", "standoff_mm", "0.6"));
  }

  @Test
  void anEmptyValueTakesTheKeyOut() {
    assertEquals(
        Optional.of(TEXT.replace("    apical: hold\n", "")), with("stages.length", "apical", ""));
    assertEquals(Optional.of(TEXT), with("stages.length", "standoff_mm", ""));
  }

  /** What shares its line with others, is nowhere, or would become another key stays untouched. */
  @Test
  void whatCannotBeReplacedAloneIsLeft() {
    assertEquals(Optional.empty(), with("file", "size", "20"));
    assertEquals(Optional.empty(), with("stages.open", "speed_rpm", "300"));
    assertEquals(Optional.empty(), with("stages.length", "speed_rpm", "300\n    torque_ncm: 9"));
    assertEquals(Optional.empty(), with("stages.length", "speed_rpm", "3".repeat(101)));
  }

  @Test
  void wordsThatAreNoPlainValueAreQuoted() {
    String changed = with("stages.length", "apical", "hold # {not: \"a key\"}").orElseThrow();
    assertEquals(
        "hold # {not: \"a key\"}",
        new SettingsText("mine.yaml", changed).values("stages.length").get("apical"));
  }
}
