package org.stopwell.rig.physics.fluid;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;

/**
 * Fluid in a canal: its volume stays, its level follows the file (Archimedes). What rises over the
 * chamber's edge is lost. Nothing leaves through the foramen and the surface is flat: assumed. A
 * scene may let the flutes of the file carry fluid, chips take room, and a plug hang at the orifice
 * with air between it and the column.
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
  private @Nullable Flutes flutes;
  private double chipsShare;
  private double plugBottom = Double.POSITIVE_INFINITY;
  private double plugVolume;
  private double plugDepth;
  private double exchanged;
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
    column.chipsShare = fluid.get(FluidSection.CHIPS) * 1e-3;
    long out = fluid.get(FluidSection.FLUTES_OUT);
    long in = fluid.get(FluidSection.FLUTES_IN);
    if (out > 0 || in > 0) {
      column.flutes = new Flutes(file, out * 1e-3, in * 1e-3);
    }
    long plug = fluid.get(FluidSection.PLUG);
    if (plug > 0) {
      column.plugBottom = canal.length() - plug * 1e-6;
      column.plugVolume = bore.volumeBelow(canal.length()) - bore.volumeBelow(column.plugBottom);
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
    if (flutes != null) {
      double brought = flutes.pass(remaining < canal.length());
      volume += brought;
      exchanged += brought;
    }
    if (remaining <= floodsAt) {
      floodsAt = Double.NEGATIVE_INFINITY;
      volume = free(canal.length(), remaining) + chamberArea * chamberDepth;
    }
    if (volume == 0) {
      level = 0;
    } else {
      rise(remaining);
    }
    if (plugVolume > 0) {
      hang(remaining);
    }
    if (flutes != null) {
      flutes.reach(Math.min(level, canal.length()) - remaining);
    }
  }

  /** The level of the column. */
  private void rise(double remaining) {
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

  /** A plug stays where its lower end is, and gives way upwards; a column that reaches it joins. */
  private void hang(double remaining) {
    if (level >= plugBottom) {
      volume += plugVolume;
      plugVolume = 0;
      plugDepth = 0;
      plugBottom = Double.POSITIVE_INFINITY;
      rise(remaining);
      return;
    }
    double room =
        bore.volumeBelow(canal.length())
            - bore.volumeBelow(plugBottom)
            - file.volume(canal.length() - remaining)
            + file.volume(plugBottom - remaining);
    double above = Math.max(0, plugVolume - room) / chamberArea;
    if (above > chamberDepth) {
      plugVolume = room + chamberArea * chamberDepth;
      above = chamberDepth;
    }
    plugDepth = above;
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
   * Adds what somebody brings in.
   *
   * @param cubicMetres how much, m³
   */
  void add(double cubicMetres) {
    volume += cubicMetres;
  }

  /**
   * Lets chips take room in the fluid, as much as the scene leaves in it.
   *
   * @param cubicMetres volume that has been cut, m³
   */
  public void addChips(double cubicMetres) {
    volume += chipsShare * cubicMetres;
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
    double room = bore.volumeBelow(height) - metal;
    return flutes == null ? room : room + flutes.held(height - remaining);
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
      if (flutes != null) {
        area += flutes.perMetre(h - remaining);
      }
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

  /**
   * Where the plug at the orifice ends below.
   *
   * @return height above the foramen, m; infinite without a plug
   */
  public double plugBottom() {
    return plugBottom;
  }

  /**
   * Depth of the fluid that the file has pushed out of the plug into the chamber.
   *
   * @return m; 0 without a plug
   */
  public double plugDepth() {
    return plugDepth;
  }

  /**
   * Fluid in the canal, the chamber and the flutes, chips among it.
   *
   * @return m³
   */
  double volume() {
    return volume + plugVolume;
  }

  /**
   * Fluid that the flutes have brought in, less what they have taken out.
   *
   * @return m³
   */
  double exchanged() {
    return exchanged;
  }
}
