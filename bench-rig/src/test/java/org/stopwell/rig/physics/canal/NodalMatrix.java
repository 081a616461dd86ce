package org.stopwell.rig.physics.canal;

import org.ejml.data.Complex_F64;
import org.ejml.data.ZMatrixRMaj;
import org.ejml.dense.row.CommonOps_ZDRM;

/** The same ladder as a general complex system of equations, solved by a library. */
final class NodalMatrix {
  private NodalMatrix() {}

  /** Impedance from file to ground in Ω, by nodal analysis and a general solver. */
  static Complex_F64 impedance(ToothCircuit circuit, int frequency) {
    Ladder ladder = circuit.ladder();
    int n = ladder.nodes();
    // the node above the ladder is the tissue around the root
    ZMatrixRMaj matrix = new ZMatrixRMaj(n + 1, n + 1);
    ZMatrixRMaj injected = new ZMatrixRMaj(n + 1, 1);
    ZMatrixRMaj voltage = new ZMatrixRMaj(n + 1, 1);
    link(matrix, 0, n, circuit.foot().re(frequency));
    add(matrix, n, n, circuit.body().re(frequency), circuit.body().im(frequency));
    add(matrix, n, n, circuit.drySiemens(), 0);
    injected.set(n, 0, circuit.drySiemens(), 0);
    add(matrix, n - 1, n - 1, circuit.leakSiemens(), 0);
    for (int k = 0; k < n; k++) {
      double re = ladder.metalSquareMetres(k) * circuit.surface().re(frequency);
      double im = ladder.metalSquareMetres(k) * circuit.surface().im(frequency);
      add(matrix, k, k, re, im);
      injected.set(k, 0, re, im);
      link(matrix, k, n, ladder.leakSiemens(k));
      if (k > 0) {
        link(matrix, k, k - 1, 1 / ladder.seriesOhms(k));
      }
    }
    if (!CommonOps_ZDRM.solve(matrix, injected, voltage)) {
      throw new IllegalStateException("singular");
    }
    double re = 0;
    double im = circuit.straySiemensIm(frequency);
    for (int k = 0; k <= n; k++) {
      double yRe = injected.getReal(k, 0);
      double yIm = injected.getImag(k, 0);
      double across = 1 - voltage.getReal(k, 0);
      double acrossIm = -voltage.getImag(k, 0);
      re += yRe * across - yIm * acrossIm;
      im += yRe * acrossIm + yIm * across;
    }
    double scale = 1 / (re * re + im * im);
    return new Complex_F64(re * scale, -im * scale);
  }

  private static void link(ZMatrixRMaj matrix, int one, int other, double siemens) {
    add(matrix, one, one, siemens, 0);
    add(matrix, other, other, siemens, 0);
    add(matrix, one, other, -siemens, 0);
    add(matrix, other, one, -siemens, 0);
  }

  private static void add(ZMatrixRMaj matrix, int row, int column, double re, double im) {
    matrix.set(row, column, matrix.getReal(row, column) + re, matrix.getImag(row, column) + im);
  }
}
