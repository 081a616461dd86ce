package org.stopwell.rig.physics.file;

import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FileSection;

/**
 * A rigid file, seen as a fluted cone with a blunt tip and a round shaft behind it that does not
 * taper. Units SI.
 *
 * @param tipRadius radius at the tip, m
 * @param slope growth of the radius along the cutting part, half of the taper, m/m
 * @param cuttingLength length of the cutting part, m
 * @param solidFraction share of the enveloping circle that is metal, in the cutting part
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
    double cuttingLength,
    double solidFraction,
    double interfaceMagnitude,
    double interfaceExponent,
    double cuttingEnergy,
    double advancePerRadian,
    double screwInPerRadian,
    double screwOutPerRadian,
    double debrisPerMetre) {

  /** Fluid around a shaft that fills its canal, m: assumed. */
  private static final double FILM = 5e-6;

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
        file.get(FileSection.CUTTING_LENGTH) * 1e-6,
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
    return faradPerSquareMetre * Elementary.pow(REFERENCE_RAD_PER_S, 1 - exponent);
  }

  /**
   * Radius of the envelope.
   *
   * @param aboveTip distance from the tip towards the shaft, m
   * @return radius, m
   */
  public double radius(double aboveTip) {
    return tipRadius + slope * inCuttingPart(aboveTip);
  }

  /** What of a length from the tip lies in the cutting part, m. */
  private double inCuttingPart(double aboveTip) {
    return aboveTip < cuttingLength ? aboveTip : cuttingLength;
  }

  /**
   * Radius of a round wire that leaves fluid as much room: that of as much metal, and of the shaft
   * without a film.
   *
   * @param aboveTip distance from the tip towards the shaft, m
   * @return radius, m
   */
  public double core(double aboveTip) {
    return aboveTip < cuttingLength
        ? Math.sqrt(solidFraction) * radius(aboveTip)
        : radius(cuttingLength) - FILM;
  }

  /**
   * Volume of metal between the tip and a distance from it: the solid share of a frustum, {@code
   * κπ[(r+sL)³−r³]/(3s)}, and the shaft.
   *
   * @param aboveTip length of the part, m; nothing is displaced below 0
   * @return volume, m³
   */
  public double volume(double aboveTip) {
    if (aboveTip <= 0) {
      return 0;
    }
    double cutting = inCuttingPart(aboveTip);
    double top = radius(cutting);
    double squares = tipRadius * tipRadius + tipRadius * top + top * top;
    double cone = solidFraction * Math.PI / 3 * cutting * squares;
    return cone + Math.PI * top * top * (aboveTip - cutting);
  }

  /**
   * Volume of the flutes between the tip and a distance from it, which fluid can fill: what of the
   * envelope is not metal, {@code (1 − κ)π[(r+sL)³−r³]/(3s)}. The shaft has none.
   *
   * @param aboveTip length of the part, m; none below 0
   * @return volume, m³
   */
  public double flutes(double aboveTip) {
    if (aboveTip <= 0) {
      return 0;
    }
    double cutting = inCuttingPart(aboveTip);
    double top = radius(cutting);
    double squares = tipRadius * tipRadius + tipRadius * top + top * top;
    return (1 - solidFraction) * Math.PI / 3 * cutting * squares;
  }

  /**
   * Surface of the envelope between two distances from the tip, without the disc of the tip.
   *
   * @param from distance from the tip, m
   * @param to a distance that is not less, m
   * @return area, m²
   */
  public double surface(double from, double to) {
    double low = inCuttingPart(from);
    double high = inCuttingPart(to);
    double slant = Math.sqrt(1 + slope * slope);
    double cone = (radius(low) + radius(high)) * (high - low) * slant;
    return Math.PI * (cone + 2 * radius(cuttingLength) * (to - from - (high - low)));
  }

  /**
   * Surface of the blunt tip.
   *
   * @return area, m²
   */
  public double tipDisc() {
    return Math.PI * tipRadius * tipRadius;
  }
}
