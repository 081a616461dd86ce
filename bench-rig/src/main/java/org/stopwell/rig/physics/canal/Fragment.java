package org.stopwell.rig.physics.canal;

import org.stopwell.rig.physics.file.Instrument;

/**
 * A separated file that is stuck in the canal: a piece of metal that touches only fluid. Current
 * enters it through its surface near one end and leaves it near the other, as well as the double
 * layer of the metal lets it. Nothing below its upper end changes in a trial, because no file
 * passes it, so its admittance is worked out once. Units SI.
 */
final class Fragment {
  private static final int CANAL = 0;
  private static final int METAL = 1;
  private static final int GROUND = 2;
  private static final int NODES = 3;

  /** Greatest distance between nodes, m: far below the reach of the current into the metal. */
  private static final double CELL = 20e-6;

  /** A file this near to the metal touches it, m: assumed. */
  private static final double TOUCH = 1e-6;

  private final double bottom;
  private final double top;
  private final Surroundings around;
  private final Bore bore;
  private final Dentine wall;
  private final Instrument file;

  Fragment(
      double bottom, double top, Surroundings around, Bore bore, Dentine wall, Instrument file) {
    this.bottom = bottom;
    this.top = top;
    this.around = around;
    this.bore = bore;
    this.wall = wall;
    this.file = file;
  }

  double bottom() {
    return bottom;
  }

  double top() {
    return top;
  }

  boolean touchedBy(double remaining) {
    return remaining <= top + TOUCH;
  }

  /** Radius of a round wire that leaves as much fluid beside it, m. */
  double core(double radius) {
    return Math.sqrt(file.solidFraction()) * radius;
  }

  /** Side of a piece of it, m². */
  double side(double z1, double z2) {
    return z1 < bottom || z2 > top ? 0 : Math.PI * (bore.radius(z1) + bore.radius(z2)) * (z2 - z1);
  }

  /** Metal that faces up or down at a height, m². */
  double end(double z) {
    double metal = core(bore.radius(z));
    return z == bottom || z == top ? Math.PI * metal * metal : 0;
  }

  /**
   * Admittance from the fluid just above it to the tissue, while no file touches it.
   *
   * @param accessSiemens conductance from the foramen into the tissue, S
   * @param surface admittance of the metal surface, S/m² by frequency
   * @param foot receives the admittance, S by frequency
   */
  void solve(double accessSiemens, Admittances surface, Admittances foot) {
    StarMesh mesh = new StarMesh(NODES);
    for (int i = 0; i < foot.count(); i++) {
      mesh.clear();
      mesh.link(CANAL, GROUND, accessSiemens, 0);
      double z = 0;
      metal(mesh, end(0), surface, i);
      while (z < top) {
        double next = next(z);
        double half = 0.5 * side(z, next);
        double leak = leak(z, next);
        metal(mesh, half, surface, i);
        mesh.link(CANAL, GROUND, leak, 0);
        mesh.advance(CANAL, 1 / ohms(z, next));
        mesh.link(CANAL, GROUND, leak, 0);
        metal(mesh, half + end(next), surface, i);
        if (next == around.lateralCanal()) {
          mesh.link(CANAL, GROUND, around.side(), 0);
        }
        z = next;
      }
      mesh.advance(METAL, 0);
      foot.set(i, mesh.siemensRe(CANAL, GROUND), mesh.siemensIm(CANAL, GROUND));
    }
  }

  private static void metal(StarMesh mesh, double area, Admittances surface, int frequency) {
    if (area > 0) {
      mesh.link(CANAL, METAL, area * surface.re(frequency), area * surface.im(frequency));
    }
  }

  /** The next node: a corner of anything, or a cell further. */
  private double next(double z) {
    double next = Math.min(z + CELL, top);
    for (int i = 0; i < bore.points(); i++) {
      next = corner(bore.height(i), z, next);
    }
    next = corner(bottom, z, next);
    next = corner(around.exudate(), z, next);
    return corner(around.lateralCanal(), z, next);
  }

  private static double corner(double height, double z, double next) {
    return height > z && height < next ? height : next;
  }

  /** Half of what a cell loses through the dentine, S. */
  private double leak(double z1, double z2) {
    double middle = 0.5 * (z1 + z2);
    return 0.5 * (z2 - z1) * wall.perLength(bore.radius(middle), middle);
  }

  private double ohms(double z1, double z2) {
    double r1 = bore.radius(z1);
    double r2 = bore.radius(z2);
    double resistivity = around.resistivity(z1);
    return z1 < bottom
        ? Resistances.frustum(resistivity, z2 - z1, r1, r2)
        : Resistances.annulus(resistivity, z2 - z1, r1, r2, core(r1), core(r2));
  }
}
