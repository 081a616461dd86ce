package org.stopwell.rig.physics.field;

import java.util.Arrays;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.file.Instrument;

/**
 * The grid of a tooth with the file at one place. Its columns follow the surface of the file, the
 * wall of the canal and the surface of the root; its rows are flat, and close to each other at the
 * tip, the foramen and the constriction. Below its tip the columns of the file hold fluid. Units
 * SI.
 */
final class FieldMesh {
  /** Terminals, each one conductor: the far bone, the gum, the fluid in the chamber. */
  static final int BODY = 0;

  static final int GUM = 1;
  static final int CHAMBER = 2;

  /** How many terminals there are beside the file. */
  static final int TERMINALS = 3;

  private static final byte INNER = -1;

  // shares of the radius under the file, and of the gap between file and wall: closer to the edge
  private static final double[] UNDER = {0, 0.5, 0.85, 1};
  private static final double[] BESIDE = {0, 0.12, 0.35, 0.65, 1};
  private static final int DENTINE = 6;
  private static final int BONE = 11;

  /** The columns of the bone are closer to each other near the root. */
  private static final double BONE_GRADING = 1.3;

  /** Thickness of the layer next to the canal that a smear layer may plug, m: assumed. */
  static final double SMEAR = 10e-6;

  /** So far from the tooth the bone is one with the body, m: assumed. */
  private static final double FAR = 25e-3;

  /** Growth of the height of a row with its distance from what it is fine for. */
  private static final double GROWTH = 0.2;

  private static final double COARSEST = 0.5e-3;

  // heights of rows at the tip, the foramen, corners of the canal, and fluid or orifice, m
  private static final double AT_TIP = 8e-6;
  private static final double AT_FORAMEN = 16e-6;
  private static final double AT_CORNER = 35e-6;
  private static final double AT_LEVEL = 80e-6;

  /** Heights closer to each other than this are one, m. */
  private static final double SAME = 0.5e-6;

  private final Surroundings around;
  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final FieldAnatomy anatomy;
  private final double chamberRadius;
  private final double spacing;
  private final int split;
  private final double innerScale;
  private final double metalScale;
  private final double slantLength;

  // columns on the surfaces of metal, wall, dentine, cementum, root and ligament
  final int metalColumn;
  final int wallColumn;
  final int dentineColumn;
  final int cementumColumn;
  final int rootColumn;
  final int ligamentColumn;

  /** Nodes and conductances. */
  final FieldGrid grid;

  /** Terminal of each node, or less than 0. */
  byte[] terminal = new byte[0];

  /** Metal at each node, m². */
  double[] metal = new double[0];

  /** Conductance from each node into the gum, S. */
  double[] gum = new double[0];

  /** The link of a lateral canal: its nodes and conductance, S; 0 is none. */
  int lateralFrom;

  int lateralTo;
  double lateralSiemens;

  private final double[] feature = new double[64];
  private final double[] finest = new double[64];
  private int features;
  private double[] height = new double[512];

  private double tip;
  private boolean hasFile;

  /**
   * The grid of a tooth, before any place.
   *
   * @param around what surrounds and fills the canal
   * @param canal the canal
   * @param file the file
   * @param chamberRadius radius of the chamber, m
   * @param anatomy what no scene gives
   * @param spacing height of the rows against the usual
   * @param split parts into which each usual column is cut
   */
  FieldMesh(
      Surroundings around,
      Canal canal,
      Instrument file,
      double chamberRadius,
      FieldAnatomy anatomy,
      double spacing,
      int split) {
    this.around = around;
    this.canal = canal;
    bore = new Bore(canal);
    this.file = file;
    this.chamberRadius = chamberRadius;
    this.anatomy = anatomy;
    this.spacing = spacing;
    this.split = split;
    innerScale = StrictMath.sqrt(file.solidFraction());
    metalScale = 1 / innerScale;
    slantLength = StrictMath.sqrt(1 + file.slope() * file.slope());
    metalColumn = (UNDER.length - 1) * split;
    wallColumn = metalColumn + (BESIDE.length - 1) * split;
    dentineColumn = wallColumn + split;
    cementumColumn = dentineColumn + DENTINE * split;
    rootColumn = cementumColumn + split;
    ligamentColumn = rootColumn + split;
    grid = new FieldGrid(ligamentColumn + BONE * split + 1);
  }

  /**
   * Lays the grid for a place.
   *
   * @param remaining height of the tip above the foramen, m; at the orifice and above there is no
   *     file in the canal
   * @param level level of the fluid, m; above the orifice the chamber is a terminal
   */
  void lay(double remaining, double level) {
    hasFile = remaining < canal.length();
    tip = hasFile ? remaining : Double.POSITIVE_INFINITY;
    double wet = Math.min(level, canal.length());
    int rows = rows(wet);
    grid.reset(rows);
    int nodes = rows * grid.columns;
    if (terminal.length < nodes) {
      terminal = new byte[nodes];
      metal = new double[nodes];
      gum = new double[nodes];
    }
    Arrays.fill(terminal, 0, nodes, INNER);
    Arrays.fill(metal, 0, nodes, 0);
    Arrays.fill(gum, 0, nodes, 0);
    for (int i = 0; i < rows; i++) {
      place(i);
    }
    for (int i = 0; i + 1 < rows; i++) {
      fill(i, wet);
    }
    surfaces(wet);
    edges(level > canal.length());
    lateralCanal(wet);
  }

  /** Chooses the heights of the rows; how many they are. */
  private int rows(double wet) {
    features = 0;
    double length = canal.length();
    feature(-FAR, COARSEST);
    feature(-anatomy.ligamentWidth(), AT_CORNER);
    feature(0, AT_FORAMEN);
    for (int i = 0; i < bore.points(); i++) {
      feature(Math.min(bore.height(i), length), AT_CORNER);
    }
    feature(Math.min(around.exudate(), length), AT_CORNER);
    feature(Math.min(around.lateralCanal(), length), AT_CORNER);
    if (hasFile) {
      feature(Math.max(tip, -FAR / 2), AT_TIP);
    }
    feature(wet, AT_LEVEL);
    feature(length, AT_LEVEL);
    sort();
    int n = 0;
    double z = -FAR;
    height[n++] = z;
    for (int f = 1; f < features; f++) {
      double end = feature[f];
      while (end - z > SAME) {
        double step = step(z);
        double left = end - z;
        z = left <= 1.3 * step ? end : left < 2 * step ? z + 0.5 * left : z + step;
        if (n == height.length) {
          height = Arrays.copyOf(height, 2 * n);
        }
        height[n++] = z;
      }
    }
    return n;
  }

  private void feature(double z, double size) {
    feature[features] = z;
    finest[features++] = size;
  }

  private void sort() {
    for (int i = 1; i < features; i++) {
      double z = feature[i];
      double size = finest[i];
      int at = i;
      while (at > 0 && feature[at - 1] > z) {
        feature[at] = feature[at - 1];
        finest[at] = finest[at - 1];
        at--;
      }
      feature[at] = z;
      finest[at] = size;
    }
  }

  /** Height of a row here. */
  private double step(double z) {
    double least = z < 0 ? FAR : COARSEST;
    for (int f = 1; f < features; f++) {
      least = Math.min(least, finest[f] + GROWTH * Math.abs(z - feature[f]));
    }
    return spacing * least;
  }

  private boolean besideFile(double z) {
    return z >= tip - SAME;
  }

  /** Puts the nodes of a row where the surfaces are at its height. */
  private void place(int row) {
    double z = height[row];
    double inside = Math.max(0, Math.min(canal.length(), z));
    double wall = bore.radius(inside);
    double under;
    if (besideFile(z)) {
      double envelope = file.radius(Math.max(0, z - tip));
      under = innerScale * envelope;
      wall = Math.max(wall, envelope);
    } else {
      under = Math.min(innerScale * file.tipRadius(), 0.7 * wall);
    }
    double outer = Math.max(outerRadius(inside), wall + 0.1e-3 + SMEAR + anatomy.cementum());
    int first = row * grid.columns;
    for (int c = 0; c < grid.columns; c++) {
      grid.z[first + c] = z;
    }
    for (int c = 0; c <= metalColumn; c++) {
      grid.r[first + c] = under * share(UNDER, c);
    }
    for (int c = 1; c <= wallColumn - metalColumn; c++) {
      grid.r[first + metalColumn + c] = under + (wall - under) * share(BESIDE, c);
    }
    grow(first, wallColumn, dentineColumn, wall, wall + SMEAR, 1);
    grow(first, dentineColumn, cementumColumn, wall + SMEAR, outer - anatomy.cementum(), 1);
    grow(first, cementumColumn, rootColumn, outer - anatomy.cementum(), outer, 1);
    double bone = outer + anatomy.ligamentWidth();
    grow(first, rootColumn, ligamentColumn, outer, bone, 1);
    grow(first, ligamentColumn, grid.columns - 1, bone, FAR, BONE_GRADING);
  }

  private double share(double[] of, int column) {
    int i = column / split;
    int part = column % split;
    return part == 0 ? of[i] : of[i] + (of[i + 1] - of[i]) * part / split;
  }

  /** Places columns by even steps of the logarithm, or steps that grow. */
  private void grow(int first, int from, int to, double inner, double outer, double grading) {
    double log = Elementary.log(outer / inner);
    for (int c = from + 1; c < to; c++) {
      double share = (double) (c - from) / (to - from);
      double of = grading == 1 ? share : Elementary.pow(share, grading);
      grid.r[first + c] = inner * Elementary.exp(of * log);
    }
    grid.r[first + to] = outer;
  }

  /** Radius of the root: the uncut canal and the wall, thinner at the apex. */
  private double outerRadius(double z) {
    double x = Math.min(1, z / anatomy.apexHeight());
    double share = anatomy.apexShare() + (1 - anatomy.apexShare()) * x * (2 - x);
    return canal.constrictionRadius()
        + canal.slope() * Math.max(0, z - canal.widens())
        + share * canal.wall();
  }

  /** Fills the cells between a row and the next. */
  private void fill(int row, double wet) {
    double middle = 0.5 * (height[row] + height[row + 1]);
    int from = middle > tip ? metalColumn : 0;
    double tissue = 1 / canal.tissueResistivity();
    double bone = 1 / anatomy.boneResistivity();
    if (middle < 0) {
      double inner = middle > -anatomy.ligamentWidth() ? tissue : bone;
      fill(row, from, ligamentColumn, inner, inner);
    } else {
      if (middle < wet) {
        double fluid = 1 / around.resistivity(middle);
        fill(row, from, wallColumn, fluid, fluid);
      }
      double radial = 1 / canal.wallResistivity(middle);
      double axial = radial / anatomy.tubuleFactor();
      fill(row, dentineColumn, cementumColumn, radial, axial);
      double film = canal.smear() > 0 ? SMEAR / canal.smear() : radial;
      fill(row, wallColumn, dentineColumn, film, Math.min(film, axial));
      double skin = radial / anatomy.cementumFactor();
      fill(row, cementumColumn, rootColumn, skin, skin);
      fill(row, rootColumn, ligamentColumn, tissue, tissue);
    }
    fill(row, ligamentColumn, grid.columns - 1, bone, bone);
  }

  private void fill(int row, int from, int to, double radial, double axial) {
    for (int c = from; c < to; c++) {
      grid.fill(row, c, radial, axial);
    }
  }

  /** Metal in fluid or tissue, at the nodes on it: the envelope's area, as the ladders have it. */
  private void surfaces(double wet) {
    if (!hasFile) {
      return;
    }
    for (int i = 0; i < grid.rows; i++) {
      double z = height[i];
      if (Math.abs(z - tip) <= SAME) {
        disc(i);
      }
      if (i + 1 < grid.rows && besideFile(z) && 0.5 * (z + height[i + 1]) < wet) {
        double low = file.radius(Math.max(0, z - tip));
        double high = file.radius(height[i + 1] - tip);
        double half = 0.5 * Math.PI * (low + high) * (height[i + 1] - z) * slantLength;
        metal[grid.node(i, metalColumn)] += half;
        metal[grid.node(i + 1, metalColumn)] += half;
      }
    }
  }

  private void disc(int row) {
    for (int c = 0; c <= metalColumn; c++) {
      metal[grid.node(row, c)] += metalScale * metalScale * ring(row, c, 0, metalColumn);
    }
  }

  /** Area of the ring of a node, half way to its neighbours within some columns. */
  private double ring(int row, int column, int from, int to) {
    int node = grid.node(row, column);
    double inner = column == from ? grid.r[node] : 0.5 * (grid.r[node] + grid.r[node - 1]);
    double outer = column == to ? grid.r[node] : 0.5 * (grid.r[node] + grid.r[node + 1]);
    return Math.PI * (outer * outer - inner * inner);
  }

  /** Far bone at the bottom and outside; gum on top; the floor of a wet chamber. */
  private void edges(boolean chamberWet) {
    int last = grid.columns - 1;
    int top = grid.rows - 1;
    for (int i = 0; i < grid.rows; i++) {
      terminal[grid.node(i, last)] = BODY;
    }
    for (int c = 0; c < last; c++) {
      terminal[c] = BODY;
    }
    double perArea = 1 / (canal.tissueResistivity() * anatomy.gumWidth());
    for (int c = rootColumn; c < last; c++) {
      gum[grid.node(top, c)] = perArea * ring(top, c, rootColumn, last);
    }
    if (chamberWet) {
      for (int c = hasFile ? metalColumn : 0; c < cementumColumn; c++) {
        int node = grid.node(top, c);
        if (c <= wallColumn || grid.r[node] <= chamberRadius) {
          terminal[node] = CHAMBER;
        }
      }
    }
  }

  private void lateralCanal(double wet) {
    lateralSiemens = 0;
    double z = around.lateralCanal();
    if (!(z > 0 && z <= wet)) {
      return;
    }
    for (int i = 0; i < grid.rows; i++) {
      if (Math.abs(height[i] - z) <= SAME) {
        lateralFrom = grid.node(i, wallColumn);
        lateralTo = grid.node(i, rootColumn);
        lateralSiemens = around.side();
      }
    }
  }
}
