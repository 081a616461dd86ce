package org.stopwell.rig.physics.canal;

import java.util.Arrays;

/**
 * The same elimination as in {@link Ladder}, for many frequencies at once: node by node, and in
 * each node over a row of frequencies in loops so short that the virtual machine makes vector
 * instructions of them.
 */
final class Elimination {
  /** Frequencies in a row: their numbers fit into the first cache. */
  static final int ROW = 128;

  private final double[] groundRe = new double[ROW];
  private final double[] groundIm = new double[ROW];
  private final double[] fileRe = new double[ROW];
  private final double[] fileIm = new double[ROW];
  private final double[] surfaceRe = new double[ROW];
  private final double[] surfaceIm = new double[ROW];
  private final double[] sumRe = new double[ROW];
  private final double[] sumIm = new double[ROW];
  private final double[] inverseRe = new double[ROW];
  private final double[] inverseIm = new double[ROW];
  private final double[] shareRe = new double[ROW];
  private final double[] shareIm = new double[ROW];

  /** Begins with the admittances of the first node to ground; frequencies left over are ones. */
  void begin(Admittances ground, Admittances surface, int from, int count) {
    Arrays.fill(groundRe, 1);
    Arrays.fill(surfaceRe, 1);
    Arrays.fill(fileRe, 0);
    Arrays.fill(fileIm, 0);
    Arrays.fill(sumRe, 0);
    Arrays.fill(sumIm, 0);
    System.arraycopy(ground.re, from, groundRe, 0, count);
    System.arraycopy(ground.im, from, groundIm, 0, count);
    System.arraycopy(surface.re, from, surfaceRe, 0, count);
    System.arraycopy(surface.im, from, surfaceIm, 0, count);
  }

  /** Takes a node away: metal at it, its link to the next node, and that one's leak. */
  void node(double metal, double link, double leakAbove) {
    touch(metal, fileRe, fileIm, surfaceRe, surfaceIm);
    invert(link, groundRe, groundIm, fileRe, fileIm, inverseRe, inverseIm);
    multiply(fileRe, fileIm, inverseRe, inverseIm, shareRe, shareIm);
    addProduct(shareRe, shareIm, groundRe, groundIm, sumRe, sumIm);
    pass(link, leakAbove, groundRe, groundIm, inverseRe, inverseIm);
    scale(link, shareRe, shareIm, fileRe, fileIm);
  }

  /** Writes what the last node with this metal is linked to file and ground by, and the rest. */
  void top(
      double metal, Admittances toFile, Admittances toGround, Admittances direct, int from, int n) {
    touch(metal, fileRe, fileIm, surfaceRe, surfaceIm);
    System.arraycopy(fileRe, 0, toFile.re, from, n);
    System.arraycopy(fileIm, 0, toFile.im, from, n);
    System.arraycopy(groundRe, 0, toGround.re, from, n);
    System.arraycopy(groundIm, 0, toGround.im, from, n);
    end(direct, from, n);
  }

  /** Writes the admittances from file to ground. */
  void end(Admittances file, int from, int count) {
    System.arraycopy(sumRe, 0, file.re, from, count);
    System.arraycopy(sumIm, 0, file.im, from, count);
  }

  private static void touch(double metal, double[] re, double[] im, double[] ofRe, double[] ofIm) {
    for (int i = 0; i < ROW; i++) {
      re[i] += metal * ofRe[i];
      im[i] += metal * ofIm[i];
    }
  }

  private static void invert(
      double link,
      double[] gRe,
      double[] gIm,
      double[] fRe,
      double[] fIm,
      double[] re,
      double[] im) {
    for (int i = 0; i < ROW; i++) {
      double x = gRe[i] + fRe[i] + link;
      double y = gIm[i] + fIm[i];
      double size = 1 / (x * x + y * y);
      re[i] = x * size;
      im[i] = -y * size;
    }
  }

  private static void multiply(
      double[] aRe, double[] aIm, double[] bRe, double[] bIm, double[] re, double[] im) {
    for (int i = 0; i < ROW; i++) {
      re[i] = aRe[i] * bRe[i] - aIm[i] * bIm[i];
      im[i] = aRe[i] * bIm[i] + aIm[i] * bRe[i];
    }
  }

  private static void addProduct(
      double[] aRe, double[] aIm, double[] bRe, double[] bIm, double[] re, double[] im) {
    for (int i = 0; i < ROW; i++) {
      re[i] += aRe[i] * bRe[i] - aIm[i] * bIm[i];
      im[i] += aRe[i] * bIm[i] + aIm[i] * bRe[i];
    }
  }

  private static void pass(
      double link, double leak, double[] gRe, double[] gIm, double[] aRe, double[] aIm) {
    for (int i = 0; i < ROW; i++) {
      double g = gRe[i];
      double b = gIm[i];
      gRe[i] = link * (g * aRe[i] - b * aIm[i]) + leak;
      gIm[i] = link * (g * aIm[i] + b * aRe[i]);
    }
  }

  private static void scale(
      double link, double[] fromRe, double[] fromIm, double[] re, double[] im) {
    for (int i = 0; i < ROW; i++) {
      re[i] = link * fromRe[i];
      im[i] = link * fromIm[i];
    }
  }
}
