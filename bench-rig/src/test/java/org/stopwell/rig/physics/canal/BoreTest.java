package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.rig.physics.file.Instrument;

class BoreTest {
  private static final double MM = 1e-3;
  private final Canal canal =
      new Canal(16 * MM, 0.25 * MM, 0.5 * MM, 0.125 * MM, 0.02, 1.5 * MM, 1000, 3);
  private final Bore bore = new Bore(canal);

  private static Instrument file(double tipMm, double taper) {
    return new Instrument(tipMm / 2 * MM, taper / 2, 0.6, 1, 0.85, 1e9, 1e-3, 0, 0, 0);
  }

  @Test
  void the_canal_narrows_from_foramen_to_constriction_and_widens_to_the_orifice() {
    assertEquals(0.25 * MM, bore.radius(-1), 1e-15);
    assertEquals(0.1875 * MM, bore.radius(0.25 * MM), 1e-15);
    assertEquals(0.125 * MM, bore.radius(0.5 * MM), 1e-15);
    assertEquals(0.325 * MM, bore.radius(10.5 * MM), 1e-15);
    assertEquals(0.435 * MM, bore.radius(20 * MM), 1e-15);
  }

  @Test
  void a_thin_file_passes_freely_and_a_thick_one_binds() {
    assertTrue(bore.overlap(file(0.2, 0.04), 0.6 * MM) < 0);
    assertEquals(0.05 * MM, bore.overlap(file(0.35, 0.04), 0.5 * MM), 1e-15);
    assertEquals((0.1 + 0.03 * 15 - 0.435) * MM, bore.overlap(file(0.2, 0.06), 1 * MM), 1e-15);
  }

  @Test
  void a_file_above_the_orifice_touches_nothing() {
    assertTrue(bore.overlap(file(1.4, 0.12), 16 * MM) < 0);
  }

  @Test
  void cutting_leaves_the_wider_of_canal_and_file() {
    Instrument file = file(0.2, 0.06);
    double before = bore.volumeBelow(16 * MM);
    double cut = bore.carve(file, 3 * MM);

    for (double z = 0; z < 16 * MM; z += 0.01 * MM) {
      double old = new Bore(canal).radius(z);
      double wanted = z >= 3 * MM ? Math.max(old, file.radius(z - 3 * MM)) : old;
      assertEquals(wanted, bore.radius(z), 1e-12, "at " + z);
    }
    assertEquals(bore.volumeBelow(16 * MM) - before, cut, 1e-20);
    assertTrue(cut > 0);
    assertEquals(0, bore.overlap(file, 3 * MM), 1e-15);
  }

  @Test
  void a_blunt_tip_cuts_a_step() {
    Instrument file = file(0.4, 0.02);
    bore.carve(file, 2 * MM);

    assertEquals(0.155 * MM, bore.radius(Math.nextDown(2 * MM)), 1e-10);
    assertEquals(0.2 * MM, bore.radius(2 * MM), 1e-15);
  }

  @Test
  void cutting_in_small_steps_cuts_as_much_as_at_once() {
    Instrument file = file(0.2, 0.06);
    double sum = 0;
    for (double tip = 6 * MM; tip > 1 * MM; tip -= 0.001 * MM) {
      sum += bore.carve(file, tip);
    }
    sum += bore.carve(file, 1 * MM);
    assertEquals(new Bore(canal).carve(file, 1 * MM), sum, 1e-17);
  }
}
