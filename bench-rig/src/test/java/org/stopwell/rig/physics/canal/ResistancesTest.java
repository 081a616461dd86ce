package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** Golden values come from the closed forms evaluated with a second program. */
class ResistancesTest {
  private static final double SALINE = 0.625;

  @Test
  void a_cone_of_fluid_has_its_closed_form() {
    assertEquals(0.159154943092, Resistances.frustum(1, 1, 1, 2), 1e-12);
    assertEquals(11789.255044, Resistances.frustum(SALINE, 1e-3, 0.125e-3, 0.135e-3), 1e-6);
    assertEquals(42090.563462, Resistances.frustum(SALINE, 16e-3, 0.125e-3, 0.605e-3), 1e-6);
  }

  @Test
  void a_tapered_ring_of_fluid_has_its_closed_form() {
    assertEquals(0.0672617735548, Resistances.annulus(1, 1, 2, 3, 1, 1.25), 1e-13);
    assertEquals(
        43364.845711, Resistances.annulus(SALINE, 10e-3, 0.15e-3, 0.45e-3, 0.10e-3, 0.20e-3), 1e-6);
  }

  @Test
  void a_ring_between_equal_tapers_has_its_closed_form() {
    assertEquals(
        95046.481036, Resistances.annulus(SALINE, 10e-3, 0.15e-3, 0.35e-3, 0.10e-3, 0.30e-3), 1e-6);
  }

  @Test
  void a_ring_between_similar_cones_is_the_limit_of_nought_over_nought() {
    assertEquals(
        53051.647697, Resistances.annulus(SALINE, 10e-3, 0.15e-3, 0.45e-3, 0.10e-3, 0.30e-3), 1e-6);
    assertEquals(
        53051.647697,
        Resistances.annulus(SALINE, 10e-3, 0.15e-3, 0.45e-3, 0.10e-3, 0.30e-3 + 1e-16),
        1e-4);
  }

  @Test
  void a_straight_ring_is_length_over_area() {
    assertEquals(
        15915.494309, Resistances.annulus(SALINE, 1e-3, 0.15e-3, 0.15e-3, 0.1e-3, 0.1e-3), 1e-6);
  }

  /** Newman, J Electrochem Soc 1966;113:501 and Hall, J Gen Physiol 1975;66:531: ρ/(4a). */
  @Test
  void a_flat_half_spheroid_is_a_disc() {
    assertEquals(1562.5, Resistances.halfSpheroid(SALINE, 0.10e-3, 0), 1e-9);
    assertEquals(1250, Resistances.halfSpheroid(SALINE, 0.125e-3, 0), 1e-9);
    assertEquals(625, Resistances.halfSpheroid(SALINE, 0.25e-3, 0), 1e-9);
    assertEquals(3.2e6, Resistances.halfSpheroid(0.64, 0.05e-6, 0), 1e-3);
  }

  @Test
  void a_round_half_spheroid_is_a_hemisphere() {
    assertEquals(0.159154943092, Resistances.halfSpheroid(1, 1, 1), 1e-12);
    assertEquals(0.159154943092, Resistances.halfSpheroid(1, 1, 1 - 2e-6), 1e-6);
    assertEquals(0.159154943092, Resistances.halfSpheroid(1, 1, 1 + 2e-6), 1e-6);
  }

  /** A long thin rod: ρ/(2πL)·ln(2L/r), the known limit. */
  @Test
  void a_long_half_spheroid_is_a_rod() {
    double rod = 1 / (2 * Math.PI * 1000) * Math.log(2 * 1000);

    assertEquals(rod, Resistances.halfSpheroid(1, 1, 1000), 1e-6 * rod);
  }

  @Test
  void the_short_form_of_the_logarithm_is_exact_to_a_billionth() {
    for (double u = -0.3; u < 0.3; u += 0.0007) {
      assertEquals(Math.log1p(u) / u, Resistances.logOver(u), 1e-9);
    }
    assertEquals(1, Resistances.logOver(0));
  }

  @Test
  void the_table_of_the_dentine_is_within_its_stated_error() {
    Canal canal = new Canal(16e-3, 0.25e-3, 0.5e-3, 0, 0.125e-3, 0.03, 1.5e-3, 100, 8, 3e-3, 3);
    Dentine wall = new Dentine(canal);
    for (double radius = 0.05e-3; radius < 2e-3; radius += 0.0003e-3) {
      double z = radius * 8;
      double exact = Dentine.exact(canal, radius, z);
      assertEquals(exact, wall.perLength(radius, z), 5e-5 * exact, "at " + radius);
    }
  }

  /**
   * A tube of 1 mm in a wall of 1 mm: 2π/(ρ ln 3) without smear layer; ρ is √8 times as much at the
   * foramen, and a film of 0.01 Ω·m² on 2π · 0.5 mm adds 3.1831 Ω·m.
   */
  @Test
  void the_wall_is_a_tube_that_is_tighter_at_the_apex_behind_a_film() {
    double tube = Math.log(3) / (2 * Math.PI);
    Canal graded = new Canal(16e-3, 0.5e-3, 0, 0, 0.5e-3, 0, 1e-3, 100, 8, 0, 3);
    assertEquals(100 * Math.sqrt(8) * tube, 1 / new Dentine(graded).perLength(0.5e-3, 0), 1e-2);
    assertEquals(100 * tube, 1 / new Dentine(graded).perLength(0.5e-3, 8e-3), 1e-3);
    assertEquals(100 / Math.sqrt(8) * tube, 1 / new Dentine(graded).perLength(0.5e-3, 16e-3), 1e-3);
    Canal smeared = new Canal(16e-3, 0.5e-3, 0, 0, 0.5e-3, 0, 1e-3, 100, 1, 0.01, 3);
    assertEquals(100 * tube + 3.1831, 1 / new Dentine(smeared).perLength(0.5e-3, 0), 1e-3);
  }
}
