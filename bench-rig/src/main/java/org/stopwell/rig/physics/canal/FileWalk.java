package org.stopwell.rig.physics.canal;

import org.stopwell.rig.physics.file.Instrument;

/**
 * A walk up a file, from cell to cell: where one cell ends the next begins, and roots that a file
 * keeps are taken once. It gives what {@link Instrument} gives, bit for bit.
 */
final class FileWalk {
  private final double tipRadius;
  private final double slope;
  private final double cuttingLength;
  private final double solidRoot;
  private final double slant;
  private final double shaftWidth;
  private final double shaftCore;

  private double aboveTip = Double.NaN;
  private double cutting;
  private double radius;
  private double core;

  FileWalk(Instrument file) {
    tipRadius = file.tipRadius();
    slope = file.slope();
    cuttingLength = file.cuttingLength();
    solidRoot = Math.sqrt(file.solidFraction());
    slant = Math.sqrt(1 + slope * slope);
    shaftWidth = 2 * file.radius(cuttingLength);
    shaftCore = file.core(cuttingLength);
  }

  /** Goes to a distance from the tip, m, unless the walk is there already. */
  void begin(double distance) {
    if (distance != aboveTip) {
      to(distance);
    }
  }

  private void to(double distance) {
    boolean cuts = distance < cuttingLength;
    aboveTip = distance;
    cutting = cuts ? distance : cuttingLength;
    radius = tipRadius + slope * cutting;
    core = cuts ? solidRoot * radius : shaftCore;
  }

  /** Goes up to a distance from the tip, m, and returns the surface of that part, m². */
  double up(double distance) {
    double from = aboveTip;
    double low = cutting;
    double below = radius;
    to(distance);
    double cone = (below + radius) * (cutting - low) * slant;
    return Math.PI * (cone + shaftWidth * (distance - from - (cutting - low)));
  }

  /** Radius of the envelope, m. */
  double radius() {
    return radius;
  }

  /** Radius of a round wire that leaves fluid as much room, m. */
  double core() {
    return core;
  }
}
