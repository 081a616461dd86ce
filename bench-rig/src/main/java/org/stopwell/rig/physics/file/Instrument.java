package org.stopwell.rig.physics.file;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FileSection;

/**
 * A rigid tapered file, seen as a cone with a blunt tip. Units SI.
 *
 * @param tipRadius radius at the tip, m
 * @param slope growth of the radius from tip to shank, half of the taper, m/m
 * @param solidFraction share of the enveloping circle that is metal
 * @param interfaceMagnitude magnitude of the surface admittance at 1 rad/s, S·s^n/m²
 * @param interfaceExponent exponent n of the constant-phase element
 * @param cuttingEnergy energy to cut a volume of wall, J/m³
 * @param advancePerRadian the furthest advance where it must cut, m/rad
 * @param screwInPerRadian how far it pulls itself in where it cuts, m/rad
 * @param screwOutPerRadian how far the wall drives it out where it turns backward, m/rad
 * @param debrisPerMetre growth of the cutting energy per length cut in a dry canal, 1/m
 */
public record Instrument(
    double tipRadius,
    double slope,
    double solidFraction,
    double interfaceMagnitude,
    double interfaceExponent,
    double cuttingEnergy,
    double advancePerRadian,
    double screwInPerRadian,
    double screwOutPerRadian,
    double debrisPerMetre) {

  private static final double REFERENCE_RAD_PER_S = 2 * Math.PI * 1000;

  /**
   * The file of a scene.
   *
   * @param file values of the section {@code file}
   * @return the file
   */
  public static Instrument of(ParameterValues file) {
    double exponent = file.get(FileSection.INTERFACE_EXPONENT) * 1e-3;
    double faradPerSquareMetre = file.get(FileSection.INTERFACE) * 1e-2 * 1e-2;
    return new Instrument(
        file.get(FileSection.SIZE) * 0.5e-5,
        file.get(FileSection.TAPER) * 0.5e-4,
        file.get(FileSection.SOLID_FRACTION) * 1e-3,
        magnitude(faradPerSquareMetre, exponent),
        exponent,
        file.get(FileSection.CUTTING_ENERGY) * 1e-3 * 1e9,
        file.get(FileSection.ADVANCE) * 1e-6 / (2 * Math.PI),
        file.get(FileSection.SCREW_IN) * 1e-6 / (2 * Math.PI),
        file.get(FileSection.SCREW_OUT) * 1e-6 / (2 * Math.PI),
        file.get(FileSection.DEBRIS) * 10.0);
  }

  private static double magnitude(double faradPerSquareMetre, double exponent) {
    return faradPerSquareMetre * StrictMath.pow(REFERENCE_RAD_PER_S, 1 - exponent);
  }

  /**
   * Radius of the envelope.
   *
   * @param aboveTip distance from the tip towards the shank, m
   * @return radius, m
   */
  public double radius(double aboveTip) {
    return tipRadius + slope * aboveTip;
  }

  /**
   * Volume of metal between the tip and a distance from it: the solid share of a frustum, {@code
   * κπ[(r+sL)³−r³]/(3s)}.
   *
   * @param aboveTip length of the part, m; nothing is displaced below 0
   * @return volume, m³
   */
  public double volume(double aboveTip) {
    if (aboveTip <= 0) {
      return 0;
    }
    double top = radius(aboveTip);
    return solidFraction
        * Math.PI
        / 3
        * aboveTip
        * (tipRadius * tipRadius + tipRadius * top + top * top);
  }
}
