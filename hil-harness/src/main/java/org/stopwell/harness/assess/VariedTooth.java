package org.stopwell.harness.assess;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.Cole;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.PhaseElement;
import org.stopwell.rig.physics.canal.Resistances;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FluidColumn;
import org.stopwell.rig.random.RandomStream;

/**
 * A tooth to learn from whose network is itself drawn by chance, so that the estimate does not
 * learn one simulator by heart. Drawn are what the networks of the bench take as fixed: how many
 * cells the fluid has, how much of the metal takes part, exponent and charge transfer of its
 * surface, how uneven and how capacitive the root wall is, a side canal, the split of the body
 * path, and where and how the chamber leaks. All spreads are assumed. No tooth of the assessment is
 * made this way.
 */
final class VariedTooth implements MeasuringCircuit, Tooth {
  private static final int MOST_CELLS = 40;

  /** Vacuum, F/m. */
  private static final double PERMITTIVITY = 8.854e-12;

  private final double[] hertz = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] re = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] im = new double[ControllerInput.MAX_FREQUENCIES];

  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final FluidColumn fluid;
  private final double resistivity;
  private final double chamberDepth;
  private final double leak;
  private final double film;
  private final double[] bodyRe = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] bodyIm = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] surfaceRe = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] surfaceIm = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] unevenness = new double[MOST_CELLS];

  private final int cells;
  private final boolean metalAtTip;
  private final double reach;
  private final double wallFarads;
  private final double sideHeight;
  private final double sideSiemens;
  private final double leakGrowth;
  private final double leakCapacity;
  private final double leakCorner;
  private final boolean leakAtShank;

  // cells from the foramen up: resistance to the cell below, wall, metal
  private final double[] series = new double[MOST_CELLS];
  private final double[] wall = new double[MOST_CELLS];
  private final double[] metal = new double[MOST_CELLS];
  private int count;
  private double chamberSiemens;

  // complex numbers under construction
  private double x;
  private double y;

  VariedTooth(Scene scene, RandomStream random) {
    ParameterValues section = scene.section("canal");
    ParameterValues wet = scene.section("fluid");
    canal = Canal.of(section);
    bore = new Bore(canal);
    file = Instrument.of(scene.section("file"));
    fluid = FluidColumn.of(wet, canal, bore, file);
    resistivity = 1 / FluidSection.siemensPerMetre(wet);
    chamberDepth = wet.get(FluidSection.CHAMBER_DEPTH) * 1e-6;
    leak = 1.0 / wet.get(FluidSection.LEAK);
    film = 1.0 / wet.get(FluidSection.OVERFLOW);
    cells = 1 + (int) (10 * random.nextDouble());
    metalAtTip = random.nextDouble() < 0.4;
    // a third of the files with their whole surface, the others with the part next to the tip
    reach = random.nextDouble() < 0.34 ? 1 : logBetween(random, 0.5e-3, 6e-3);
    double exponentShift = random.nextBetween(-0.12, 0.04);
    double transfer = logBetween(random, 0.3, 20);
    wallFarads = random.nextBetween(0, 120) * PERMITTIVITY;
    double uneven = random.nextBetween(0, 1);
    for (int i = 0; i < MOST_CELLS; i++) {
      unevenness[i] = StrictMath.exp(uneven * random.nextGaussian());
    }
    sideHeight = random.nextBetween(0.3e-3, 4e-3);
    sideSiemens = random.nextDouble() < 0.5 ? 0 : 1 / logBetween(random, 60e3, 1e6);
    double split = random.nextBetween(0.25, 0.75);
    double slower = logBetween(random, 0.4, 1);
    double faster = logBetween(random, 1, 2.5);
    double bend = random.nextBetween(-0.12, 0.12);
    leakGrowth = random.nextBetween(0.3, 1.3);
    leakCapacity = random.nextBetween(0, 0.7);
    leakCorner = logBetween(random, 500, 8000);
    leakAtShank = random.nextDouble() < 0.5;
    double body = section.get(CanalSection.BODY);
    double high = body * section.get(CanalSection.BODY_HIGH_SHARE) * 1e-3;
    double corner = section.get(CanalSection.BODY_CORNER);
    double exponent = section.get(CanalSection.BODY_EXPONENT) * 1e-3;
    double metalExponent = file.interfaceExponent() + exponentShift;
    for (int f = 0; f < hertz.length; f++) {
      hertz[f] = Training.HERTZ[f];
      double w = 2 * Math.PI * hertz[f];
      Cole slow =
          Cole.of(split * body, split * high, slower * corner, held(exponent + bend), hertz[f]);
      Cole fast =
          Cole.of(
              (1 - split) * body,
              (1 - split) * high,
              faster * corner,
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
      surfaceRe[f] = surface.siemensRe() + 1 / transfer;
      surfaceIm[f] = surface.siemensIm();
    }
  }

  private static double logBetween(RandomStream random, double low, double high) {
    return low * StrictMath.pow(high / low, random.nextDouble());
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
      // a tip in air: the stray way alone, far above what is called dry
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
      if (leakAtShank) {
        chamber(f);
      }
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
    metal[0] = 0;
    count = 1;
    for (int i = 0; i < cells; i++) {
      cell(tip * i / cells, tip * (i + 1) / cells, remaining);
    }
    double disc = Math.PI * file.tipRadius() * file.tipRadius();
    metal[count - 1] += disc + (remaining < 0 ? lateral(0, -remaining) : 0);
    if (metalAtTip) {
      metal[count - 1] += lateral(Math.max(0, -remaining), top - remaining);
    }
    for (int i = 0; i < cells; i++) {
      double from = (double) i * i / (cells * cells);
      double to = (double) (i + 1) * (i + 1) / (cells * cells);
      cell(tip + (top - tip) * from, tip + (top - tip) * to, remaining);
    }
    double above = level - canal.length();
    chamberSiemens = 0;
    if (above > 0) {
      double share = chamberDepth == 0 ? 1 : Math.min(1, above / chamberDepth);
      chamberSiemens = leak * StrictMath.pow(share, leakGrowth) + (above < chamberDepth ? 0 : film);
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
        length
            * 2
            * Math.PI
            / (canal.wallResistivity() * StrictMath.log1p(canal.wall() / bore.radius(middle)))
            * unevenness[count];
    double ohms;
    double area = 0;
    if (middle >= remaining) {
      double b1 = file.radius(z1 - remaining);
      double b2 = file.radius(z2 - remaining);
      double inner = StrictMath.sqrt(file.solidFraction());
      ohms =
          Resistances.annulus(
              resistivity, length, Math.max(a1, b1), Math.max(a2, b2), inner * b1, inner * b2);
      area = metalAtTip ? 0 : lateral(z1 - remaining, z2 - remaining);
    } else {
      ohms = Resistances.frustum(resistivity, length, a1, a2);
    }
    series[count] = ohms;
    wall[count] = 0.5 * siemens;
    metal[count] = 0.5 * area;
    wall[count - 1] += 0.5 * siemens;
    metal[count - 1] += 0.5 * area;
    if (z1 <= sideHeight && sideHeight < z2) {
      wall[count] += sideSiemens;
    }
    count++;
  }

  /** Metal between two heights above the tip that takes part. */
  private double lateral(double from, double to) {
    double low = Math.min(from, reach);
    double high = Math.min(to, reach);
    return Math.PI * (file.radius(low) + file.radius(high)) * (high - low);
  }

  /** Admittance from file to lip into x and y, node by node from the foramen up. */
  private void ladder(int f, double access) {
    double w = 2 * Math.PI * hertz[f];
    double ohms = access + bodyRe[f];
    double scale = 1 / (ohms * ohms + bodyIm[f] * bodyIm[f]);
    double groundRe = ohms * scale;
    double groundIm = -bodyIm[f] * scale;
    double fileRe = 0;
    double fileIm = 0;
    double sumRe = 0;
    double sumIm = 0;
    for (int k = 0; k < count; k++) {
      groundRe += wall[k];
      groundIm += wall[k] * canal.wallResistivity() * w * wallFarads;
      fileRe += metal[k] * surfaceRe[f];
      fileIm += metal[k] * surfaceIm[f];
      boolean last = k == count - 1;
      if (last && !leakAtShank) {
        x = 0;
        y = 0;
        chamber(f);
        groundRe += x;
        groundIm += y;
      }
      double next = last ? 0 : 1 / series[k + 1];
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
    x = sumRe;
    y = sumIm;
  }

  /** Adds what leads from the chamber to the lip: partly through a film that is a capacitor too. */
  private void chamber(int f) {
    double share = hertz[f] / (hertz[f] + leakCorner);
    x += chamberSiemens * (1 - leakCapacity + leakCapacity * share);
    y += chamberSiemens * leakCapacity * share * (1 - share);
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
