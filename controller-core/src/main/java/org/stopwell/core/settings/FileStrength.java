package org.stopwell.core.settings;

/**
 * Strength of a file against torque and bending.
 *
 * <p>Torque: for steel files of taper 0.02 the least torque at fracture by ISO 3630-1:1992 (as
 * quoted in papers of the 1990s, from memory), for all others a solid round 3 mm from the tip,
 * where the standard grips it: T = τ·π·d³/16, d = D0 + 3 mm · taper. Flutes make the real file
 * weaker than the solid round.
 *
 * <p>Bending: the surface strain in a curve, ε = d/2R, with the diameter 3 mm from the tip.
 */
public final class FileStrength {
  /** Sizes of the table, 1/100 mm. */
  private static final int[] STEEL_SIZE = {8, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60};

  /** Least torque at fracture of these sizes, gf·cm: ISO 3630-1:1992, from memory. */
  private static final int[] STEEL_GRAM_FORCE_CM = {
    5, 6, 8, 18, 30, 45, 65, 100, 120, 170, 200, 250
  };

  /** One gf·cm in µN·m: 0.01 m · 0.001 kg · 9.80665 m/s². */
  private static final double GRAM_FORCE_CM = 98.0665;

  /** Taper of the table, 1/10 000 mm per mm. */
  private static final int STEEL_TAPER = 200;

  private static final double GRIP_MM = 3;

  private final ParameterValues file;

  /**
   * The strength of a file.
   *
   * @param file checked values of the section {@code file}
   */
  public FileStrength(ParameterValues file) {
    this.file = file;
  }

  /**
   * Diameter 3 mm from the tip.
   *
   * @return mm
   */
  public double diameterMm() {
    return file.get(FileParameters.SIZE) / 100.0
        + GRIP_MM * file.get(FileParameters.TAPER) / 10_000.0;
  }

  /**
   * Torque at which the file breaks.
   *
   * @return µN·m
   */
  public int torqueMicroNewtonMetres() {
    if (file.choice(FileParameters.ALLOY).equals("steel")
        && file.getInt(FileParameters.TAPER) == STEEL_TAPER) {
      for (int i = 0; i < STEEL_SIZE.length; i++) {
        if (STEEL_SIZE[i] == file.getInt(FileParameters.SIZE)) {
          return (int) Math.round(STEEL_GRAM_FORCE_CM[i] * GRAM_FORCE_CM);
        }
      }
    }
    double d = diameterMm();
    // MPa · mm³ is N·mm, a thousand µN·m.
    double newtonMillimetres =
        file.get(FileParameters.SHEAR_STRENGTH) * StrictMath.PI * d * d * d / 16;
    return (int) Math.round(newtonMillimetres * 1_000);
  }

  /**
   * Share of the strength that a torque leaves unused.
   *
   * @param torqueMicroNewtonMetres a torque limit, µN·m
   * @return percent of the strength, negative when the file would break
   */
  public double marginPercent(int torqueMicroNewtonMetres) {
    return 100 - 100.0 * torqueMicroNewtonMetres / torqueMicroNewtonMetres();
  }

  /**
   * Surface strain of the file in the curve of the canal.
   *
   * @return 1 is 100 %; 0 in a straight canal
   */
  public double bendingStrain() {
    double radiusMm = file.get(FileParameters.CURVE_RADIUS) / 1_000.0;
    return radiusMm > 0 ? diameterMm() / (2 * radiusMm) : 0;
  }
}
