package org.stopwell.rig.physics.field;

import java.util.Arrays;

/**
 * Reduces a grid to its terminals and to the modes of the metal surface, so that one solution in
 * real numbers serves every frequency.
 *
 * <p>All conductances of the grid are real; only the metal surface has an admittance {@code y} per
 * area that is complex. With the matrix of the grid {@code K}, the areas of metal {@code d} at its
 * nodes and {@code A = K + s·d} at a real {@code s}, current and voltage at the terminals follow
 * from {@code S = √d A⁻¹ √d}, which a block Krylov method (Lanczos) reduces to a few eigenvalues
 * {@code λ}: each mode is a spreading admittance {@code (1 − sλ)/λ} in series with the surface.
 * Units SI.
 */
final class FieldPorts {
  private static final int MOST_VECTORS = 64;

  /** Steps for the terminals, whose potentials at the metal are smoother. */
  private static final int OTHERS = 4;

  /** A vector of which less than this is left is one of the others. */
  private static final double NEW = 1e-7;

  private final BandMatrix matrix;
  private final int depth;
  private final double[][] coupling = new double[FieldMesh.TERMINALS][0];
  private double[] work = new double[0];

  /** Conductance between terminals at the real admittance of the surface, S. */
  private final double[][] direct = new double[FieldMesh.TERMINALS][FieldMesh.TERMINALS];

  private int[] metalNode = new int[0];
  private double[] root = new double[0];
  private int metals;
  private int first;

  /** Metal on the terminals themselves, m². */
  private final double[] metalOn = new double[FieldMesh.TERMINALS];

  private final double[][] basis = new double[MOST_VECTORS][0];
  private final double[][] applied = new double[MOST_VECTORS][0];
  private final double[][] start = new double[FieldMesh.TERMINALS + 1][0];
  private int vectors;
  private final double[] value = new double[MOST_VECTORS];
  private final double[][] mode = new double[MOST_VECTORS][MOST_VECTORS];
  private final double[][] projected = new double[MOST_VECTORS][MOST_VECTORS];

  /** Share of each mode in the file, which is the last, and in each terminal. */
  private final double[][] part = new double[FieldMesh.TERMINALS + 1][MOST_VECTORS];

  private double shift;

  /**
   * Without a grid.
   *
   * @param columns columns of the grids to come
   * @param depth steps of the Krylov method
   */
  FieldPorts(int columns, int depth) {
    matrix = new BandMatrix(columns + 1);
    this.depth = depth;
  }

  /**
   * Reduces a grid.
   *
   * @param mesh the grid
   * @param surface a real admittance of the metal surface near the complex ones to come, S/m²
   */
  void reduce(FieldMesh mesh, double surface) {
    shift = surface;
    FieldGrid grid = mesh.grid;
    int nodes = grid.rows * grid.columns;
    matrix.reset(nodes);
    if (work.length < nodes) {
      work = new double[nodes];
      metalNode = new int[nodes];
      root = new double[nodes];
      Arrays.setAll(coupling, t -> new double[nodes]);
    }
    for (int t = 0; t < FieldMesh.TERMINALS; t++) {
      Arrays.fill(coupling[t], 0, nodes, 0);
      Arrays.fill(direct[t], 0);
    }
    Arrays.fill(metalOn, 0);
    for (int p = 0; p < nodes; p++) {
      link(mesh, p, p + 1, grid.across[p]);
      link(mesh, p, p + grid.columns, grid.up[p]);
      link(mesh, p, p + grid.columns + 1, grid.slant[p]);
      toTerminal(mesh, p, FieldMesh.GUM, mesh.gum[p]);
    }
    link(mesh, mesh.lateralFrom, mesh.lateralTo, mesh.lateralSiemens);
    metal(mesh, nodes);
    matrix.closeEmptyRows();
    matrix.factor();
    terminals(nodes);
    modes();
  }

  private void link(FieldMesh mesh, int p, int q, double siemens) {
    if (siemens == 0) {
      return;
    }
    int from = mesh.terminal[p];
    int to = mesh.terminal[q];
    if (from < 0 && to < 0) {
      matrix.add(p, p, siemens);
      matrix.add(q, q, siemens);
      matrix.add(p, q, -siemens);
    } else if (from < 0) {
      toTerminal(mesh, p, to, siemens);
    } else if (to < 0) {
      toTerminal(mesh, q, from, siemens);
    } else if (from != to) {
      between(from, to, siemens);
    }
  }

  private void toTerminal(FieldMesh mesh, int p, int to, double siemens) {
    if (siemens == 0) {
      return;
    }
    if (mesh.terminal[p] >= 0) {
      between(mesh.terminal[p], to, siemens);
      return;
    }
    matrix.add(p, p, siemens);
    coupling[to][p] -= siemens;
    direct[to][to] += siemens;
  }

  private void between(int from, int to, double siemens) {
    if (from != to) {
      direct[from][from] += siemens;
      direct[to][to] += siemens;
      direct[from][to] -= siemens;
      direct[to][from] -= siemens;
    }
  }

  private void metal(FieldMesh mesh, int nodes) {
    metals = 0;
    first = nodes;
    for (int p = 0; p < nodes; p++) {
      double area = mesh.metal[p];
      if (area == 0) {
        continue;
      }
      if (mesh.terminal[p] >= 0) {
        metalOn[mesh.terminal[p]] += area;
        continue;
      }
      first = Math.min(first, p);
      metalNode[metals] = p;
      root[metals++] = StrictMath.sqrt(area);
      matrix.add(p, p, shift * area);
    }
  }

  /** Potentials that each terminal makes alone, and the currents between terminals. */
  private void terminals(int nodes) {
    for (int t = 0; t < FieldMesh.TERMINALS; t++) {
      start[t] = fitted(start[t]);
      for (int p = 0; p < nodes; p++) {
        work[p] = -coupling[t][p];
      }
      matrix.solve(work, 0);
      for (int other = 0; other < FieldMesh.TERMINALS; other++) {
        double current = 0;
        for (int p = 0; p < nodes; p++) {
          current += coupling[other][p] * work[p];
        }
        direct[other][t] += current;
      }
      for (int i = 0; i < metals; i++) {
        start[t][i] = root[i] * work[metalNode[i]];
      }
    }
    start[FieldMesh.TERMINALS] = fitted(start[FieldMesh.TERMINALS]);
    System.arraycopy(root, 0, start[FieldMesh.TERMINALS], 0, metals);
  }

  private double[] fitted(double[] vector) {
    return vector.length < metals ? new double[metals + 32] : vector;
  }

  /** The block Krylov method, then the eigenvalues of what it leaves. */
  private void modes() {
    vectors = 0;
    for (int t = FieldMesh.TERMINALS; t >= 0; t--) {
      keep(start[t]);
    }
    int begin = 0;
    for (int step = 1; step < depth; step++) {
      int end = vectors;
      for (int v = begin; v < end; v++) {
        apply(v);
        // the first of each step comes from the file
        if (v == begin || step < OTHERS) {
          keep(applied[v]);
        }
      }
      begin = end;
    }
    for (int v = begin; v < vectors; v++) {
      apply(v);
    }
    for (int v = 0; v < vectors; v++) {
      for (int w = 0; w < vectors; w++) {
        projected[v][w] = product(basis[v], applied[w]);
      }
    }
    SymmetricEigen.solve(projected, mode, value, vectors);
    for (int t = 0; t <= FieldMesh.TERMINALS; t++) {
      Arrays.fill(part[t], 0);
      for (int v = 0; v < vectors; v++) {
        double along = product(start[t], basis[v]);
        for (int k = 0; k < vectors; k++) {
          part[t][k] += mode[v][k] * along;
        }
      }
    }
  }

  /** Adds what of a vector is new to the basis. */
  private void keep(double[] vector) {
    double[] to = fitted(basis[vectors]);
    basis[vectors] = to;
    System.arraycopy(vector, 0, to, 0, metals);
    double size = Math.sqrt(product(to, to));
    for (int pass = 0; pass < 2; pass++) {
      for (int v = 0; v < vectors; v++) {
        double along = product(basis[v], to);
        for (int i = 0; i < metals; i++) {
          to[i] -= along * basis[v][i];
        }
      }
    }
    double left = Math.sqrt(product(to, to));
    if (left > NEW * size && vectors < metals && vectors + 1 < MOST_VECTORS) {
      for (int i = 0; i < metals; i++) {
        to[i] /= left;
      }
      vectors++;
    }
  }

  private void apply(int v) {
    applied[v] = fitted(applied[v]);
    Arrays.fill(work, 0);
    for (int i = 0; i < metals; i++) {
      work[metalNode[i]] = root[i] * basis[v][i];
    }
    matrix.solve(work, first);
    for (int i = 0; i < metals; i++) {
      applied[v][i] = root[i] * work[metalNode[i]];
    }
  }

  private double product(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < metals; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }

  /**
   * Admittances between file and terminals at one admittance of the surface, in the order of the
   * terminals, the file last.
   *
   * @param re real part of the admittance of the surface, S/m²
   * @param im its imaginary part, S/m²
   * @param toRe matrix to fill, real parts, S
   * @param toIm imaginary parts, S
   */
  void admittances(double re, double im, double[][] toRe, double[][] toIm) {
    int file = FieldMesh.TERMINALS;
    for (int t = 0; t <= file; t++) {
      for (int u = 0; u <= file; u++) {
        toRe[t][u] = t < file && u < file ? direct[t][u] : 0;
        toIm[t][u] = 0;
      }
    }
    for (int k = 0; k < vectors; k++) {
      // 1/(1 + (y − s)λ)
      double x = 1 + (re - shift) * value[k];
      double b = im * value[k];
      double size = 1 / (x * x + b * b);
      double inverseRe = x * size;
      double inverseIm = -b * size;
      double fileRe = re * inverseRe - im * inverseIm;
      double fileIm = re * inverseIm + im * inverseRe;
      double ownRe = fileRe - shift * inverseRe;
      double ownIm = fileIm - shift * inverseIm;
      for (int t = 0; t < file; t++) {
        double shared = part[t][k] * part[file][k];
        toRe[t][file] -= shared * fileRe;
        toIm[t][file] -= shared * fileIm;
        toRe[file][t] -= shared * fileRe;
        toIm[file][t] -= shared * fileIm;
        for (int u = 0; u < file; u++) {
          double both = part[t][k] * part[u][k];
          toRe[t][u] += both * ownRe;
          toIm[t][u] += both * ownIm;
        }
      }
      double square = part[file][k] * part[file][k] * (1 - shift * value[k]);
      toRe[file][file] += square * fileRe;
      toIm[file][file] += square * fileIm;
    }
    for (int t = 0; t < file; t++) {
      addBetween(t, file, metalOn[t] * re, metalOn[t] * im, toRe, toIm);
    }
  }

  /** Adds an admittance between two rows. */
  private static void addBetween(
      int t, int u, double re, double im, double[][] toRe, double[][] toIm) {
    toRe[t][t] += re;
    toIm[t][t] += im;
    toRe[u][u] += re;
    toIm[u][u] += im;
    toRe[t][u] -= re;
    toIm[t][u] -= im;
    toRe[u][t] -= re;
    toIm[u][t] -= im;
  }
}
