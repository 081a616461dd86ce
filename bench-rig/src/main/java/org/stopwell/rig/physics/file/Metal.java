package org.stopwell.rig.physics.file;

import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FileSection;

/**
 * What the metal of a file bears. Units SI.
 *
 * @param shearPascals shear stress at which it breaks, Pa
 * @param youngsPascals Young's modulus, Pa
 * @param fatigueStrain height of the fatigue line
 * @param fatigueSlope steepness of the fatigue line, positive
 * @param friction friction between metal and wall
 */
public record Metal(
    double shearPascals,
    double youngsPascals,
    double fatigueStrain,
    double fatigueSlope,
    double friction) {

  /**
   * The metal of a scene's file.
   *
   * @param file values of the section {@code file}
   * @return the metal
   */
  public static Metal of(ParameterValues file) {
    return new Metal(
        file.get(FileSection.SHEAR_STRENGTH) * 1e6,
        file.get(FileSection.STIFFNESS) * 1e9,
        file.get(FileSection.FATIGUE_STRAIN) * 1e-3,
        file.get(FileSection.FATIGUE_SLOPE) * 1e-3,
        file.get(FileSection.FRICTION) * 1e-3);
  }

  /**
   * Torque at which a round shaft breaks: {@code τπd³/16}.
   *
   * @param radius radius of the shaft, m
   * @return N·m
   */
  public double torqueToBreak(double radius) {
    return shearPascals * Math.PI / 2 * radius * radius * radius;
  }

  /**
   * Turns in a curve until the metal breaks, by the line of Coffin and Manson: {@code ε =
   * ε₀(2N)^−c}.
   *
   * @param strain surface strain, 1 is 100 %; 0 lasts forever
   * @return turns, infinite without strain
   */
  public double turnsToBreak(double strain) {
    return strain > 0
        ? 0.5 * Elementary.pow(fatigueStrain / strain, 1 / fatigueSlope)
        : Double.POSITIVE_INFINITY;
  }

  /** Poisson's ratio of metals: from memory. */
  private static final double POISSON = 0.3;

  /**
   * Torque per angle of twist of a file that is held where it twists off: a round cone between two
   * sections, {@code k = (3πG/2L)·r₁³r₂³/(r₁² + r₁r₂ + r₂²)}, weakened as the square of its solid
   * share. The shaft is some ten times as stiff and left out.
   *
   * @param file the file
   * @return N·m/rad
   */
  public double twistStiffness(Instrument file) {
    double shear = youngsPascals / (2 * (1 + POISSON));
    double r1 = file.radius(Wear.GRIP);
    double r2 = file.radius(file.cuttingLength());
    double cubes = r1 * r1 * r1 * r2 * r2 * r2;
    double solid = file.solidFraction() * file.solidFraction();
    double squares = r1 * r1 + r1 * r2 + r2 * r2;
    return solid * 1.5 * Math.PI * shear / (file.cuttingLength() - Wear.GRIP) * cubes / squares;
  }
}
