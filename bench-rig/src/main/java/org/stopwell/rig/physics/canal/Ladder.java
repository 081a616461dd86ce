package org.stopwell.rig.physics.canal;

/**
 * A ladder of fluid nodes from the foramen upwards, and its impedance from file to lip electrode.
 *
 * <p>Every node has a resistor to the next, an admittance to ground (through the root wall, the
 * foramen or a leak) and a share of metal surface that couples it to the file. Nodes are eliminated
 * one after the other by the star-mesh transform; every step only adds and multiplies numbers of
 * positive real part, so nothing cancels and the time is linear in the nodes.
 */
public final class Ladder {
  private final double[] series;
  private final double[] link;
  private final double[] leak;
  private final double[] metal;
  private int nodes;
  private double re;
  private double im;

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
  }

  /** Takes all nodes away. */
  public void clear() {
    nodes = 0;
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
    leak[nodes] = leakSiemens;
    metal[nodes++] = metalSquareMetres;
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
   * Works out the admittance from file to ground at one frequency.
   *
   * @param footRe real part of the admittance from the lowest node to ground, S
   * @param footIm its imaginary part, S
   * @param surfaceRe real part of the admittance of the metal surface, S/m²
   * @param surfaceIm its imaginary part, S/m²
   */
  public void solve(double footRe, double footIm, double surfaceRe, double surfaceIm) {
    double groundRe = footRe;
    double groundIm = footIm;
    double fileRe = 0;
    double fileIm = 0;
    re = 0;
    im = 0;
    int last = nodes - 1;
    for (int k = 0; k <= last; k++) {
      groundRe += leak[k];
      fileRe += metal[k] * surfaceRe;
      fileIm += metal[k] * surfaceIm;
      double next = k < last ? link[k + 1] : 0;
      double sumRe = groundRe + fileRe + next;
      double sumIm = groundIm + fileIm;
      double scale = 1 / (sumRe * sumRe + sumIm * sumIm);
      double shareRe = (fileRe * sumRe + fileIm * sumIm) * scale;
      double shareIm = (fileIm * sumRe - fileRe * sumIm) * scale;
      re += shareRe * groundRe - shareIm * groundIm;
      im += shareRe * groundIm + shareIm * groundRe;
      double nextRe = next * sumRe * scale;
      double nextIm = -next * sumIm * scale;
      double g = groundRe;
      groundRe = g * nextRe - groundIm * nextIm;
      groundIm = g * nextIm + groundIm * nextRe;
      fileRe = next * shareRe;
      fileIm = next * shareIm;
    }
  }

  /**
   * Real part of the admittance solved last.
   *
   * @return S
   */
  public double admittanceRe() {
    return re;
  }

  /**
   * Imaginary part of the admittance solved last.
   *
   * @return S
   */
  public double admittanceIm() {
    return im;
  }
}
