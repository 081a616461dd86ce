package org.stopwell.rig.physics.canal;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.physics.file.Instrument;

/**
 * A tooth by another network: it tests what was trained on the first network.
 *
 * <p>It shares canal, file and fluid with {@link ToothCircuit} and nothing of its network: three
 * lumps in place of a ladder; one lumped metal surface of another exponent with a charge-transfer
 * resistance beside it; dentine that is a leaky capacitor, thin at two patches; a lateral canal; a
 * body path of two elements in series of other exponents; and a leak whose film is partly a
 * capacitor. All its constants are assumed.
 */
public final class LumpedCircuit extends SolvedCircuit {
  /** Length of file whose surface takes part, m. */
  private static final double ACTIVE_LENGTH = 1.2e-3;

  /** The exponent of the metal surface is lower than that of the other network by this. */
  private static final double EXPONENT_SHIFT = 0.07;

  /** Charge transfer through the metal surface, Ω·m². */
  private static final double CHARGE_TRANSFER = 1.5;

  /** Permittivity of the dentine against vacuum's 8.854e-12 F/m: dentine, assumed. */
  private static final double WALL_PERMITTIVITY = 60 * 8.854e-12;

  /** Heights of the thin patches as shares of the wetted height, and their share of the wall. */
  private static final double[] PATCH = {0.25, 0.7};

  /** A lateral canal leaves at this height, m, with this resistance to the tissue, Ω. */
  private static final double SIDE_HEIGHT = 2.2e-3;

  private static final double SIDE_OHMS = 250e3;

  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final double fluidResistivity;
  private final double chamberDepth;
  private final double leakSiemens;
  private final double overflowSiemens;
  private final double bodyOhms;
  private final double highShare;
  private final double corner;
  private final double exponent;
  private final double strayFarads;
  private final double[] hertz;
  private final double[] surfaceMagnitude;

  // a complex number under construction
  private double x;
  private double y;

  /**
   * The tooth of a scene by this network.
   *
   * @param section values of the section {@code canal}
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file
   * @param fluid values of the section {@code fluid}
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of the measuring cable, F
   */
  public LumpedCircuit(
      ParameterValues section,
      Canal canal,
      Bore bore,
      Instrument file,
      ParameterValues fluid,
      double[] hertz,
      double strayFarads) {
    super(hertz.length);
    this.canal = canal;
    this.bore = bore;
    this.file = file;
    this.hertz = hertz.clone();
    this.strayFarads = strayFarads;
    fluidResistivity = 1 / FluidSection.siemensPerMetre(fluid);
    chamberDepth = fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-6;
    leakSiemens = 1.0 / fluid.get(FluidSection.LEAK);
    overflowSiemens = 1.0 / fluid.get(FluidSection.OVERFLOW);
    bodyOhms = section.get(CanalSection.BODY);
    highShare = section.get(CanalSection.BODY_HIGH_SHARE) * 1e-3;
    corner = section.get(CanalSection.BODY_CORNER);
    exponent = section.get(CanalSection.BODY_EXPONENT) * 1e-3;
    surfaceMagnitude = new double[hertz.length];
    for (int i = 0; i < hertz.length; i++) {
      // equal magnitude at 1 kHz, another slope
      surfaceMagnitude[i] =
          file.interfaceMagnitude()
              * StrictMath.pow(2 * Math.PI * 1000, EXPONENT_SHIFT)
              * StrictMath.pow(2 * Math.PI * hertz[i], file.interfaceExponent() - EXPONENT_SHIFT);
    }
  }

  @Override
  public void solve(double remaining, double level) {
    boolean inFluid = remaining <= level;
    double wetTop = Math.min(level, canal.length());
    double tip = Math.max(remaining, 0);
    double protrusion = Math.max(0, -remaining);
    double lower = column(0, 0.5 * tip);
    double upper = column(0.5 * tip, tip);
    double wetLength = Math.max(0, wetTop - tip) + protrusion;
    double active = Math.min(wetLength, ACTIVE_LENGTH);
    double area =
        Math.PI * file.tipRadius() * file.tipRadius()
            + Math.PI * (file.tipRadius() + file.radius(active)) * active;
    double wall = 2 * Math.PI / StrictMath.log1p(canal.wall() / bore.radius(0.5 * wetTop));
    double wallLength = wetTop / 3;
    double access =
        canal.tissueResistivity()
            / (4 * canal.foramenRadius())
            * (canal.foramenRadius() / (canal.foramenRadius() + protrusion));
    double side = tip > SIDE_HEIGHT ? 1 / SIDE_OHMS : 0;
    for (int i = 0; i < hertz.length; i++) {
      double w = 2 * Math.PI * hertz[i];
      if (!inFluid) {
        x = 0;
        y = 0;
      } else {
        double wallRe = wall * wallLength / canal.wallResistivity();
        double wallIm = w * WALL_PERMITTIVITY * wall * wallLength;
        foot(hertz[i], access);
        x += lower;
        invert();
        x += PATCH[0] * wallRe + side;
        y += PATCH[0] * wallIm;
        invert();
        x += upper;
        invert();
        x += PATCH[1] * wallRe;
        y += PATCH[1] * wallIm;
        invert();
        addSurface(i, area);
        invert();
        // fluid beside the file reaches the wall along its whole length
        x += wallRe * Math.max(0, wetTop - tip) / Math.max(wetTop, 1e-6);
        addLeak(level - canal.length(), w);
      }
      y += w * strayFarads;
      invert();
      re[i] = x;
      im[i] = y;
    }
  }

  /** Body and lip clip: two elements in series of other exponents. */
  private void foot(double hz, double access) {
    double high = bodyOhms * highShare;
    Cole slow = Cole.of(0.6 * bodyOhms, 0.5 * high, 0.6 * corner, exponent - 0.08, hz);
    Cole fast = Cole.of(0.4 * bodyOhms, 0.5 * high, 1.9 * corner, Math.min(1, exponent + 0.1), hz);
    x = access + slow.ohmsRe() + fast.ohmsRe();
    y = slow.ohmsIm() + fast.ohmsIm();
  }

  /** Adds the impedance of the metal surface: a constant-phase element beside a resistor. */
  private void addSurface(int i, double area) {
    double phase = (file.interfaceExponent() - EXPONENT_SHIFT) * Math.PI / 2;
    double size = surfaceMagnitude[i] * area;
    double g = size * StrictMath.cos(phase) + area / CHARGE_TRANSFER;
    double b = size * StrictMath.sin(phase);
    double scale = 1 / (g * g + b * b);
    x += g * scale;
    y -= b * scale;
  }

  /** Adds the admittance of the chamber: half of it through a film that is partly a capacitor. */
  private void addLeak(double depth, double w) {
    if (!(depth > 0)) {
      return;
    }
    boolean full = Surroundings.full(depth, chamberDepth);
    double wet = chamberDepth == 0 ? 1 : Math.min(1, depth / chamberDepth);
    double siemens = leakSiemens * StrictMath.sqrt(wet) + (full ? overflowSiemens : 0);
    // a film of time constant 1/(2π·2 kHz) blocks half of it at low frequency
    double share = w / (w + 2 * Math.PI * 2000);
    x += siemens * (0.5 + 0.5 * share);
    y += siemens * 0.5 * share * (1 - share);
  }

  /** Fluid between two heights, by its mean radius in eight slices. */
  private double column(double from, double to) {
    double ohms = 0;
    double slice = (to - from) / 8;
    for (int i = 0; i < 8; i++) {
      double r = bore.radius(from + (i + 0.5) * slice);
      ohms += fluidResistivity * slice / (Math.PI * r * r);
    }
    return ohms;
  }

  private void invert() {
    double scale = x * x + y * y;
    x = x / scale;
    y = -y / scale;
  }
}
