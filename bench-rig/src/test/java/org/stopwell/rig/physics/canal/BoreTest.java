package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.file.Instrument;

class BoreTest {
  private static final double MM = 1e-3;
  private final Canal canal =
      Canal.plain(16 * MM, 0.25 * MM, 0.5 * MM, 0.125 * MM, 0.02, 1.5 * MM, 1000, 3);
  private final Bore bore = new Bore(canal);

  private static Instrument file(double tipMm, double taper) {
    return new Instrument(tipMm / 2 * MM, taper / 2, 16e-3, 0.6, 1, 0.85, 1e9, 1e-3, 0, 0, 0);
  }

  @Test
  void the_canal_narrows_from_foramen_to_constriction_and_widens_to_the_orifice() {
    assertEquals(0.25 * MM, bore.radius(-1), 1e-15);
    assertEquals(0.1875 * MM, bore.radius(0.25 * MM), 1e-15);
    assertEquals(0.125 * MM, bore.radius(0.5 * MM), 1e-15);
    assertEquals(0.325 * MM, bore.radius(10.5 * MM), 1e-15);
    assertEquals(0.435 * MM, bore.radius(20 * MM), 1e-15);
  }

  /**
   * Frusta by hand, mm³: from 0.5 to 0.3 mm over 0.4 mm 0.051313; a cylinder of 0.3 mm over 1.5 mm
   * 0.106029; from 0.3 to 0.8 mm over 10 mm 2.539454 (π h (d² + d D + D²)/12).
   */
  @Test
  void a_parallel_constriction_is_a_cylinder_between_two_cones() {
    Bore parallel =
        new Bore(
            new Canal(
                11.9 * MM, 0.25 * MM, 0.4 * MM, 1.5 * MM, 0.15 * MM, 0.025, 1.5 * MM, 100, 1, 0,
                3));
    double cubed = MM * MM * MM;

    assertEquals(0.051313 * cubed, parallel.volumeBelow(0.4 * MM), 1e-6 * cubed);
    assertEquals((0.051313 + 0.106029) * cubed, parallel.volumeBelow(1.9 * MM), 2e-6 * cubed);
    assertEquals(2.696796 * cubed, parallel.volumeBelow(11.9 * MM), 3e-6 * cubed);
    assertEquals(0.15 * MM, parallel.radius(1.2 * MM), 1e-15);
    assertEquals(0.4 * MM, parallel.radius(11.9 * MM), 1e-15);
    assertEquals(1.2 * MM, parallel.heightOf(parallel.volumeBelow(1.2 * MM)), 1e-12);
    Instrument file = file(0.4, 0.02);
    double cut = parallel.carve(file, 0.6 * MM);
    // up to where the cone of the canal is as wide as that of the file, 6.567 mm
    assertEquals(0, parallel.overlap(file, 0.6 * MM), 1e-15);
    assertEquals(0.2 * MM, parallel.radius(0.6 * MM), 1e-15);
    assertTrue(cut > 0);
  }

  /** An open apex and a tapering end are cones from the foramen on. */
  @Test
  void the_form_of_the_constriction_decides_what_is_narrow() throws Exception {
    for (String form : new String[] {"traditional", "parallel", "tapering", "none"}) {
      Canal c =
          Canal.of(
              Scene.of(
                      Map.of(
                          "canal",
                          Map.of(
                              "constriction", form,
                              "foramen_diameter_mm", "0.6",
                              "constriction_diameter_mm", "0.3",
                              "constriction_mm", "0.5",
                              "constriction_length_mm", "1",
                              "taper", "0.06")),
                      0)
                  .section("canal"));
      Bore b = new Bore(c);
      boolean flares = form.equals("traditional") || form.equals("parallel");
      assertEquals(form.equals("tapering") ? 0.15 * MM : 0.3 * MM, b.radius(0), 1e-15, form);
      assertEquals(form.equals("tapering") ? 0.15 * MM : 0.3 * MM, c.foramenRadius(), 1e-15, form);
      double atHalf = flares ? 0.15 : form.equals("none") ? 0.315 : 0.165;
      assertEquals(atHalf * MM, b.radius(0.5 * MM), 1e-15, form);
      double atThree =
          switch (form) {
            case "traditional" -> 0.15 + 0.03 * 2.5;
            case "parallel" -> 0.15 + 0.03 * 1.5;
            case "tapering" -> 0.15 + 0.03 * 3;
            default -> 0.3 + 0.03 * 3;
          };
      assertEquals(atThree * MM, b.radius(3 * MM), 1e-15, form);
    }
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

  /** A cutting part of 6 mm: 0.2 + 0.06·6 = 0.56 mm across, then a shaft. */
  @Test
  void a_file_binds_where_its_shaft_begins_and_its_shaft_cuts_a_cylinder() {
    Instrument file = new Instrument(0.1 * MM, 0.03, 6 * MM, 0.6, 1, 0.85, 1e9, 1e-3, 0, 0, 0);
    // 9 mm above the foramen the canal is 0.295 mm wide, half of it
    assertEquals((0.28 - 0.295) * MM, bore.overlap(file, 3 * MM), 1e-15);
    assertEquals(0.28 * MM, bore.greatestTouch(file, 2 * MM), 1e-15);
    bore.carve(file, 1 * MM);
    assertEquals(0, bore.overlap(file, 1 * MM), 1e-15);
    for (double z = 0; z < 16 * MM; z += 0.01 * MM) {
      double old = new Bore(canal).radius(z);
      double wanted = z >= 1 * MM ? Math.max(old, file.radius(z - 1 * MM)) : old;
      assertEquals(wanted, bore.radius(z), 1e-12, "at " + z);
    }
  }
}
