package org.stopwell.rig.physics.canal;

import java.util.Arrays;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.random.RandomStream;

/**
 * What of a {@link MeshedCircuit} hangs on the place of the file and not on frequency: the canal
 * cut into cells, with what conducts along, across and around each. Units SI.
 */
final class MeshedCells {
  /** Width of the ligament, m: 0.15 to 0.38 mm in textbooks, from memory. */
  /** A cell shorter than this has no resistance in floating point, m. */
  private static final double LEAST_STEP = 1e-12;

  private static final double LIGAMENT_WIDTH = 0.2e-3;

  /**
   * Resistivity of spongy bone, Ω·m: 0.0214 S/m, Akhtari et al., Brain Topogr 2002, from memory.
   */
  private static final double BONE_RESISTIVITY = 47;

  /** So far from the axis of the root the bone is one with the body, m: assumed. */
  private static final double BONE_REACH = 12e-3;

  /** Share of their length over which the lanes are open to each other: assumed. */
  private static final double OPEN = 0.1;

  /** Ways out beside the foramen. */
  private static final int CHANNELS = 2;

  /** Cells between two heights that must be nodes. */
  private static final int CELLS = 2;

  /** Heights above the tip up to which cells are shorter, m. */
  private static final double[] NEAR_TIP = {0.1e-3, 0.4e-3, 1.5e-3};

  // foramen, both ends of the constriction, exudate, lateral canal, tip, level and orifice must be
  // nodes
  private static final int MOST_CORNERS = 8 + CHANNELS + NEAR_TIP.length;
  private static final int MOST_CELLS = CELLS * (MOST_CORNERS - 1);

  private final Surroundings around;
  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final double wideShare;
  private final double[] channelHeight = new double[CHANNELS];
  private final double[] channelSiemens = new double[CHANNELS];

  /** From the ligament around the apex into the bone, S. */
  final double capSiemens;

  private final double[] corner = new double[MOST_CORNERS];

  // cells from the foramen up: conductance along either lane, from lane to lane and through the
  // wall, S; metal, m²; contact of a dry file, ligament along and bone beyond the cell, S
  final double[] wide = new double[MOST_CELLS];
  final double[] narrow = new double[MOST_CELLS];
  final double[] across = new double[MOST_CELLS];
  final double[] wall = new double[MOST_CELLS];
  final double[] metal = new double[MOST_CELLS];
  final double[] dry = new double[MOST_CELLS];
  final double[] ligament = new double[MOST_CELLS];
  final double[] bone = new double[MOST_CELLS];

  /** Conductance of the ways out at every node, S. */
  final double[] wayOut = new double[MOST_CELLS + 1];

  /** How many cells there are. */
  int cells;

  /** The node of the tip. */
  int tipNode;

  /** Metal of the blunt tip, and of what is past the foramen, m². */
  double tipMetal;

  /** From the foramen into the tissue, S. */
  double accessSiemens;

  /** Depth of the fluid in the chamber, m; not above 0 is none. */
  double depth;

  /** Metal in the chamber, m². */
  double shankMetal;

  /**
   * The cells of a tooth, before any place.
   *
   * @param around what surrounds and fills the canal
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file
   * @param random source of the values that the scene does not give
   */
  MeshedCells(Surroundings around, Canal canal, Bore bore, Instrument file, RandomStream random) {
    this.around = around;
    this.canal = canal;
    this.bore = bore;
    this.file = file;
    capSiemens = 2 * Math.PI * canal.rootRadius(0) / BONE_RESISTIVITY;
    // a thin ring about an axis off by a share e of its width: the wider half has 1/2 + e/π of it
    wideShare = 0.5 + random.nextBetween(0.5, 1) / Math.PI;
    for (int i = 0; i < CHANNELS; i++) {
      channelHeight[i] = random.nextBetween(0.4e-3, 1.6e-3);
      double length = random.nextBetween(0.8e-3, 2e-3);
      double radius = 0.5 * logBetween(random, 0.06e-3, 0.15e-3);
      channelSiemens[i] =
          1
              / (Resistances.frustum(around.fluidResistivity(), length, radius, radius)
                  + Resistances.halfSpheroid(canal.tissueResistivity(), radius, 0));
    }
  }

  static double logBetween(RandomStream random, double low, double high) {
    return low * Elementary.pow(high / low, random.nextDouble());
  }

  /**
   * Goes to a place.
   *
   * @param remaining height of the tip above the foramen, m
   * @param level level of the fluid above the foramen, m
   */
  void build(double remaining, double level) {
    double top = Math.min(level, canal.length());
    double tip = Math.max(0, Math.min(remaining, canal.length()));
    double protrusion = Math.max(0, -remaining);
    boolean wet = remaining <= level;
    accessSiemens =
        1 / Resistances.halfSpheroid(canal.tissueResistivity(), canal.foramenRadius(), protrusion);
    tipMetal = 0;
    if (wet) {
      tipMetal = file.tipDisc() + file.surface(0, protrusion);
    }
    depth = level - canal.length();
    shankMetal = 0;
    if (wet && depth > 0) {
      shankMetal = file.surface(Math.max(0, canal.length() - remaining), level - remaining);
    }
    int corners = corners(tip, top);
    cells = 0;
    Arrays.fill(wayOut, 0);
    tipNode = 0;
    for (int c = 1; c < corners; c++) {
      double low = corner[c - 1];
      double step = (corner[c] - low) / CELLS;
      if (step > LEAST_STEP) {
        for (int i = 0; i < CELLS; i++) {
          cell(low + i * step, i == CELLS - 1 ? corner[c] : low + (i + 1) * step, remaining, top);
        }
      }
      if (corner[c] == tip) {
        tipNode = cells;
      }
    }
  }

  /** Sorts the heights that must be nodes; how many they are. */
  private int corners(double tip, double top) {
    double length = canal.length();
    int n = 0;
    corner[n++] = 0;
    corner[n++] = Math.min(canal.constriction(), length);
    corner[n++] = Math.min(canal.widens(), length);
    corner[n++] = Math.min(around.exudate(), length);
    corner[n++] = Math.min(around.lateralCanal(), length);
    for (double height : channelHeight) {
      corner[n++] = Math.min(height, length);
    }
    corner[n++] = tip;
    for (double above : NEAR_TIP) {
      corner[n++] = Math.min(tip + above, length);
    }
    corner[n++] = top;
    corner[n++] = length;
    Arrays.sort(corner, 0, n);
    return n;
  }

  private void cell(double z1, double z2, double remaining, double top) {
    double length = z2 - z1;
    double middle = 0.5 * (z1 + z2);
    double a1 = bore.radius(z1);
    double a2 = bore.radius(z2);
    double outer = canal.rootRadius(middle);
    double resistivity = around.resistivity(middle);
    double inner = bore.radius(middle);
    double throughWall =
        2
            * Math.PI
            * length
            / (canal.smear() / inner
                + canal.wallResistivity(middle) * Elementary.log(outer / inner));
    boolean beside = middle > remaining;
    boolean filled = middle < top;
    wide[cells] = 0;
    narrow[cells] = 0;
    across[cells] = 0;
    metal[cells] = 0;
    if (filled && beside) {
      double b1 = file.radius(z1 - remaining);
      double b2 = file.radius(z2 - remaining);
      // a file in its own cut fills the circle but for its flutes
      double o1 = Math.max(a1, b1);
      double o2 = Math.max(a2, b2);
      double c1 = file.core(z1 - remaining);
      double c2 = file.core(z2 - remaining);
      double siemens = 1 / Resistances.annulus(resistivity, length, o1, o2, c1, c2);
      wide[cells] = wideShare * siemens;
      narrow[cells] = (1 - wideShare) * siemens;
      // from the middle of one lane to that of the other, half around the ring on either side
      double gap = 0.5 * (o1 + o2 - (c1 + c2));
      double way = 0.5 * Math.PI * 0.5 * (o1 + o2 + c1 + c2);
      across[cells] = OPEN * 2 * gap * length / (resistivity * way);
      metal[cells] = file.surface(z1 - remaining, z2 - remaining);
    } else if (filled) {
      wide[cells] = 1 / Resistances.frustum(resistivity, length, a1, a2);
    }
    wall[cells] = filled ? throughWall : 0;
    dry[cells] = beside && !filled ? ToothCircuit.DRY_CONTACT * length : 0;
    ligament[cells] = 2 * Math.PI * outer * LIGAMENT_WIDTH / (canal.tissueResistivity() * length);
    bone[cells] = 2 * Math.PI * length / (BONE_RESISTIVITY * Elementary.log(BONE_REACH / outer));
    cells++;
    if (z2 <= top) {
      for (int i = 0; i < CHANNELS; i++) {
        wayOut[cells] += z2 == channelHeight[i] ? channelSiemens[i] : 0;
      }
      wayOut[cells] += z2 == around.lateralCanal() ? around.side() : 0;
    }
  }
}
