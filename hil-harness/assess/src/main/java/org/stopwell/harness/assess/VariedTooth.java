package org.stopwell.harness.assess;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.Cole;
import org.stopwell.rig.physics.canal.Dentine;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.Outlet;
import org.stopwell.rig.physics.canal.PhaseElement;
import org.stopwell.rig.physics.canal.Resistances;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FluidColumn;
import org.stopwell.rig.random.RandomStream;

/**
 * A training tooth whose network is drawn at random, so that the estimate does not learn one model
 * by heart. {@link VariedNetwork} lists what is drawn. No tooth of the assessment is made this way.
 */
final class VariedTooth implements MeasuringCircuit, Tooth {
  private final double[] hertz = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] re = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] im = new double[ControllerInput.MAX_FREQUENCIES];

  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final FluidColumn fluid;
  private final Dentine dentine;
  private final Outlet outlet = new Outlet();
  private final Surroundings around;
  private final double strayFarads;
  private final double[] bodyRe = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] bodyIm = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] surfaceRe = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] surfaceIm = new double[ControllerInput.MAX_FREQUENCIES];

  private final VariedNetwork network;
  private final int cells;
  private final double reach;

  // cells from the foramen up: resistance to the cell below, wall, its capacity, metal
  private final double[] series = new double[VariedNetwork.MOST_CELLS];
  private final double[] wall = new double[VariedNetwork.MOST_CELLS];
  private final double[] wallFarads = new double[VariedNetwork.MOST_CELLS];
  private final double[] metal = new double[VariedNetwork.MOST_CELLS];
  private int count;
  private double chamberSiemens;

  // complex numbers under construction
  private double x;
  private double y;

  /** A tooth of a scene, with a network drawn for it. */
  static VariedTooth of(Scene scene, RandomStream random) {
    return new VariedTooth(scene, VariedNetwork.drawn(random));
  }

  /** A tooth of a scene, with a given network. */
  VariedTooth(Scene scene, VariedNetwork network) {
    ParameterValues section = scene.section("canal");
    ParameterValues wet = scene.section("fluid");
    // its lateral canal is that of the network
    around = Surroundings.of(section, wet);
    double bodyHigh = around.body() * around.bodyHighShare();
    strayFarads = scene.section("front_end").get(FrontEndSection.STRAY) * 1e-12;
    this.network = network;
    canal = Canal.of(section);
    bore = new Bore(canal);
    dentine = new Dentine(canal);
    file = Instrument.of(scene.section("file"));
    fluid = FluidColumn.of(wet, canal, bore, file);
    cells = network.cells();
    reach = network.reach();
    double body = around.body();
    double split = network.split();
    double corner = around.bodyCorner();
    double exponent = around.bodyExponent();
    double bend = network.bend();
    double exponentShift = network.exponentShift();
    double metalExponent = file.interfaceExponent() + exponentShift;
    for (int f = 0; f < hertz.length; f++) {
      hertz[f] = Training.HERTZ[f];
      double w = 2 * Math.PI * hertz[f];
      Cole slow =
          Cole.of(
              split * body,
              split * bodyHigh,
              network.slower() * corner,
              held(exponent + bend),
              hertz[f]);
      Cole fast =
          Cole.of(
              (1 - split) * body,
              (1 - split) * bodyHigh,
              network.faster() * corner,
              held(exponent - bend),
              hertz[f]);
      bodyRe[f] = slow.ohmsRe() + fast.ohmsRe();
      bodyIm[f] = slow.ohmsIm() + fast.ohmsIm();
      // equal magnitude at 1 kHz, another slope
      PhaseElement surface =
          PhaseElement.of(
              file.interfaceMagnitude() * StrictMath.pow(2 * Math.PI * 1000, -exponentShift),
              metalExponent,
              w);
      surfaceRe[f] = surface.siemensRe() + 1 / network.transfer();
      surfaceIm[f] = surface.siemensIm();
    }
  }

  private static double held(double exponent) {
    return Math.max(0.5, Math.min(1, exponent));
  }

  @Override
  public MeasuringCircuit at(double remaining) {
    fluid.follow(remaining);
    solve(remaining, fluid.level());
    return this;
  }

  @Override
  public double level() {
    return fluid.level();
  }

  @Override
  public void solve(double remaining, double level) {
    if (remaining > level) {
      // a tip in air: the stray capacitance alone, far above the limit of a dry tip
      java.util.Arrays.fill(re, 0);
      java.util.Arrays.fill(im, -1e6);
      return;
    }
    build(remaining, level);
    double protrusion = Math.max(0, -remaining);
    double access =
        Resistances.halfSpheroid(canal.tissueResistivity(), canal.foramenRadius(), protrusion);
    for (int f = 0; f < hertz.length; f++) {
      ladder(f, access);
      y += 2 * Math.PI * hertz[f] * strayFarads;
      double scale = x * x + y * y;
      re[f] = x / scale;
      im[f] = -y / scale;
    }
  }

  /** Cells of even height below the tip, and of growing height beside the file. */
  private void build(double remaining, double level) {
    double top = Math.min(level, canal.length());
    double tip = Math.max(0, Math.min(remaining, top));
    series[0] = 0;
    wall[0] = 0;
    wallFarads[0] = 0;
    metal[0] = 0;
    count = 1;
    for (int i = 0; i < cells; i++) {
      cell(tip * i / cells, tip * (i + 1) / cells, remaining);
    }
    double disc = Math.PI * file.tipRadius() * file.tipRadius();
    metal[count - 1] += disc + (remaining < 0 ? surface(0, -remaining) : 0);
    if (network.metalAtTip()) {
      metal[count - 1] += surface(Math.max(0, -remaining), top - remaining);
    }
    for (int i = 0; i < cells; i++) {
      double from = (double) i * i / (cells * cells);
      double to = (double) (i + 1) * (i + 1) / (cells * cells);
      cell(tip + (top - tip) * from, tip + (top - tip) * to, remaining);
    }
    double above = level - canal.length();
    chamberSiemens = 0;
    if (above > 0) {
      double deep = around.chamberDepth();
      double share = deep == 0 ? 1 : Math.min(1, above / deep);
      chamberSiemens =
          around.leak() * StrictMath.pow(share, network.leakGrowth())
              + (Surroundings.full(above, deep) ? around.overflow() : 0)
              + around.throughCrown(above);
    }
  }

  private void cell(double z1, double z2, double remaining) {
    double length = z2 - z1;
    if (!(length > 1e-9)) {
      return;
    }
    double a1 = bore.radius(z1);
    double a2 = bore.radius(z2);
    double middle = 0.5 * (z1 + z2);
    double siemens =
        length * dentine.perLength(bore.radius(middle), middle) * network.unevenness().get(count);
    // permittivity times the geometry, which is conductance times resistivity
    double farads = siemens * canal.wallResistivity(middle) * network.wallFarads();
    double resistivity = around.resistivity(middle);
    double ohms;
    double area = 0;
    if (middle >= remaining) {
      double b1 = file.radius(z1 - remaining);
      double b2 = file.radius(z2 - remaining);
      double inner = StrictMath.sqrt(file.solidFraction());
      ohms =
          Resistances.annulus(
              resistivity, length, Math.max(a1, b1), Math.max(a2, b2), inner * b1, inner * b2);
      area = network.metalAtTip() ? 0 : surface(z1 - remaining, z2 - remaining);
    } else {
      ohms = Resistances.frustum(resistivity, length, a1, a2);
    }
    series[count] = ohms;
    wall[count] = 0.5 * siemens;
    wallFarads[count] = 0.5 * farads;
    metal[count] = 0.5 * area;
    wall[count - 1] += 0.5 * siemens;
    wallFarads[count - 1] += 0.5 * farads;
    metal[count - 1] += 0.5 * area;
    double lateral = network.lateralHeight();
    boolean shut = network.lateralShuts() && remaining < lateral;
    if (!shut && z1 <= lateral && lateral < z2) {
      wall[count] += network.lateralSiemens();
    }
    count++;
  }

  /** Area of the metal that takes part between two heights above the tip, m². */
  private double surface(double from, double to) {
    double low = Math.min(from, reach);
    double high = Math.min(to, reach);
    return Math.PI * (file.radius(low) + file.radius(high)) * (high - low);
  }

  /** Admittance from file to lip into x and y, node by node from the foramen up. */
  private void ladder(int f, double access) {
    double w = 2 * Math.PI * hertz[f];
    // ground is the tissue around the root until the last node
    double groundRe = 1 / access;
    double groundIm = 0;
    double fileRe = 0;
    double fileIm = 0;
    double sumRe = 0;
    double sumIm = 0;
    for (int k = 0; k < count; k++) {
      groundRe += wall[k];
      groundIm += w * wallFarads[k];
      fileRe += metal[k] * surfaceRe[f];
      fileIm += metal[k] * surfaceIm[f];
      if (k == count - 1) {
        break;
      }
      double next = 1 / series[k + 1];
      double allRe = groundRe + fileRe + next;
      double allIm = groundIm + fileIm;
      double size = 1 / (allRe * allRe + allIm * allIm);
      double shareRe = (fileRe * allRe + fileIm * allIm) * size;
      double shareIm = (fileIm * allRe - fileRe * allIm) * size;
      sumRe += shareRe * groundRe - shareIm * groundIm;
      sumIm += shareRe * groundIm + shareIm * groundRe;
      double nextRe = next * allRe * size;
      double nextIm = -next * allIm * size;
      double g = groundRe;
      groundRe = g * nextRe - groundIm * nextIm;
      groundIm = g * nextIm + groundIm * nextRe;
      fileRe = next * shareRe;
      fileIm = next * shareIm;
    }
    x = 0;
    y = 0;
    chamber(f);
    double size = 1 / (bodyRe[f] * bodyRe[f] + bodyIm[f] * bodyIm[f]);
    boolean atShank = network.leakAtShank();
    outlet.solve(
        sumRe,
        sumIm,
        fileRe,
        fileIm,
        groundRe,
        groundIm,
        atShank ? 0 : x,
        atShank ? 0 : y,
        bodyRe[f] * size,
        -bodyIm[f] * size);
    x = outlet.siemensRe() + (atShank ? x : 0);
    y = outlet.siemensIm() + (atShank ? y : 0);
  }

  /** Adds the leak from the chamber to the lip clip, part of it capacitive. */
  private void chamber(int f) {
    double share = hertz[f] / (hertz[f] + network.leakCorner());
    x += chamberSiemens * (1 - network.leakCapacity() + network.leakCapacity() * share);
    y += chamberSiemens * network.leakCapacity() * share * (1 - share);
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
