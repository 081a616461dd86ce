package org.stopwell.rig.physics.fluid;

import org.stopwell.core.number.Elementary;

/**
 * Closed forms of fluid in narrow tubes, with the constants of water at 25 °C (tables, from
 * memory). Irrigants are watery; a wetting agent lowers the surface tension to about half. Units
 * SI.
 */
public final class Capillarity {
  /** Surface tension against air, N/m. */
  static final double TENSION = 0.072;

  /** Viscosity, Pa·s. */
  static final double VISCOSITY = 0.89e-3;

  /** Weight of a volume, N/m³: 997 kg/m³ at 9.81 m/s². */
  static final double WEIGHT = 997 * 9.81;

  /**
   * Film of a long bubble over the radius at low speed: Bretherton, J Fluid Mech 1961;10:166, from
   * memory.
   */
  private static final double BRETHERTON = 1.34;

  /**
   * Bends the film to the radius at high speed: Aussillous and Quéré, Phys Fluids 2000;12:2367,
   * from memory.
   */
  private static final double CROWDING = 2.5;

  /**
   * Thickness of a film over the radius above which it gathers into plugs: Gauglitz and Radke, Chem
   * Eng Sci 1988;43:1457, from memory.
   */
  public static final double CLOSES = 0.12;

  private Capillarity() {}

  /**
   * Bond number, gravity over surface tension: {@code ρgr²/σ} with the radius. Far below 1 surface
   * tension decides where fluid stands.
   *
   * @param radius radius of the tube, m
   * @return a number without unit
   */
  public static double bond(double radius) {
    return WEIGHT * radius * radius / TENSION;
  }

  /**
   * Height to which a wetting fluid rises in a tube (Jurin): {@code 2σ/(ρgr)}, contact angle 0.
   *
   * @param radius radius of the tube, m
   * @return m
   */
  public static double rise(double radius) {
    return 2 * TENSION / (WEIGHT * radius);
  }

  /**
   * Length of a plug that hangs in a tube with air below it: {@code 2σ(cos θᵣ − cos θₐ)/(ρgr)}, the
   * balance of its weight and of the two menisci (from memory).
   *
   * @param radius radius of the tube, m
   * @param hysteresis cosine of the receding less cosine of the advancing contact angle
   * @return m
   */
  public static double hangs(double radius, double hysteresis) {
    return rise(radius) * hysteresis;
  }

  /**
   * Height by which a wetting fluid stands at the wall above the flat level of the same volume: two
   * thirds of the radius, a hemisphere.
   *
   * @param radius radius of the tube, m
   * @return m
   */
  public static double meniscus(double radius) {
    return 2.0 / 3 * radius;
  }

  /**
   * Thickness of the film that a falling surface leaves on the wall, over the radius: {@code
   * 1.34·Ca^⅔/(1 + 2.5·1.34·Ca^⅔)} with {@code Ca = μU/σ} (Landau, Levich and Bretherton; the
   * denominator of Aussillous and Quéré).
   *
   * @param speed speed of the surface, m/s
   * @return a share of the radius, 0 to 0.4
   */
  public static double film(double speed) {
    if (!(speed > 0)) {
      return 0;
    }
    double thin = BRETHERTON * Elementary.pow(VISCOSITY * speed / TENSION, 2.0 / 3);
    return thin / (1 + CROWDING * thin);
  }

  /**
   * Share of the cross-section of a tube that is film: {@code 1 − (1 − t/r)²}.
   *
   * @param film thickness over the radius
   * @return 0 to 1
   */
  public static double share(double film) {
    return film * (2 - film);
  }
}
