package org.stopwell.rig.physics.field;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.Resistances;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.file.Instrument;

/** The field against bodies whose resistance is known. */
class ClosedFormsTest {
  private static final double MM = 1e-3;

  /** Size 10, round, of taper 2 %, whose surface is a short circuit. */
  private static final Instrument FILE =
      new Instrument(0.05 * MM, 0.01, 16e-3, 1, 1e9, 1, 2e9, 1e-4, 0, 0, 0);

  private static Surroundings around(double fluid) {
    // no body: the far bone is the lip clip
    return new Surroundings(1e-3, 1, 2500, 0.8, fluid, 3 * MM, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0);
  }

  private static Canal tube(double length, double radius, double wallOhmM, double tissue) {
    return Canal.plain(length, radius, 0, radius, 0, 1.5 * MM, wallOhmM, tissue);
  }

  /** Ligament and bone of one resistivity, a root of one thickness, no gum that leads off. */
  private static FieldAnatomy plain(double resistivity, double tubules) {
    return new FieldAnatomy(0.2 * MM, resistivity, 0.1 * MM, 1, tubules, 1, 2 * MM, 1e6, 1, 0.5);
  }

  private static FieldSolver solver(
      Canal canal, Surroundings around, FieldAnatomy anatomy, double spacing, int split) {
    return new FieldSolver(
        new FieldTooth.Parts(around, canal, 0, FILE, anatomy),
        new double[] {1000},
        spacing,
        split,
        FieldSolver.DEPTH);
  }

  /** Resistance from the file to the far bone, Ω. */
  private static double fileOhms(FieldSolver solver, double remaining, double level) {
    solver.solve(remaining, level);
    return 1 / solver.solved[0];
  }

  /** Between half spheres: ρ/2π (1/a − 1/b). The grid bends, so each cell is slanted. */
  @Test
  void half_spheres() {
    int rays = 24;
    int shells = 24;
    FieldGrid grid = new FieldGrid(rays + 1);
    grid.reset(shells + 1);
    for (int i = 0; i <= shells; i++) {
      double radius = Math.pow(4, (double) i / shells);
      for (int k = 0; k <= rays; k++) {
        double angle = 0.5 * Math.PI * k / rays;
        grid.r[grid.node(i, k)] = radius * Math.sin(angle);
        grid.z[grid.node(i, k)] = -radius * Math.cos(angle);
      }
    }
    for (int i = 0; i < shells; i++) {
      for (int k = 0; k < rays; k++) {
        grid.fill(i, k, 1, 1);
      }
    }
    double expected = (1 - 1 / 4.0) / (2 * Math.PI);
    assertEquals(expected, betweenRows(grid, 0, rays), 3e-3 * expected);
  }

  /** A disc on an insulating half space: ρ/4a (Newman, J Electrochem Soc 1966;113:501). */
  @Test
  void a_disc_on_a_half_space() {
    int inside = 24;
    int outside = 60;
    int rows = 80;
    double far = 60;
    FieldGrid grid = new FieldGrid(inside + outside + 1);
    grid.reset(rows + 1);
    for (int i = 0; i <= rows; i++) {
      for (int k = 0; k <= inside + outside; k++) {
        int node = grid.node(i, k);
        // close to each other at the edge of the disc and at its plane
        double beside = Math.max(0, (double) (k - inside) / outside);
        double under = 1 - Math.min(1, (double) k / inside);
        grid.r[node] = 1 - under * under + (far - 1) * Math.pow(beside, 4);
        grid.z[node] = -far * Math.pow((double) i / rows, 4);
      }
    }
    for (int i = 0; i < rows; i++) {
      for (int k = 0; k < inside + outside; k++) {
        grid.fill(i, k, 1, 1);
      }
    }
    // what lies beyond a half sphere of that size has ρ/2πR; the box holds a little more than it
    double expected = 0.25 - 1 / (2 * Math.PI * 1.1 * far);
    assertEquals(expected, betweenRows(grid, 0, inside), 0.01 * expected);
  }

  /**
   * Resistance from some nodes of the first row to the last row and, with a disc, the last column.
   */
  private static double betweenRows(FieldGrid grid, int row, int lastColumn) {
    int nodes = grid.rows * grid.columns;
    BandMatrix matrix = new BandMatrix(grid.columns + 1);
    matrix.reset(nodes);
    double[] x = new double[nodes];
    boolean open = lastColumn == grid.columns - 1;
    double[] fixed = new double[nodes];
    for (int p = 0; p < nodes; p++) {
      boolean source = p / grid.columns == row && p % grid.columns <= lastColumn;
      boolean sink =
          p / grid.columns == grid.rows - 1 || (!open && p % grid.columns == grid.columns - 1);
      // a conductance far beyond the others holds a node at its potential
      fixed[p] = source || sink ? 1e9 : 0;
      x[p] = source ? 1e9 : 0;
      matrix.add(p, p, fixed[p]);
      add(matrix, p, p + 1, grid.across[p]);
      add(matrix, p, p + grid.columns, grid.up[p]);
      add(matrix, p, p + grid.columns + 1, grid.slant[p]);
    }
    double[] source = x.clone();
    matrix.factor();
    matrix.solve(x, 0);
    double current = 0;
    for (int p = 0; p < nodes; p++) {
      current += source[p] > 0 ? fixed[p] * (1 - x[p]) : 0;
    }
    return 1 / current;
  }

  private static void add(BandMatrix matrix, int p, int q, double siemens) {
    if (siemens != 0) {
      matrix.add(p, p, siemens);
      matrix.add(q, q, siemens);
      matrix.add(p, q, -siemens);
    }
  }

  /** A column of fluid in a tube that insulates adds ρL/πa². */
  @Test
  void a_column_of_fluid() {
    double a = 0.15 * MM;
    FieldSolver solver = solver(tube(12 * MM, a, 1e9, 3), around(0.6), plain(3, 1), 1, 1);
    double more = fileOhms(solver, 5 * MM, 11 * MM) - fileOhms(solver, 3 * MM, 9 * MM);
    double expected = 0.6 * 2 * MM / (Math.PI * a * a);
    assertEquals(expected, more, 0.002 * expected);
  }

  /** A cone of fluid between two discs, ρL/πab, on a wall that slopes. */
  @Test
  void a_cone_of_fluid() {
    Canal canal = Canal.plain(12 * MM, 0.15 * MM, 0, 0.15 * MM, 0.03, 1.5 * MM, 1e9, 3);
    FieldSolver solver = solver(canal, around(0.6), plain(3, 1), 1, 1);
    // the ring beside the file starts at another width, so compare with a third column
    double more = fileOhms(solver, 5 * MM, 11 * MM) - fileOhms(solver, 3 * MM, 11 * MM);
    double expected = Resistances.frustum(0.6, 2 * MM, 0.24 * MM, 0.30 * MM);
    // spreading from the tip, ρ/4b less than in the open, hangs on the width too
    assertEquals(expected, more, 0.07 * expected);
  }

  /** A pore: ρL/πa² and the spreading at its mouth, ρ/4a (Hall, J Gen Physiol 1975;66:531). */
  @Test
  void a_pore_and_its_mouth() {
    double a = 0.1 * MM;
    double length = 5 * MM;
    FieldSolver solver = solver(tube(length, a, 1e9, 3), around(0.6), plain(3, 1), 0.5, 3);
    solver.solve(2 * length, 2 * length);
    double ohms = 1 / solver.solved[4];
    double column = 0.6 * length / (Math.PI * a * a);
    double mouth = 3 / (4 * a);
    // the root is no endless plane: current that has left it finds room beside it
    assertEquals(column + mouth, ohms, 0.03 * mouth + 0.002 * column);
  }

  /** Current that leaves a tube through its wall: R tanh(γL), of a line whose end is grounded. */
  @Test
  void a_leaky_wall() {
    double a = 0.15 * MM;
    double length = 4 * MM;
    double wall = 100;
    double fluid = 0.5;
    FieldSolver solver = solver(tube(length, a, wall, 1e-3), around(fluid), plain(1e-3, 1e9), 1, 1);
    solver.solve(2 * length, 2 * length);
    double r = fluid / (Math.PI * a * a);
    double g = 2 * Math.PI / (wall * Math.log(1.65 / 0.15));
    double expected = Math.sqrt(r / g) * Math.tanh(Math.sqrt(r * g) * length);
    assertEquals(expected, 1 / solver.solved[4], 0.01 * expected);
  }

  /** The ring of fluid between two cylinders, ρL/π(a² − b²), from the tip to the chamber. */
  @Test
  void a_ring_of_fluid() {
    double a = 0.15 * MM;
    Instrument rod = new Instrument(0.05 * MM, 0, 16e-3, 1, 1e-9, 1, 2e9, 1e-4, 0, 0, 0);
    Canal canal = tube(12 * MM, a, 1e9, 3);
    FieldSolver solver =
        new FieldSolver(
            new FieldTooth.Parts(around(0.6), canal, 1 * MM, rod, plain(3, 1)),
            new double[] {1000},
            1,
            1,
            FieldSolver.DEPTH);
    // metal that takes no current: only the ways of the fluid from the chamber out are left
    solver.solve(3 * MM, 13 * MM);
    double ring = 1 / solver.solved[4];
    solver.solve(5 * MM, 13 * MM);
    double shorter = 1 / solver.solved[4];
    double expected = 0.6 * 2 * MM / Math.PI * (1 / (a * a - Math.pow(0.05 * MM, 2)) - 1 / (a * a));
    assertEquals(expected, ring - shorter, 0.02 * expected);
  }
}
