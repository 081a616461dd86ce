package org.stopwell.rig.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.settings.ParameterValues;

class IrrigantTest {
  /**
   * Water saturated with carbon dioxide, 25 °C: CRC Handbook after Wu et al., J Res NIST
   * 1991;96:191. Saline: 0.154 mol/L, molar conductivity between 106.7 at 0.1 and 101.7 S cm²/mol
   * at 0.2 mol/L, Robinson & Stokes from memory. Citric acid: 6.2 mS/cm at 20 °C, CRC Handbook, by
   * 2 % per kelvin. Hypochlorite: total sodium 2 · 0.336 and 2 · 0.705 mol/L as sodium chloride,
   * less a tenth, is 5 to 6 and 9 to 11: an estimate. 1 %: 2 · 0.134 mol/L at 99.5 S cm²/mol less a
   * tenth: 2.4. EDTA and chlorhexidine: estimates by the order below.
   */
  @ParameterizedTest
  @CsvSource({
    "distilled_water, 0.00011, 1e-6",
    "saline_0.9, 1.598, 0.003",
    "citric_acid_10, 0.6889, 0.002",
    "sodium_hypochlorite_2.5, 5.5, 0.5",
    "sodium_hypochlorite_5.25, 10, 1",
    "sodium_hypochlorite_1, 2.4, 0.1",
    "edta_17, 2, 0.4",
    "edta_5, 2.2, 0.4",
    "chlorhexidine_2, 0.2, 0.1",
  })
  void a_name_sets_the_conductivity_of_its_source(String name, double siemensPerMetre, double slack)
      throws Exception {
    ParameterValues fluid = fluid(Map.of("irrigant", name));

    assertEquals(siemensPerMetre, FluidSection.siemensPerMetre(fluid), slack);
  }

  /** Measured, ten samples each: Current Research in Dental Sciences 2022;32:148 (abstract). */
  @Test
  void they_conduct_in_the_measured_order() throws Exception {
    double last = Double.POSITIVE_INFINITY;
    for (String name :
        List.of(
            "sodium_hypochlorite_5.25",
            "sodium_hypochlorite_2.5",
            "sodium_hypochlorite_1",
            "edta_5",
            "edta_17",
            "saline_0.9",
            "chlorhexidine_2",
            "distilled_water")) {
      double here = FluidSection.siemensPerMetre(fluid(Map.of("irrigant", name)));
      assertTrue(here < last, name);
      last = here;
    }
  }

  @Test
  void the_strength_of_a_batch_scales_its_conductivity() throws Exception {
    ParameterValues old = fluid(Map.of("irrigant", "saline_0.9", "strength_percent", "80"));

    assertEquals(1.28, FluidSection.siemensPerMetre(old), 1e-9);
  }

  @Test
  void a_named_fluid_follows_the_temperature_as_any_other() throws Exception {
    // 0.9 % saline at 37 °C, 2 % per kelvin: 1.984 S/m
    ParameterValues warm = fluid(Map.of("irrigant", "saline_0.9", "temperature_c", "37"));

    assertEquals(1.984, FluidSection.siemensPerMetre(warm), 1e-9);
  }

  @Test
  void without_a_name_the_written_conductivity_counts() throws Exception {
    assertEquals(
        2.5, FluidSection.siemensPerMetre(fluid(Map.of("conductivity_s_per_m", "2.5"))), 1e-12);
    assertEquals(1.6, FluidSection.siemensPerMetre(fluid(Map.of())), 1e-12);
  }

  @Test
  void what_no_table_gives_is_called_an_estimate_to_be_measured() {
    for (Irrigant irrigant : Irrigant.values()) {
      boolean unsure = irrigant.key().matches("(sodium_hypochlorite|edta|chlorhexidine)_.*");
      assertEquals(unsure, irrigant.source().startsWith("estimate"), irrigant.key());
      assertEquals(unsure, irrigant.source().endsWith("measure"), irrigant.key());
    }
    assertTrue(FluidSection.IRRIGANT.source().contains("saline_0.9 1.6 S/m"));
    assertFalse(Irrigant.SALINE.source().isBlank());
  }

  private static ParameterValues fluid(Map<String, ?> values) throws Exception {
    return Scene.of(Map.of("fluid", values), 0).section("fluid");
  }
}
