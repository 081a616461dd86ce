package org.stopwell.rig.physics.canal;

import org.jspecify.annotations.Nullable;

/**
 * A ladder of fluid nodes from the foramen upwards, and its admittance from file to ground, which
 * is the tissue around the root.
 *
 * <p>Every node has a resistor to the next, an admittance to ground (through the dentine or the
 * foramen) and a share of metal surface that couples it to the file. Nodes are eliminated one after
 * the other by the star-mesh transform; every step only adds and multiplies numbers of positive
 * real part, so nothing cancels and the time is linear in the nodes.
 *
 * <p>Below the tip there is no metal and all is real: that part is a two-port, {@code Y = (aF +
 * b)/(cF + d)}, of four numbers that hold for every frequency. They are kept while nodes are added.
 * Above it a few frequencies go side by side, two at a time, because a processor that divides for
 * one has time for another; many go in rows.
 */
public final class Ladder {
  /** From so many frequencies on they are worth a row; measured. */
  private static final int FEW = 8;

  private final double[] series;
  private final double[] link;
  private final double[] leak;
  private final double[] metal;
  private final double[] markedLeak;
  private final double[] markedPort;
  private int nodes;
  private int firstMetal;

  private Admittances topFile = new Admittances(0);
  private Admittances topGround = new Admittances(0);
  private Admittances direct = new Admittances(0);
  private double belowIm;
  private @Nullable Elimination elimination;

  // the two-port below the first node with metal
  private double a;
  private double b;
  private double c;
  private double d;

  /**
   * A ladder without nodes.
   *
   * @param mostNodes how many nodes it may hold
   */
  public Ladder(int mostNodes) {
    series = new double[mostNodes];
    link = new double[mostNodes];
    leak = new double[mostNodes];
    metal = new double[mostNodes];
    markedLeak = new double[mostNodes];
    markedPort = new double[4 * mostNodes];
    clear();
  }

  /** Takes all nodes away. */
  public void clear() {
    nodes = 0;
    firstMetal = -1;
    a = 1;
    b = 0;
    c = 0;
    d = 1;
  }

  /**
   * Adds a node above the others.
   *
   * @param seriesOhms resistance from the node below, Ω, more than 0; ignored for the first node
   * @param leakSiemens conductance to ground, S
   * @param metalSquareMetres surface of metal that touches the node's fluid, m²
   */
  public void add(double seriesOhms, double leakSiemens, double metalSquareMetres) {
    series[nodes] = seriesOhms;
    link[nodes] = 1 / seriesOhms;
    leak[nodes] = 0;
    metal[nodes] = 0;
    if (firstMetal < 0 && nodes > 0) {
      c += seriesOhms * a;
      d += seriesOhms * b;
    }
    nodes++;
    addToTop(leakSiemens, metalSquareMetres);
  }

  /**
   * Adds to the node added last.
   *
   * @param leakSiemens more conductance to ground, S
   * @param metalSquareMetres more surface of metal, m²
   */
  public void addToTop(double leakSiemens, double metalSquareMetres) {
    leak[nodes - 1] += leakSiemens;
    metal[nodes - 1] += metalSquareMetres;
    if (firstMetal < 0 || firstMetal == nodes - 1) {
      a += leakSiemens * c;
      b += leakSiemens * d;
      if (metal[nodes - 1] > 0) {
        firstMetal = nodes - 1;
      }
    }
  }

  /** Remembers the ladder as it is, without metal, to come back to its top node. */
  void mark() {
    int top = nodes - 1;
    markedLeak[top] = leak[top];
    markedPort[4 * top] = a;
    markedPort[4 * top + 1] = b;
    markedPort[4 * top + 2] = c;
    markedPort[4 * top + 3] = d;
  }

  /**
   * Removes what was added at and above a marked node since it was marked.
   *
   * @param top the node; what is below it must not have changed since
   */
  void backTo(int top) {
    nodes = top + 1;
    firstMetal = -1;
    leak[top] = markedLeak[top];
    metal[top] = 0;
    a = markedPort[4 * top];
    b = markedPort[4 * top + 1];
    c = markedPort[4 * top + 2];
    d = markedPort[4 * top + 3];
  }

  /**
   * How many nodes there are.
   *
   * @return 0 or more
   */
  public int nodes() {
    return nodes;
  }

  /**
   * Resistance from a node to the one below it.
   *
   * @param node from 1, counted from the foramen
   * @return Ω
   */
  public double seriesOhms(int node) {
    return series[node];
  }

  /**
   * Conductance of a node to ground.
   *
   * @param node from 0, counted from the foramen
   * @return S
   */
  public double leakSiemens(int node) {
    return leak[node];
  }

  /**
   * Metal surface at a node.
   *
   * @param node from 0, counted from the foramen
   * @return m²
   */
  public double metalSquareMetres(int node) {
    return metal[node];
  }

  /**
   * Works out the admittance from file to ground at every frequency.
   *
   * @param foot admittance from the lowest node to ground, S
   * @param surface admittance of the metal surface, S/m²
   * @param file receives the admittance, S
   */
  public void solve(Admittances foot, Admittances surface, Admittances file) {
    int count = file.count();
    if (direct.count() != count) {
      topFile = new Admittances(count);
      topGround = new Admittances(count);
      direct = new Admittances(count);
    }
    if (firstMetal < 0) {
      for (int i = 0; i < count; i++) {
        file.set(i, 0, 0);
        topFile.set(i, 0, 0);
        topGround.set(i, 0, 0);
        direct.set(i, 0, 0);
      }
      return;
    }
    for (int i = 0; i < count; i++) {
      file.set(i, below(foot.re[i], foot.im[i]), belowIm);
    }
    if (count < FEW) {
      for (int i = 0; i < count; i += 2) {
        pair(i, Math.min(i + 1, count - 1), surface, file);
      }
    } else {
      rows(surface, file);
    }
  }

  /**
   * What the top node is linked to the file by, once all others are eliminated.
   *
   * @return admittance by frequency, S; to be read only
   */
  Admittances topFile() {
    return topFile;
  }

  /**
   * What the top node is linked to ground by, once all others are eliminated.
   *
   * @return admittance by frequency, S; to be read only
   */
  Admittances topGround() {
    return topGround;
  }

  /**
   * What links file and ground beside the top node, once all others are eliminated.
   *
   * @return admittance by frequency, S; to be read only
   */
  Admittances direct() {
    return direct;
  }

  /** Admittance to ground of the first node with metal, real part; leaves the other in a field. */
  private double below(double footRe, double footIm) {
    double numeratorRe = a * footRe + b;
    double numeratorIm = a * footIm;
    double denominatorRe = c * footRe + d;
    double denominatorIm = c * footIm;
    double s = 1 / (denominatorRe * denominatorRe + denominatorIm * denominatorIm);
    belowIm = (numeratorIm * denominatorRe - numeratorRe * denominatorIm) * s;
    return (numeratorRe * denominatorRe + numeratorIm * denominatorIm) * s;
  }

  /** Many frequencies: row by row, node by node. */
  private void rows(Admittances surface, Admittances file) {
    Elimination row = elimination == null ? new Elimination() : elimination;
    elimination = row;
    int last = nodes - 1;
    for (int from = 0; from < file.count(); from += Elimination.ROW) {
      int count = Math.min(Elimination.ROW, file.count() - from);
      row.begin(file, surface, from, count);
      for (int k = firstMetal; k < last; k++) {
        row.node(metal[k], link[k + 1], leak[k + 1]);
      }
      row.top(metal[last], topFile, topGround, direct, from, count);
      row.node(0, 0, 0);
      row.end(file, from, count);
    }
  }

  /**
   * Two frequencies side by side. They come in with the ground of the first node with metal, and
   * leave with the admittance from file to ground.
   */
  private void pair(int i, int j, Admittances surface, Admittances file) {
    double surfaceRe = surface.re[i];
    double surfaceIm = surface.im[i];
    double surfaceRe2 = surface.re[j];
    double surfaceIm2 = surface.im[j];
    double groundRe = file.re[i];
    double groundIm = file.im[i];
    double groundRe2 = file.re[j];
    double groundIm2 = file.im[j];
    double fileRe = 0;
    double fileIm = 0;
    double fileRe2 = 0;
    double fileIm2 = 0;
    double re = 0;
    double im = 0;
    double re2 = 0;
    double im2 = 0;
    int last = nodes - 1;
    for (int k = firstMetal; k <= last; k++) {
      double next = k < last ? link[k + 1] : 0;
      double leakAbove = k < last ? leak[k + 1] : 0;
      double touching = metal[k];
      fileRe += touching * surfaceRe;
      fileIm += touching * surfaceIm;
      fileRe2 += touching * surfaceRe2;
      fileIm2 += touching * surfaceIm2;
      if (k == last) {
        topFile.set(i, fileRe, fileIm);
        topFile.set(j, fileRe2, fileIm2);
        topGround.set(i, groundRe, groundIm);
        topGround.set(j, groundRe2, groundIm2);
        direct.set(i, re, im);
        direct.set(j, re2, im2);
      }
      double x = groundRe + fileRe + next;
      double y = groundIm + fileIm;
      double x2 = groundRe2 + fileRe2 + next;
      double y2 = groundIm2 + fileIm2;
      double size = 1 / (x * x + y * y);
      double size2 = 1 / (x2 * x2 + y2 * y2);
      x *= size;
      y *= -size;
      x2 *= size2;
      y2 *= -size2;
      double shareRe = fileRe * x - fileIm * y;
      double shareIm = fileRe * y + fileIm * x;
      double shareRe2 = fileRe2 * x2 - fileIm2 * y2;
      double shareIm2 = fileRe2 * y2 + fileIm2 * x2;
      re += shareRe * groundRe - shareIm * groundIm;
      im += shareRe * groundIm + shareIm * groundRe;
      re2 += shareRe2 * groundRe2 - shareIm2 * groundIm2;
      im2 += shareRe2 * groundIm2 + shareIm2 * groundRe2;
      double passed = next * (groundRe * x - groundIm * y) + leakAbove;
      groundIm = next * (groundRe * y + groundIm * x);
      groundRe = passed;
      passed = next * (groundRe2 * x2 - groundIm2 * y2) + leakAbove;
      groundIm2 = next * (groundRe2 * y2 + groundIm2 * x2);
      groundRe2 = passed;
      fileRe = next * shareRe;
      fileIm = next * shareIm;
      fileRe2 = next * shareRe2;
      fileIm2 = next * shareIm2;
    }
    file.set(i, re, im);
    file.set(j, re2, im2);
  }
}
