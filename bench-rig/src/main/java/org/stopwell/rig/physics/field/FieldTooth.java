package org.stopwell.rig.physics.field;

import java.util.Arrays;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.canal.ToothCircuit;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.random.RandomStream;

/**
 * A tooth whose current flows in a field instead of a network: fluid, dentine, cementum, ligament
 * and bone around one axis, with the surface of the file as a constant-phase element per area.
 *
 * <p>The canal counts as uncut, except that its wall is where the file is. Units SI.
 */
public final class FieldTooth implements MeasuringCircuit {
  /** What the grip of the file insulates, S: a teraohm, assumed. */
  private static final double INSULATION = 1e-12;

  private final Parts parts;
  private final double[] straySiemens;
  private final double[][] surface;
  private final FieldSolver solver;
  private final FieldTable table;
  private final double[] siemens;
  private final double[][] four;
  private final double[] re;
  private final double[] im;

  /**
   * What a tooth is made of.
   *
   * @param around what surrounds and fills the canal
   * @param canal the canal
   * @param chamberRadius radius of the chamber, m
   * @param file the file
   * @param anatomy what no scene gives
   */
  record Parts(
      Surroundings around,
      Canal canal,
      double chamberRadius,
      Instrument file,
      FieldAnatomy anatomy) {

    /** The same tooth without what is joined to the field from outside. */
    Parts closed() {
      Surroundings own =
          new Surroundings(
              around.body(),
              around.bodyHighShare(),
              around.bodyCorner(),
              around.bodyExponent(),
              around.fluidResistivity(),
              0,
              0,
              0,
              0,
              0,
              around.exudate(),
              around.exudateResistivity(),
              around.lateralCanal(),
              around.side(),
              0,
              0);
      return new Parts(own, canal, chamberRadius, file, anatomy);
    }
  }

  /**
   * The tooth of a scene as a field.
   *
   * @param canal the canal
   * @param around what surrounds and fills it
   * @param fluid values of the section {@code fluid}
   * @param file the file
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of the measuring cable, F
   * @param random source of the values that the scene does not give
   */
  public FieldTooth(
      Canal canal,
      Surroundings around,
      ParameterValues fluid,
      Instrument file,
      double[] hertz,
      double strayFarads,
      RandomStream random) {
    this(
        new Parts(
            around,
            canal,
            StrictMath.sqrt(fluid.get(FluidSection.CHAMBER_AREA) * 1e-9 / Math.PI),
            file,
            FieldAnatomy.drawn(random)),
        hertz,
        strayFarads);
  }

  FieldTooth(Parts parts, double[] hertz, double strayFarads) {
    this.parts = parts;
    solver = new FieldSolver(parts, hertz, 1, 1, FieldSolver.DEPTH);
    table = FieldTables.of(parts, Arrays.stream(hertz).boxed().toList());
    surface = FieldSolver.surface(parts.file(), hertz);
    siemens = new double[hertz.length * FieldSolver.NUMBERS];
    four = new double[4][siemens.length];
    re = new double[hertz.length];
    im = new double[hertz.length];
    straySiemens = Arrays.stream(hertz).map(hz -> 2 * Math.PI * hz * strayFarads).toArray();
  }

  @Override
  public void solve(double remaining, double level) {
    if (remaining <= level) {
      table.at(remaining, level, solver, four, siemens);
    }
    finish(remaining, level);
  }

  /**
   * Solves the field for this place itself, without the table: about 2 ms. For few places of many
   * teeth.
   *
   * @param remaining height of the tip above the foramen, m
   * @param level level of the fluid above the foramen, m
   */
  void solveDirectly(double remaining, double level) {
    if (remaining <= level) {
      solver.solve(Math.max(FieldTable.DEEPEST, remaining), level);
      System.arraycopy(solver.solved, 0, siemens, 0, siemens.length);
    }
    finish(remaining, level);
  }

  /** Adds chamber, dry contact and cable to the field. */
  private void finish(double remaining, double level) {
    Canal canal = parts.canal();
    Surroundings around = parts.around();
    double depth = level - canal.length();
    boolean wet = remaining <= level;
    double leak = 0;
    double shank = 0;
    if (depth > 0) {
      double share = around.chamberDepth() == 0 ? 1 : Math.min(1, depth / around.chamberDepth());
      leak =
          around.leak() * share
              + (Surroundings.full(depth, around.chamberDepth()) ? around.overflow() : 0)
              + around.throughCrown(depth);
      shank = wet ? shankArea(remaining, level) : 0;
    }
    double dry = Math.max(0, canal.length() - Math.max(Math.max(remaining, level), 0));
    double contact = remaining < canal.length() ? dry * ToothCircuit.DRY_CONTACT : 0;
    for (int f = 0; f < re.length; f++) {
      double g = INSULATION + contact;
      double b = straySiemens[f];
      if (wet) {
        int at = f * FieldSolver.NUMBERS;
        boolean inCanal = remaining < canal.length();
        g += inCanal ? siemens[at] : 0;
        b += inCanal ? siemens[at + 1] : 0;
        if (depth > 0) {
          // from the file to the chamber, and from there to the lip clip
          double toRe = shank * surface[f][0] + (inCanal ? siemens[at + 2] : 0);
          double toIm = shank * surface[f][1] + (inCanal ? siemens[at + 3] : 0);
          double onRe = siemens[at + 4] + leak;
          double onIm = siemens[at + 5];
          double sumRe = toRe + onRe;
          double sumIm = toIm + onIm;
          double size = 1 / (sumRe * sumRe + sumIm * sumIm);
          double bothRe = toRe * onRe - toIm * onIm;
          double bothIm = toRe * onIm + toIm * onRe;
          g += (bothRe * sumRe + bothIm * sumIm) * size;
          b += (bothIm * sumRe - bothRe * sumIm) * size;
        }
      }
      double size = 1 / (g * g + b * b);
      re[f] = g * size;
      im[f] = -b * size;
    }
  }

  /** Metal in the chamber, m². */
  private double shankArea(double remaining, double level) {
    Instrument file = parts.file();
    double from = Math.max(0, parts.canal().length() - remaining);
    double to = level - remaining;
    double lateral = file.surface(from, to);
    boolean inChamber = remaining >= parts.canal().length();
    return inChamber ? lateral + file.tipDisc() : lateral;
  }

  @Override
  public double ohmsRe(int frequency) {
    return re[frequency];
  }

  @Override
  public double ohmsIm(int frequency) {
    return im[frequency];
  }
}
