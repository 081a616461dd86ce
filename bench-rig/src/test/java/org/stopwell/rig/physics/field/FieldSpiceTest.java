package org.stopwell.rig.physics.field;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.SpiceComparison;
import org.stopwell.rig.physics.canal.SpiceNetlist;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/** Every conductance of a coarse grid as a resistor, and the metal as R and C, in ngspice. */
class FieldSpiceTest {
  private static final long SEED = 20_260_412;
  private static final double MM = 1e-3;

  /** Rows so much higher than usual. */
  private static final double COARSE = 5;

  /** Steps after which the Krylov method has nothing left out. */
  private static final int ALL = 24;

  private static final String[] TERMINAL = {"bone", "gum", "chamber"};

  /** A place of the file on a coarse grid; the chamber leads nowhere but into the tooth. */
  private record Coarse(FieldSolver solver) implements MeasuringCircuit {
    @Override
    public void solve(double remaining, double level) {
      solver.solve(remaining, level);
    }

    @Override
    public double ohmsRe(int f) {
      double[] y = siemens(f);
      return y[0] / (y[0] * y[0] + y[1] * y[1]);
    }

    @Override
    public double ohmsIm(int f) {
      double[] y = siemens(f);
      return -y[1] / (y[0] * y[0] + y[1] * y[1]);
    }

    /** From the file straight, and by way of the chamber. */
    private double[] siemens(int f) {
      double[] y = Arrays.copyOfRange(solver.solved, f * 6, f * 6 + 6);
      double sumRe = y[2] + y[4];
      double sumIm = y[3] + y[5];
      double size = sumRe * sumRe + sumIm * sumIm;
      if (size == 0) {
        return y;
      }
      double bothRe = y[2] * y[4] - y[3] * y[5];
      double bothIm = y[2] * y[5] + y[3] * y[4];
      return new double[] {
        y[0] + (bothRe * sumRe + bothIm * sumIm) / size,
        y[1] + (bothIm * sumRe - bothRe * sumIm) / size
      };
    }
  }

  @Test
  void eight_teeth_at_four_frequencies_agree_with_ngspice(@TempDir Path directory)
      throws Exception {
    int canals = 8;
    double[] hertz = SpiceComparison.hertz();
    SpiceComparison comparison = new SpiceComparison(directory);
    RandomStream random = RandomStream.of(SEED, "places");
    for (int i = 0; i < canals; i++) {
      Fill fill = i % 2 == 0 ? Fill.HALF_WET : Fill.FLOODED;
      Map<String, String> lateral = Map.of("lateral_canal_mm", i % 4 < 2 ? "2" : "0");
      Scene scene = new Population(SEED).member(i, fill, Map.of("canal", lateral));
      FieldTooth.Parts parts = FieldToothTest.parts(scene);
      FieldSolver solver = new FieldSolver(parts, hertz, COARSE, 1, ALL);
      double length = parts.canal().length();
      Coarse tooth = new Coarse(solver);
      tooth.solve(
          random.nextBetween(-1, 5) * MM, fill == Fill.FLOODED ? length + MM : 0.6 * length);
      comparison.add(tooth, (net, canal, f, hz) -> append(net, canal, solver, f, 2 * Math.PI * hz));
    }
    assertEquals(canals * hertz.length, comparison.agree(), "seed " + SEED);
  }

  private static void append(
      StringBuilder net, int canal, FieldSolver solver, int f, double radPerS) {
    FieldMesh mesh = solver.mesh();
    FieldGrid grid = mesh.grid;
    String file = SpiceNetlist.source(net, canal);
    for (int p = 0; p < grid.rows * grid.columns; p++) {
      link(net, canal, mesh, "a" + p, p, p + 1, grid.across[p]);
      link(net, canal, mesh, "u" + p, p, p + grid.columns, grid.up[p]);
      link(net, canal, mesh, "s" + p, p, p + grid.columns + 1, grid.slant[p]);
      String here = name(mesh, canal, p);
      SpiceNetlist.admittance(net, canal + "g" + p, here, "gum" + canal, mesh.gum[p], 0, radPerS);
      SpiceNetlist.admittance(
          net,
          canal + "m" + p,
          here,
          file,
          mesh.metal[p] * solver.surface(f)[0],
          mesh.metal[p] * solver.surface(f)[1],
          radPerS);
    }
    link(net, canal, mesh, "side", mesh.lateralFrom, mesh.lateralTo, mesh.lateralSiemens);
    double[] end = solver.ends(f);
    SpiceNetlist.admittance(net, canal + "b", "bone" + canal, "0", end[0], end[1], radPerS);
    SpiceNetlist.admittance(net, canal + "gum", "gum" + canal, "0", end[2], end[3], radPerS);
  }

  private static void link(
      StringBuilder net, int canal, FieldMesh mesh, String name, int p, int q, double siemens) {
    String from = siemens == 0 ? "" : name(mesh, canal, p);
    String to = siemens == 0 ? "" : name(mesh, canal, q);
    if (!from.equals(to)) {
      SpiceNetlist.admittance(net, canal + name, from, to, siemens, 0, 1);
    }
  }

  private static String name(FieldMesh mesh, int canal, int p) {
    return mesh.terminal[p] < 0 ? "n" + canal + "_" + p : TERMINAL[mesh.terminal[p]] + canal;
  }
}
