package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class LadderTest {
  private static final double SHORT = 1e15;

  private static Admittances solve(
      Ladder ladder, double footRe, double footIm, double surfaceRe, double surfaceIm) {
    Admittances foot = new Admittances(1);
    foot.set(0, footRe, footIm);
    Admittances surface = new Admittances(1);
    surface.set(0, surfaceRe, surfaceIm);
    Admittances file = new Admittances(1);
    ladder.solve(foot, surface, file);
    return file;
  }

  @Test
  void unit_resistors_give_quotients_of_fibonacci_numbers() {
    double[] quotients = {2, 5 / 3.0, 13 / 8.0, 34 / 21.0, 89 / 55.0, 233 / 144.0, 610 / 377.0};
    for (int n = 1; n <= quotients.length; n++) {
      Ladder ladder = new Ladder(40);
      for (int i = 0; i < n; i++) {
        ladder.add(1, 1, i == n - 1 ? 1 : 0);
      }
      Admittances file = solve(ladder, 0, 0, 1, 0);
      assertEquals(quotients[n - 1], 1 / file.re(0), 1e-15);
    }
  }

  @Test
  void one_frequency_three_and_three_hundred_come_to_the_same() {
    Ladder ladder = new Ladder(30);
    ladder.add(0, 1e-7, 0);
    for (int k = 1; k < 30; k++) {
      ladder.add(100 + 300 * k, 1e-8 * k, k < 4 ? 0 : 1e-8 * k);
    }
    for (int count : new int[] {1, 3, 4, 300}) {
      Admittances foot = new Admittances(count);
      Admittances surface = new Admittances(count);
      Admittances file = new Admittances(count);
      for (int i = 0; i < count; i++) {
        foot.set(i, 1e-4 + 1e-6 * i, 2e-5 * i);
        surface.set(i, 0.3 + 0.01 * i, 1 + 0.1 * i);
      }
      ladder.solve(foot, surface, file);
      for (int i = 0; i < count; i++) {
        Admittances one = solve(ladder, foot.re(i), foot.im(i), surface.re(i), surface.im(i));
        assertEquals(one.re(0), file.re(i), 1e-14 * one.re(0));
        assertEquals(one.im(0), file.im(i), 1e-14 * Math.abs(one.re(0)));
      }
    }
  }

  @Test
  void a_ladder_that_no_metal_touches_conducts_nothing() {
    Ladder ladder = new Ladder(2);
    ladder.add(0, 1, 0);
    ladder.add(1, 1, 0);
    assertEquals(0, solve(ladder, 1, 0, 1, 1).re(0));
  }

  @Test
  void a_long_ladder_of_unit_resistors_gives_the_golden_ratio() {
    Ladder ladder = new Ladder(40);
    for (int i = 0; i < 40; i++) {
      ladder.add(1, 1, i == 39 ? 1 : 0);
    }
    Admittances file = solve(ladder, 0, 0, 1, 0);
    assertEquals(1.618033988750, 1 / file.re(0), 1e-12);
  }

  /** Telegrapher's equation: r = 1 kΩ/mm, g = 1 µS/mm, 10 mm. */
  @Test
  void a_leaky_line_has_its_closed_form_open_shorted_and_loaded() {
    assertEquals(103311.320656, leakyLine(0), 0.05);
    assertEquals(9679.481335, leakyLine(SHORT), 0.005);
    assertEquals(15221.778358, leakyLine(1 / 6500.0), 0.005);
  }

  private static double leakyLine(double foot) {
    int cells = 4000;
    Ladder ladder = new Ladder(cells + 1);
    ladder.add(0, 0, 0);
    for (int i = 0; i < cells; i++) {
      double halfLeak = 0.5 * 10e-6 / cells;
      ladder.addToTop(halfLeak, 0);
      ladder.add(10_000.0 / cells, halfLeak, i == cells - 1 ? 1 : 0);
    }
    Admittances file = solve(ladder, foot, 0, SHORT, 0);
    return 1 / file.re(0);
  }

  /** {@code R coth(x)/x}, x = √(jωRC): 10 kΩ and 10 nF at 1 kHz, metal along the whole line. */
  @Test
  void metal_along_a_resistor_is_a_uniform_line() {
    int cells = 4000;
    Ladder ladder = new Ladder(cells + 1);
    ladder.add(0, 0, 0);
    for (int i = 0; i < cells; i++) {
      double halfMetal = 0.5 / cells;
      ladder.addToTop(0, halfMetal);
      ladder.add(10_000.0 / cells, 0, halfMetal);
    }
    Admittances file = solve(ladder, SHORT, 0, 0, 2 * Math.PI * 1000 * 10e-9);
    double re = file.re(0);
    double im = file.im(0);
    double size = re * re + im * im;
    assertEquals(3325.011297, re / size, 0.001);
    assertEquals(-16054.597786, -im / size, 0.001);
  }

  /** Q = 10⁻⁶ S·s^0.8: the phase is −72° at every frequency. */
  @Test
  void a_constant_phase_element_has_its_closed_form() {
    assertPhaseElement(400, 588.559638, -1811.400310);
    assertPhaseElement(1000, 282.773345, -870.286869);
    assertPhaseElement(8000, 53.575530, -164.888528);
  }

  private static void assertPhaseElement(double hertz, double re, double im) {
    PhaseElement y = PhaseElement.of(1e-6, 0.8, 2 * Math.PI * hertz);
    double size = y.siemensRe() * y.siemensRe() + y.siemensIm() * y.siemensIm();
    assertEquals(re, y.siemensRe() / size, 1e-6);
    assertEquals(im, -y.siemensIm() / size, 1e-6);
  }

  /** R0 = 10 kΩ, R∞ = 1 kΩ, fc = 1 kHz. */
  @Test
  void a_cole_element_has_its_closed_form() {
    assertCole(1, 1000, 5500, -4500);
    assertCole(0.8, 1000, 5500, -3269.441376);
    assertCole(0.5, 1000, 5500, -1863.961031);
    assertCole(1, 400, 8758.620690, -3103.448276);
    assertCole(1, 8000, 1138.461538, -1107.692308);
  }

  private static void assertCole(double exponent, double hertz, double re, double im) {
    Cole cole = Cole.of(10_000, 1000, 1000, exponent, hertz);
    assertEquals(re, cole.ohmsRe(), 1e-6);
    assertEquals(im, cole.ohmsIm(), 1e-6);
  }
}
