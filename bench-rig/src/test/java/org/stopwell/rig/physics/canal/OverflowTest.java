package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.virtual.Specimen;

/** A chamber that is full to its edge runs over, and the film to the gum leads. */
class OverflowTest {
  private static final long SEED = 11;
  private static final double MM = 1e-3;

  /** Magnitude with a film of 500 Ω, the fluid standing at a share of the chamber's depth, Ω. */
  private static double ohms(int member, String kind, double share) throws Exception {
    MeasuringCircuit at = new Specimen(scene(member, kind, share)).at(1 * MM);
    return Math.hypot(at.ohmsRe(0), at.ohmsIm(0));
  }

  /** A member whose fluid stands at a share of the depth of its chamber. */
  private static Scene scene(int member, String kind, double share) throws SettingsException {
    Scene plain = new Population(SEED).member(member, Fill.FLOODED, Map.of());
    long level =
        plain.section("canal").get(CanalSection.LENGTH)
            + Math.round(share * plain.section("fluid").get(FluidSection.CHAMBER_DEPTH));
    return new Population(SEED)
        .member(
            member,
            Fill.FLOODED,
            Map.of(
                "canal",
                Map.of("kind", kind),
                "fluid",
                Map.of(
                    "level_mm",
                    BigDecimal.valueOf(level, 3).toPlainString(),
                    "overflow_ohm",
                    "500")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"tooth", "lumped", "meshed"})
  void it_does_so_whatever_the_length_of_the_canal_and_the_depth_of_the_chamber(String kind)
      throws Exception {
    for (int i = 0; i < 100; i++) {
      double full = ohms(i, kind, 1);
      double nearlyFull = ohms(i, kind, 0.8);
      assertTrue(full < 0.8 * nearlyFull, "member " + i + ": " + full + " of " + nearlyFull);
    }
  }
}
