package org.stopwell.rig.physics.fluid;

import org.stopwell.rig.physics.file.Instrument;

/**
 * Fluid that the flutes of a file hold above the surface: a share of those that were in the fluid
 * since the file entered, and another share of the rest, which a dipped file brings along. A file
 * that leaves the canal is wiped, and dipped again before it enters. Turning does not convey it.
 * Assumed; units SI.
 */
final class Flutes {
  private final Instrument file;
  private final double out;
  private final double in;
  private double reached;
  private boolean inCanal;

  /**
   * The flutes of a file.
   *
   * @param file the file
   * @param out share of wet flutes that stays full above the surface
   * @param in share of the flutes that is full when the file enters
   */
  Flutes(Instrument file, double out, double in) {
    this.file = file;
    this.out = out;
    this.in = in;
  }

  /**
   * Fluid held above the surface.
   *
   * @param submerged length of the file in the fluid, from the tip, m; none below 0
   * @return m³; 0 while the file is out of the canal
   */
  double held(double submerged) {
    if (!inCanal) {
      return 0;
    }
    double wet = file.flutes(submerged);
    double was = file.flutes(reached);
    double brought = in * (file.flutes(file.cuttingLength()) - Math.max(wet, was));
    return brought + out * Math.max(0, was - wet);
  }

  /** Growth of what is held per metre that the surface rises, where it rises, m²: negative. */
  double perMetre(double submerged) {
    if (!inCanal || submerged <= 0 || submerged >= file.cuttingLength()) {
      return 0;
    }
    double r = file.radius(submerged);
    return -(submerged < reached ? out : in) * (1 - file.solidFraction()) * Math.PI * r * r;
  }

  /** The surface stands at a length of the file, from the tip, m. */
  void reach(double submerged) {
    reached = inCanal ? Math.max(reached, Math.min(submerged, file.cuttingLength())) : 0;
  }

  /**
   * The file enters or leaves the canal.
   *
   * @param inside whether its tip is in the canal
   * @return fluid that comes with it, m³; negative is taken out
   */
  double pass(boolean inside) {
    if (inside == inCanal) {
      return 0;
    }
    double taken = held(0);
    inCanal = inside;
    reached = 0;
    return inside ? held(0) : -taken;
  }
}
