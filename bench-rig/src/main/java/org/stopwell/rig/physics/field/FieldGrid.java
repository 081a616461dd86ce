package org.stopwell.rig.physics.field;

/**
 * A grid of nodes in a half plane through the axis, and the conductances between neighbours.
 *
 * <p>Rows and columns of nodes may bend. Each cell between four nodes is cut into two triangles;
 * the potential is straight in each, and around each node lies the ring of a control volume whose
 * faces join the middles of the triangles and their edges. The current through those faces is what
 * linear finite elements give (Bank & Rose, SIAM J Numer Anal 1987;24:777, from memory). Units SI.
 */
final class FieldGrid {
  /** Nodes in a row. */
  final int columns;

  /** How many rows there are now. */
  int rows;

  /** Distance of each node from the axis, and height, m. */
  double[] r = new double[0];

  double[] z = new double[0];

  /** Conductance from each node to the next in its row, S. */
  double[] across = new double[0];

  /** Conductance from each node to the one above it, S. */
  double[] up = new double[0];

  /** Conductance from each node to the one above and beyond it, S. */
  double[] slant = new double[0];

  /**
   * A grid without rows.
   *
   * @param columns nodes in a row
   */
  FieldGrid(int columns) {
    this.columns = columns;
  }

  /** Begins anew with as many rows, without any conductance. */
  void reset(int wantedRows) {
    rows = wantedRows;
    int nodes = rows * columns;
    if (r.length < nodes) {
      r = new double[nodes];
      z = new double[nodes];
    }
    across = cleared(across, nodes);
    up = cleared(up, nodes);
    slant = cleared(slant, nodes);
  }

  private static double[] cleared(double[] values, int nodes) {
    if (values.length < nodes) {
      return new double[nodes];
    }
    java.util.Arrays.fill(values, 0, nodes, 0);
    return values;
  }

  /** The number of a node. */
  int node(int row, int column) {
    return row * columns + column;
  }

  /**
   * Fills the cell above and beyond a node with a material.
   *
   * @param row row of the node
   * @param column its column
   * @param radial conductivity away from the axis, S/m
   * @param axial conductivity along the axis, S/m
   */
  void fill(int row, int column, double radial, double axial) {
    int p = node(row, column);
    int q = p + 1;
    int s = p + columns;
    int t = s + 1;
    triangle(p, q, t, radial, axial);
    triangle(p, s, t, radial, axial);
  }

  /** A triangle from a node over its neighbour to the one above and beyond the first. */
  private void triangle(int p, int side, int t, double radial, double axial) {
    double riseP = z[side] - z[t];
    double riseSide = z[t] - z[p];
    double riseT = z[p] - z[side];
    double runP = r[t] - r[side];
    double runSide = r[p] - r[t];
    double runT = r[side] - r[p];
    double twiceArea = Math.abs(runT * riseSide - riseT * runSide);
    double scale = Math.PI * (r[p] + r[side] + r[t]) / (3 * twiceArea);
    double pSide = -scale * (radial * riseP * riseSide + axial * runP * runSide);
    double sideT = -scale * (radial * riseSide * riseT + axial * runSide * runT);
    slant[p] -= scale * (radial * riseP * riseT + axial * runP * runT);
    if (side == p + 1) {
      across[p] += pSide;
      up[side] += sideT;
    } else {
      up[p] += pSide;
      across[side] += sideT;
    }
  }
}
