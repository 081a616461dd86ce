package org.stopwell.rig.physics.canal;

import org.stopwell.core.number.Elementary;

/**
 * Conductance from the fluid through the wall, per length: the smear layer, a film of resistance R
 * by area, and the dentine, a thick-walled tube, {@code 1/(R/(2πa) + ρ ln((a+w)/a)/(2π))}. Tables
 * over radius and height with straight lines between; their error is below 5e-5 from 0.05 mm on.
 */
public final class Dentine {
  private static final double LEAST_RADIUS = 0.02e-3;
  private static final double STEP = 2e-6;
  private static final int ENTRIES = 1024;
  private static final int HEIGHTS = 257;

  private final Canal canal;
  private final double film;
  private final double[] tube = new double[ENTRIES];
  private final double[] ohmMetres = new double[HEIGHTS];

  /**
   * The wall of a canal.
   *
   * @param canal the canal
   */
  public Dentine(Canal canal) {
    this.canal = canal;
    film = canal.smear() / (2 * Math.PI);
    for (int i = 0; i < ENTRIES; i++) {
      tube[i] = tube(canal.wall(), LEAST_RADIUS + i * STEP);
    }
    for (int i = 0; i < HEIGHTS; i++) {
      ohmMetres[i] = canal.wallResistivity(canal.length() * i / (HEIGHTS - 1));
    }
  }

  private static double tube(double wall, double radius) {
    return 2 * Math.PI / Elementary.log1p(wall / radius);
  }

  /**
   * The same without tables.
   *
   * @param canal the canal
   * @param radius radius of the hollow, m
   * @param z height above the foramen, m
   * @return S/m
   */
  static double exact(Canal canal, double radius, double z) {
    return 1
        / (canal.smear() / (2 * Math.PI * radius)
            + canal.wallResistivity(z) / tube(canal.wall(), radius));
  }

  /**
   * Conductance through the wall.
   *
   * @param radius radius of the hollow, m
   * @param z height above the foramen, m, from 0 to the length of the canal
   * @return S/m
   */
  public double perLength(double radius, double z) {
    double at = (radius - LEAST_RADIUS) / STEP;
    int i = Math.max(0, Math.min(ENTRIES - 2, (int) at));
    double siemens = tube[i] + (at - i) * (tube[i + 1] - tube[i]);
    double up = z / canal.length() * (HEIGHTS - 1);
    int k = Math.max(0, Math.min(HEIGHTS - 2, (int) up));
    double resistivity = ohmMetres[k] + (up - k) * (ohmMetres[k + 1] - ohmMetres[k]);
    return siemens / (resistivity + siemens * film / radius);
  }
}
