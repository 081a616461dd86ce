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
    ZMatrixRMaj matrix = new ZMatrixRMaj(n, n);
    ZMatrixRMaj injected = new ZMatrixRMaj(n, 1);
    ZMatrixRMaj voltage = new ZMatrixRMaj(n, 1);
    add(matrix, 0, 0, circuit.foot().re(frequency), circuit.foot().im(frequency));
    for (int k = 0; k < n; k++) {
      double re = ladder.metalSquareMetres(k) * circuit.surface().re(frequency);
      double im = ladder.metalSquareMetres(k) * circuit.surface().im(frequency);
      add(matrix, k, k, ladder.leakSiemens(k) + re, im);
      injected.set(k, 0, re, im);
      if (k > 0) {
        double link = 1 / ladder.seriesOhms(k);
        add(matrix, k, k, link, 0);
        add(matrix, k - 1, k - 1, link, 0);
        add(matrix, k, k - 1, -link, 0);
        add(matrix, k - 1, k, -link, 0);
      }
    }
    if (!CommonOps_ZDRM.solve(matrix, injected, voltage)) {
      throw new IllegalStateException("singular");
    }
    double re = circuit.straySiemensRe();
    double im = circuit.straySiemensIm(frequency);
    for (int k = 0; k < n; k++) {
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

  private static void add(ZMatrixRMaj matrix, int row, int column, double re, double im) {
    matrix.set(row, column, matrix.getReal(row, column) + re, matrix.getImag(row, column) + im);
  }
}
