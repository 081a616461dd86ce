package org.stopwell.rig.physics.canal;

import java.util.Arrays;

/**
 * Solves a network while it is put together: every node that closes is eliminated by the star-mesh
 * transform, {@code y_ij += y_i y_j / Σ y}. As in {@link Ladder} numbers of positive real part are
 * only added, multiplied and divided, so nothing cancels, and the time is linear in the nodes.
 */
final class StarMesh implements Joints {
  private final int nodes;

  // admittances between open nodes, S, both ways round
  private final double[] re;
  private final double[] im;

  // the star of the node that closes: its neighbours, and what share of its sum each has
  private final int[] near;
  private final double[] shareRe;
  private final double[] shareIm;

  /** A network of so many rails and single nodes, numbered from 0, without a link. */
  StarMesh(int nodes) {
    this.nodes = nodes;
    re = new double[nodes * nodes];
    im = new double[nodes * nodes];
    near = new int[nodes];
    shareRe = new double[nodes];
    shareIm = new double[nodes];
  }

  /** Takes all links away. */
  void clear() {
    Arrays.fill(re, 0);
    Arrays.fill(im, 0);
  }

  @Override
  public void link(int node, int other, double siemensRe, double siemensIm) {
    re[node * nodes + other] += siemensRe;
    im[node * nodes + other] += siemensIm;
    re[other * nodes + node] = re[node * nodes + other];
    im[other * nodes + node] = im[node * nodes + other];
  }

  @Override
  public void advance(int rail, double siemens) {
    int row = rail * nodes;
    double sumRe = siemens;
    double sumIm = 0;
    int neighbours = 0;
    for (int i = 0; i < nodes; i++) {
      if (re[row + i] != 0 || im[row + i] != 0) {
        near[neighbours++] = i;
        sumRe += re[row + i];
        sumIm += im[row + i];
      }
    }
    double size = 1 / (sumRe * sumRe + sumIm * sumIm);
    for (int k = 0; k < neighbours; k++) {
      double g = re[row + near[k]];
      double b = im[row + near[k]];
      shareRe[k] = (g * sumRe + b * sumIm) * size;
      shareIm[k] = (b * sumRe - g * sumIm) * size;
      for (int j = 0; j < k; j++) {
        link(near[k], near[j], shareRe[j] * g - shareIm[j] * b, shareRe[j] * b + shareIm[j] * g);
      }
    }
    for (int k = 0; k < neighbours; k++) {
      put(rail, near[k], siemens * shareRe[k], siemens * shareIm[k]);
    }
  }

  @Override
  public void merge(int rail, int into) {
    put(rail, into, 0, 0);
    for (int i = 0; i < nodes; i++) {
      link(into, i, re[rail * nodes + i], im[rail * nodes + i]);
      put(rail, i, 0, 0);
    }
  }

  private void put(int node, int other, double siemensRe, double siemensIm) {
    re[node * nodes + other] = siemensRe;
    im[node * nodes + other] = siemensIm;
    re[other * nodes + node] = siemensRe;
    im[other * nodes + node] = siemensIm;
  }

  /** Real part of the admittance between two open nodes, S. */
  double siemensRe(int node, int other) {
    return re[node * nodes + other];
  }

  /** Imaginary part of the admittance between two open nodes, S. */
  double siemensIm(int node, int other) {
    return im[node * nodes + other];
  }
}
