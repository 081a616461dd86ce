package org.stopwell.rig.physics.canal;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Constriction;

/**
 * A canal before the trial: heights count from the foramen towards the orifice. All of it but the
 * length and {@code shaped} is the canal before anything has been cut. Units SI.
 *
 * @param length foramen to orifice, m; a shaped canal that was straightened is shorter
 * @param foramenRadius radius at the foramen, m
 * @param constriction height at which the canal is narrowest first, m; 0 is the foramen itself
 * @param constrictionLength from there on it stays as narrow, m; 0 is one narrow place
 * @param constrictionRadius radius there, m
 * @param slope growth of the radius from constriction to orifice, half of the taper, m/m
 * @param wall thickness of the dentine, m
 * @param wallResistivity resistivity of the dentine half way to the orifice, Ω·m
 * @param wallApexFactor resistivity of the dentine at the foramen over that at the orifice
 * @param smear resistance of the smear layer by area, Ω·m²
 * @param tissueResistivity resistivity of the tissue at the foramen, Ω·m
 * @param shaped what has been cut before the trial, or nothing
 */
public record Canal(
    double length,
    double foramenRadius,
    double constriction,
    double constrictionLength,
    double constrictionRadius,
    double slope,
    double wall,
    double wallResistivity,
    double wallApexFactor,
    double smear,
    double tissueResistivity,
    @Nullable Shaped shaped) {

  /**
   * A canal that nobody has shaped.
   *
   * @param length foramen to orifice, m
   * @param foramenRadius radius at the foramen, m
   * @param constriction height at which the canal is narrowest first, m
   * @param constrictionLength from there on it stays as narrow, m
   * @param constrictionRadius radius there, m
   * @param slope growth of the radius from constriction to orifice, m/m
   * @param wall thickness of the dentine, m
   * @param wallResistivity resistivity of the dentine half way to the orifice, Ω·m
   * @param wallApexFactor resistivity of the dentine at the foramen over that at the orifice
   * @param smear resistance of the smear layer by area, Ω·m²
   * @param tissueResistivity resistivity of the tissue at the foramen, Ω·m
   */
  public Canal(
      double length,
      double foramenRadius,
      double constriction,
      double constrictionLength,
      double constrictionRadius,
      double slope,
      double wall,
      double wallResistivity,
      double wallApexFactor,
      double smear,
      double tissueResistivity) {
    this(
        length,
        foramenRadius,
        constriction,
        constrictionLength,
        constrictionRadius,
        slope,
        wall,
        wallResistivity,
        wallApexFactor,
        smear,
        tissueResistivity,
        null);
  }

  /** The same canal with another length, and shaped. */
  private Canal as(double otherLength, @Nullable Shaped cut) {
    return new Canal(
        otherLength,
        foramenRadius,
        constriction,
        constrictionLength,
        constrictionRadius,
        slope,
        wall,
        wallResistivity,
        wallApexFactor,
        smear,
        tissueResistivity,
        cut);
  }

  /**
   * Length of the canal of a scene as the trial finds it: less what it has lost when it was shaped.
   *
   * @param canal values of the scene section {@code canal}
   * @return foramen to orifice, µm
   */
  public static long lengthMicrons(ParameterValues canal) {
    return canal.get(CanalSection.LENGTH) - shortenedMicrons(canal, uncut(canal));
  }

  private static long shortenedMicrons(ParameterValues canal, Canal uncut) {
    long stated = canal.get(CanalSection.SHORTENED);
    Shaped shaped = Shaped.of(canal);
    if (stated > 0 || shaped == null) {
      return stated;
    }
    Straightening curve = new Straightening(canal, uncut.length, new Bore(uncut));
    return (long) Elementary.rint(curve.shortening(new Bore(uncut.as(uncut.length, shaped))) * 1e6);
  }

  /**
   * The canal of a scene.
   *
   * @param canal values of the section {@code canal}
   * @return the canal
   */
  public static Canal of(ParameterValues canal) {
    Canal uncut = uncut(canal);
    Shaped shaped = Shaped.of(canal);
    long shortened = shortenedMicrons(canal, uncut);
    return shaped == null && shortened == 0
        ? uncut
        : uncut.as((canal.get(CanalSection.LENGTH) - shortened) * 1e-6, shaped);
  }

  /** The canal of a scene before it was shaped. */
  private static Canal uncut(ParameterValues canal) {
    Constriction form = CanalSection.constriction(canal);
    double foramen = canal.get(CanalSection.FORAMEN_DIAMETER) * 0.5e-6;
    double narrow = canal.get(CanalSection.CONSTRICTION_DIAMETER) * 0.5e-6;
    boolean flares = form == Constriction.TRADITIONAL || form == Constriction.PARALLEL;
    return new Canal(
        canal.get(CanalSection.LENGTH) * 1e-6,
        form == Constriction.TAPERING ? narrow : foramen,
        flares ? canal.get(CanalSection.CONSTRICTION) * 1e-6 : 0,
        form == Constriction.PARALLEL ? canal.get(CanalSection.CONSTRICTION_LENGTH) * 1e-6 : 0,
        form == Constriction.NONE ? foramen : narrow,
        canal.get(CanalSection.TAPER) * 0.5e-4,
        canal.get(CanalSection.WALL) * 1e-6,
        canal.get(CanalSection.WALL_RESISTIVITY),
        canal.get(CanalSection.WALL_APEX_FACTOR) * 1e-2,
        canal.get(CanalSection.SMEAR) * 0.1 * 1e-4,
        canal.get(CanalSection.TISSUE_RESISTIVITY) * 1e-2);
  }

  /**
   * A canal with one narrow place, in dentine that is the same everywhere and clean.
   *
   * @param length foramen to orifice, m
   * @param foramenRadius radius at the foramen, m
   * @param constriction height of the constriction, m
   * @param constrictionRadius radius there, m
   * @param slope growth of the radius from constriction to orifice, m/m
   * @param wall thickness of the dentine, m
   * @param wallResistivity resistivity of the dentine, Ω·m
   * @param tissueResistivity resistivity of the tissue at the foramen, Ω·m
   * @return the canal
   */
  public static Canal plain(
      double length,
      double foramenRadius,
      double constriction,
      double constrictionRadius,
      double slope,
      double wall,
      double wallResistivity,
      double tissueResistivity) {
    return new Canal(
        length,
        foramenRadius,
        constriction,
        0,
        constrictionRadius,
        slope,
        wall,
        wallResistivity,
        1,
        0,
        tissueResistivity);
  }

  /**
   * Height from which on the canal widens towards the orifice.
   *
   * @return height above the foramen, m
   */
  public double widens() {
    return constriction + constrictionLength;
  }

  /**
   * Radius of the root, which cutting does not change; below the constriction it is that at the
   * constriction.
   *
   * @param z height above the foramen, m
   * @return radius, m
   */
  public double rootRadius(double z) {
    return constrictionRadius + slope * Math.max(0, z - widens()) + wall;
  }

  /**
   * Resistivity of the dentine at a height; its logarithm is straight from foramen to orifice.
   *
   * @param z height above the foramen, m
   * @return Ω·m
   */
  public double wallResistivity(double z) {
    return wallApexFactor == 1
        ? wallResistivity
        : wallResistivity * Elementary.exp(Elementary.log(wallApexFactor) * (0.5 - z / length));
  }

  /**
   * Resistance from the foramen to far away in the tissue: a disc on a plane, {@code ρ/(4r)}.
   *
   * @return Ω
   */
  public double spreadingOhms() {
    return Resistances.halfSpheroid(tissueResistivity, foramenRadius, 0);
  }
}
