package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class StarMeshTest {
  private static final double EXACT = 1e-12;

  private final StarMesh mesh = new StarMesh(5);

  @BeforeEach
  void leftFromBefore() {
    mesh.link(1, 2, 5, 5);
    mesh.clear();
  }

  @Test
  void a_rail_is_its_resistors_in_series() {
    mesh.link(0, 2, 1.0 / 100, 0);
    mesh.advance(2, 1.0 / 200);
    mesh.link(2, 1, 1.0 / 300, 0);
    mesh.advance(2, 0);
    assertEquals(1.0 / 600, mesh.siemensRe(0, 1), EXACT);
  }

  /** 100 Ω and 1 µF at 1000 rad/s: 100 − j1000 Ω. */
  @Test
  void a_resistor_and_a_capacitor_in_series_have_their_phase() {
    mesh.link(0, 2, 1.0 / 100, 0);
    mesh.link(2, 1, 0, 1e-3);
    mesh.advance(2, 0);
    assertEquals(100 / 1.01e6, mesh.siemensRe(0, 1), EXACT);
    assertEquals(1000 / 1.01e6, mesh.siemensIm(0, 1), EXACT);
  }

  @Test
  void a_star_of_three_becomes_a_triangle() {
    mesh.link(4, 0, 1, 0);
    mesh.link(4, 1, 2, 0);
    mesh.link(4, 2, 3, 0);
    mesh.advance(4, 0);
    assertEquals(1.0 * 2 / 6, mesh.siemensRe(0, 1), EXACT);
    assertEquals(2.0 * 3 / 6, mesh.siemensRe(1, 2), EXACT);
    assertEquals(1.0 * 3 / 6, mesh.siemensRe(2, 0), EXACT);
  }

  /** No current flows between rails of one potential, so joining them changes nothing. */
  @Test
  void a_balanced_bridge_is_the_same_merged() {
    for (boolean merged : new boolean[] {false, true}) {
      mesh.clear();
      mesh.link(0, 2, 1, 0);
      mesh.link(0, 3, 2, 0);
      mesh.link(2, 3, 7, 0);
      mesh.link(2, 1, 3, 0);
      mesh.link(3, 1, 6, 0);
      if (merged) {
        mesh.merge(2, 3);
      }
      mesh.advance(2, 0);
      mesh.advance(3, 0);
      assertEquals(1 / (1.0 / 3 + 1.0 / 9), mesh.siemensRe(0, 1), EXACT);
    }
  }

  @Test
  void a_rail_without_a_link_leads_nowhere() {
    mesh.link(0, 1, 1, 0);
    mesh.advance(3, 2);
    mesh.advance(4, 0);
    mesh.merge(3, 1);
    assertEquals(1, mesh.siemensRe(0, 1), 0);
    assertEquals(0, mesh.siemensRe(1, 3), 0);
  }
}
