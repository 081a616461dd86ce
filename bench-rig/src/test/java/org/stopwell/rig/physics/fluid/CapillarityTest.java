package org.stopwell.rig.physics.fluid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Against worked values: water at 25 °C, 0.072 N/m, 0.89 mPa·s, 997 kg/m³. */
class CapillarityTest {
  private static final double MM = 1e-3;

  /** With the radius: 0.002 in a canal 0.25 mm wide, 0.05 in one of 1.2 mm. */
  @Test
  void gravityIsSmallInACanal() {
    assertEquals(0.0021, Capillarity.bond(0.125 * MM), 0.0001);
    assertEquals(0.049, Capillarity.bond(0.6 * MM), 0.001);
  }

  /** Jurin: 14.7 mm in a tube of 1 mm radius, and inversely as the radius. */
  @Test
  void waterRisesInATube() {
    assertEquals(14.72 * MM, Capillarity.rise(MM), 0.01 * MM);
    assertEquals(4, Capillarity.rise(0.1 * MM) / Capillarity.rise(0.4 * MM), 1e-9);
    assertEquals(0.3 * 14.72 * MM, Capillarity.hangs(MM, 0.3), 0.01 * MM);
  }

  /**
   * Landau and Levich put 0.643·(3Ca)^⅔ where Bretherton has 1.34·Ca^⅔: at Ca = 1e-4 both are
   * 0.00289 of the radius. Ca = 1e-4 is 8.09 mm/s.
   */
  @Test
  void aFallingSurfaceLeavesTheFilmOfLandauLevichAndBretherton() {
    double speed = 1e-4 * 0.072 / 0.89e-3;
    double landauLevich = 0.643 * Math.cbrt(Math.pow(3e-4, 2));

    assertEquals(8.09e-3, speed, 0.01e-3);
    assertEquals(landauLevich, Capillarity.film(speed), 0.01 * landauLevich);
    assertEquals(
        Math.pow(8, 2.0 / 3), Capillarity.film(8e-3) / Capillarity.film(1e-3), 0.03, "slow films");
    assertEquals(0, Capillarity.film(0));
    assertEquals(0.4, Capillarity.film(1e9), 0.001, "no film is thicker than 1/2.5 of the radius");
  }

  /** A hand leaves a film far too thin to close; air of 3.7 m/s leaves one that does. */
  @Test
  void onlyAFastFilmClosesIntoPlugs() {
    assertTrue(Capillarity.film(10e-3) < 0.03 * Capillarity.CLOSES);
    assertTrue(Capillarity.film(3.5) < Capillarity.CLOSES);
    assertTrue(Capillarity.film(3.75) > Capillarity.CLOSES);
  }

  @Test
  void theShareOfAFilmIsThatOfARing() {
    assertEquals(1 - 0.9 * 0.9, Capillarity.share(0.1), 1e-12);
    assertEquals(0, Capillarity.share(0));
  }
}
