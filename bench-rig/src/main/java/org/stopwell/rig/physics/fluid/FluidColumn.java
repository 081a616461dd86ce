package org.stopwell.rig.physics.fluid;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;

/**
 * Fluid in a canal: its volume stays, its level follows the file (Archimedes). What rises over the
 * chamber's edge is lost. Nothing leaves through the foramen, no film clings to the file and the
 * surface is flat: assumed.
 */
public final class FluidColumn {
  private static final double CLOSE_ENOUGH = 1e-9;
  private static final int MOST_ROUNDS = 60;

  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final double chamberArea;
  private final double chamberDepth;
  private double floodsAt = Double.NEGATIVE_INFINITY;
  private double volume;
  private double level;

  /**
   * Fluid at rest without a file, which nobody adds to.
   *
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file that will go in
   * @param level level above the foramen, m; fluid above the chamber has run over
   * @param chamberArea area of the chamber, m²
   * @param chamberDepth depth of the chamber, m
   */
  public FluidColumn(
      Canal canal,
      Bore bore,
      Instrument file,
      double level,
      double chamberArea,
      double chamberDepth) {
    this.canal = canal;
    this.bore = bore;
    this.file = file;
    this.chamberArea = chamberArea;
    this.chamberDepth = chamberDepth;
    this.level = Math.min(level, canal.length() + chamberDepth);
    double inCanal = Math.min(this.level, canal.length());
    volume = bore.volumeBelow(inCanal) + chamberArea * (this.level - inCanal);
  }

  /**
   * The fluid of a scene.
   *
   * @param fluid values of the section {@code fluid}
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file that will go in
   * @return fluid at rest without a file
   */
  public static FluidColumn of(ParameterValues fluid, Canal canal, Bore bore, Instrument file) {
    FluidColumn column =
        new FluidColumn(
            canal,
            bore,
            file,
            fluid.get(FluidSection.LEVEL) * 1e-6,
            fluid.get(FluidSection.CHAMBER_AREA) * 1e-9,
            fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-6);
    long floods = fluid.get(FluidSection.FLOODS);
    if (floods > 0) {
      column.floodsAt = floods * 1e-6;
    }
    return column;
  }

  /**
   * Lets the fluid follow the file. Where somebody floods the chamber on the way, it is full from
   * then on, once.
   *
   * @param remaining height of the file tip above the foramen, m
   */
  public void follow(double remaining) {
    if (remaining <= floodsAt) {
      floodsAt = Double.NEGATIVE_INFINITY;
      volume = free(canal.length(), remaining) + chamberArea * chamberDepth;
    }
    if (volume == 0) {
      level = 0;
      return;
    }
    double full = free(canal.length(), remaining);
    if (volume > full) {
      double above = (volume - full) / chamberArea;
      if (above > chamberDepth) {
        volume = full + chamberArea * chamberDepth;
        above = chamberDepth;
      }
      level = canal.length() + above;
    } else {
      level = rootBelowOrifice(remaining);
    }
  }

  /**
   * Sets the surface to a height, as somebody who adds fluid or takes it away.
   *
   * @param height height of the surface, m above the foramen; fluid above the chamber runs over
   * @param remaining height of the file tip above the foramen, m
   */
  public void fillTo(double height, double remaining) {
    level = Math.min(height, canal.length() + chamberDepth);
    double inCanal = Math.min(level, canal.length());
    volume =
        level > 0 ? Math.max(0, free(inCanal, remaining) + chamberArea * (level - inCanal)) : 0;
  }

  /**
   * Takes fluid away, by suction or air.
   *
   * @param cubicMetres how much, m³; never more than there is
   */
  public void take(double cubicMetres) {
    volume = Math.max(0, volume - cubicMetres);
  }

  /** Room for fluid below a height with the file in place. */
  private double free(double height, double remaining) {
    double metal = file.volume(height - remaining);
    if (remaining < 0) {
      metal -= file.volume(-remaining);
    }
    return bore.volumeBelow(height) - metal;
  }

  /** Newton's method inside of a bracket; the room grows with the height everywhere. */
  private double rootBelowOrifice(double remaining) {
    double low = 0;
    double high = canal.length();
    double h = Math.min(level, high);
    for (int round = 0; round < MOST_ROUNDS; round++) {
      double miss = free(h, remaining) - volume;
      if (miss > 0) {
        high = h;
      } else {
        low = h;
      }
      double bored = bore.radius(h);
      double metal = h > remaining ? file.core(h - remaining) : 0;
      double area = Math.PI * (bored * bored - metal * metal);
      double next = h - miss / area;
      if (!(next >= low && next <= high)) {
        next = 0.5 * (low + high);
      }
      double moved = Math.abs(next - h);
      h = next;
      if (moved < CLOSE_ENOUGH) {
        break;
      }
    }
    return h;
  }

  /**
   * Level above the foramen, in the canal or in the chamber.
   *
   * @return level, m
   */
  public double level() {
    return level;
  }
}
