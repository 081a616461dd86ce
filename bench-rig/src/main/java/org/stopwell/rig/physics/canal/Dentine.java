package org.stopwell.rig.physics.canal;

/**
 * Conductance through the dentine, a thick-walled tube: {@code 2π/(ρ ln((a+w)/a))} per length. A
 * table over the radius with straight lines between; its error is below 3e-5 from 0.05 mm on.
 */
final class Dentine {
  private static final double LEAST_RADIUS = 0.02e-3;
  private static final double STEP = 2e-6;
  private static final int ENTRIES = 1024;

  private final double[] siemensPerMetre = new double[ENTRIES];

  Dentine(Canal canal) {
    for (int i = 0; i < ENTRIES; i++) {
      siemensPerMetre[i] = exact(canal.wallResistivity(), canal.wall(), LEAST_RADIUS + i * STEP);
    }
  }

  static double exact(double resistivity, double wall, double radius) {
    return 2 * Math.PI / (resistivity * StrictMath.log1p(wall / radius));
  }

  /** Conductance of a tube of this inner radius, S/m. */
  double perLength(double radius) {
    double at = (radius - LEAST_RADIUS) / STEP;
    int i = Math.max(0, Math.min(ENTRIES - 2, (int) at));
    return siemensPerMetre[i] + (at - i) * (siemensPerMetre[i + 1] - siemensPerMetre[i]);
  }
}
