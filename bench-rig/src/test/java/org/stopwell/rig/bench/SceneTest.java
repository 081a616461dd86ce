package org.stopwell.rig.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.SettingsException;

class SceneTest {
  @Test
  void a_scene_of_nothing_written_is_all_defaults() throws Exception {
    Scene scene = Scene.of(Map.of(), 7);

    for (Map.Entry<String, ParameterTable> section : Scene.tables().entrySet()) {
      for (Parameter p : section.getValue().parameters()) {
        assertEquals(p.defaultValue(), scene.section(section.getKey()).get(p), p.key());
      }
    }
    assertEquals(7, scene.seed());
  }

  @Test
  void millimetres_become_micrometres() throws Exception {
    Scene scene = Scene.of(Map.of("canal", Map.of("length_mm", "14.5")), 0);

    assertEquals(14_500, scene.section("canal").get(CanalSection.LENGTH));
  }

  @Test
  void every_mistake_is_named_at_once() {
    SettingsException refused =
        assertThrows(
            SettingsException.class,
            () ->
                Scene.of(
                    Map.of(
                        "canal", Map.of("length_mm", "90", "colour", "red"),
                        "hand", Map.of("motion", "dancing")),
                    0));

    assertEquals(
        List.of("canal.colour", "canal.length_mm", "hand.motion"),
        refused.faults().stream().map(Fault::key).sorted().toList());
  }

  @Test
  void frequencies_must_ascend_without_a_gap() {
    assertEquals(
        "front_end.frequency_2_hz: 500 Hz must be above the frequency before it, 800 Hz",
        refusal(Map.of("frequency_1_hz", "800", "frequency_2_hz", "500")));
    assertEquals(
        "front_end.frequency_3_hz: 9000 Hz must be above the frequency before it, which is unused",
        refusal(Map.of("frequency_2_hz", "0", "frequency_3_hz", "9000")));
  }

  @Test
  void a_constriction_is_never_wider_than_the_foramen() {
    SettingsException refused =
        assertThrows(
            SettingsException.class,
            () ->
                Scene.of(
                    Map.of(
                        "canal",
                        Map.of("constriction_diameter_mm", "0.6", "foramen_diameter_mm", "0.4")),
                    0));

    assertEquals(
        "canal.constriction_diameter_mm: 0.6 mm is wider than foramen_diameter_mm 0.4 mm",
        refused.getMessage());
  }

  @Test
  void a_named_irrigant_and_a_conductivity_are_refused_together() {
    SettingsException refused =
        assertThrows(
            SettingsException.class,
            () ->
                Scene.of(
                    Map.of("fluid", Map.of("irrigant", "edta_17", "conductivity_s_per_m", "1.6")),
                    0));

    assertEquals(
        "fluid.irrigant: edta_17 sets 2.0 S/m and fluid.conductivity_s_per_m says 1.6 S/m;"
            + " give one of the two",
        refused.getMessage());
  }

  private static String refusal(Map<String, ?> frontEnd) {
    SettingsException refused =
        assertThrows(SettingsException.class, () -> Scene.of(Map.of("front_end", frontEnd), 0));
    return refused.faults().get(0).message();
  }
}
