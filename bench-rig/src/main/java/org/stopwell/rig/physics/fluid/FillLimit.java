package org.stopwell.rig.physics.fluid;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;

/**
 * How full a canal may be so that a file pushed to a depth keeps the chamber dry: the closed form
 * of displacement. Volumes of canal and file are frusta; the fluid's own volume does not change and
 * its surface is flat. The canal is as this file has cut it at that depth. {@link LevelUncertainty}
 * says what the flat level leaves out.
 *
 * @param levelBefore level before the file goes in, m above the foramen
 * @param levelAfter level with the file at its depth, m; above the canal's length the chamber is
 *     wet
 * @param highestDry highest level before insertion that keeps the chamber dry, m
 * @param toRemove volume to take away so that the chamber stays dry, m³; 0 when it does
 * @param canalVolume volume of the canal up to the orifice, m³
 * @param fileVolume volume that the file displaces below the orifice, m³
 * @param runsOver volume that rises over the edge of the chamber and is lost, m³
 */
public record FillLimit(
    double levelBefore,
    double levelAfter,
    double highestDry,
    double toRemove,
    double canalVolume,
    double fileVolume,
    double runsOver) {

  /**
   * The limit for one canal, one file and one depth.
   *
   * @param canal values of the scene section {@code canal}
   * @param fluid values of the scene section {@code fluid}
   * @param file values of the scene section {@code file}
   * @param remaining height of the file tip above the foramen at the end of its way, m
   * @return the limit
   */
  public static FillLimit of(
      ParameterValues canal, ParameterValues fluid, ParameterValues file, double remaining) {
    return of(
        Canal.of(canal),
        Instrument.of(file),
        fluid.get(FluidSection.LEVEL) * 1e-6,
        fluid.get(FluidSection.CHAMBER_AREA) * 1e-9,
        fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-6,
        remaining);
  }

  /**
   * The limit in SI units.
   *
   * @param canal the canal before this file has cut it
   * @param file the file
   * @param level level before the file goes in, m above the foramen
   * @param chamberArea area of the chamber, m²
   * @param chamberDepth depth of the chamber, m
   * @param remaining height of the file tip above the foramen at the end of its way, m
   * @return the limit
   */
  public static FillLimit of(
      Canal canal,
      Instrument file,
      double level,
      double chamberArea,
      double chamberDepth,
      double remaining) {
    Bore bore = cut(canal, file, remaining);
    double length = canal.length();
    double canalVolume = bore.volumeBelow(length);
    double fileVolume =
        file.volume(length - remaining) - (remaining < 0 ? file.volume(-remaining) : 0);
    double inCanal = Math.min(level, length);
    double volume = bore.volumeBelow(inCanal) + chamberArea * (level - inCanal);
    double room = Math.max(0, canalVolume - fileVolume);
    FluidColumn column = new FluidColumn(canal, bore, file, level, chamberArea, chamberDepth);
    column.follow(remaining);
    return new FillLimit(
        level,
        column.level(),
        bore.heightOf(room),
        Math.max(0, volume - room),
        canalVolume,
        fileVolume,
        Math.max(0, volume - room - chamberArea * chamberDepth));
  }

  /**
   * The hollow as a file has cut it that was pushed to a depth; a file that passes freely cuts
   * nothing.
   *
   * @param canal the canal before
   * @param file the file
   * @param remaining height of its tip above the foramen, m
   * @return the hollow
   */
  public static Bore cut(Canal canal, Instrument file, double remaining) {
    Bore bore = new Bore(canal);
    if (bore.overlap(file, remaining) > 0) {
      bore.carve(file, remaining);
    }
    return bore;
  }

  /**
   * Whether the chamber stays dry.
   *
   * @return true when nothing has to be removed
   */
  public boolean chamberStaysDry() {
    return toRemove == 0;
  }
}
