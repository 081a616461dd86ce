package org.stopwell.rig.physics.canal;

import org.stopwell.core.number.Elementary;
import org.stopwell.rig.physics.file.Instrument;

/**
 * A tooth by another network: it tests what was trained on the first network.
 *
 * <p>It shares canal, file and fluid with {@link ToothCircuit} and nothing of its network: three
 * lumps in place of a ladder; one lumped metal surface of another exponent with a charge-transfer
 * resistance beside it; dentine that is a leaky capacitor, thin at two patches; a lateral canal
 * that the file shuts when it passes; a body path of two elements in series of other exponents; and
 * a leak whose film is partly a capacitor. All its constants are assumed.
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

  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final Surroundings around;
  private final Dentine dentine;
  private final double strayFarads;
  private final double[] hertz;
  private final double[] surfaceMagnitude;

  // a complex number under construction
  private double x;
  private double y;

  /**
   * The tooth of a scene by this network.
   *
   * @param around what surrounds and fills the canal
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of the measuring cable, F
   */
  public LumpedCircuit(
      Surroundings around,
      Canal canal,
      Bore bore,
      Instrument file,
      double[] hertz,
      double strayFarads) {
    super(hertz.length);
    this.around = around;
    this.canal = canal;
    dentine = new Dentine(canal);
    this.bore = bore;
    this.file = file;
    this.hertz = hertz.clone();
    this.strayFarads = strayFarads;
    surfaceMagnitude = new double[hertz.length];
    for (int i = 0; i < hertz.length; i++) {
      // equal magnitude at 1 kHz, another slope
      surfaceMagnitude[i] =
          file.interfaceMagnitude()
              * Elementary.pow(2 * Math.PI * 1000, EXPONENT_SHIFT)
              * Elementary.pow(2 * Math.PI * hertz[i], file.interfaceExponent() - EXPONENT_SHIFT);
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
    double area = file.tipDisc() + Math.PI * (file.tipRadius() + file.radius(active)) * active;
    double wall = 2 * Math.PI / Elementary.log1p(canal.wall() / bore.radius(0.5 * wetTop));
    double wallLength = wetTop / 3;
    double access =
        canal.tissueResistivity()
            / (4 * canal.foramenRadius())
            * (canal.foramenRadius() / (canal.foramenRadius() + protrusion));
    double lateral = around.lateralCanal();
    double side = lateral > 0 && lateral < Math.min(tip, wetTop) ? around.side() : 0;
    double lowPatch = PATCH[0] * wallLength * patch(PATCH[0] * wetTop);
    double highPatch = PATCH[1] * wallLength * patch(PATCH[1] * wetTop);
    double beside =
        wallLength
            * patch(0.5 * (tip + wetTop))
            * Math.max(0, wetTop - tip)
            / Math.max(wetTop, 1e-6);
    for (int i = 0; i < hertz.length; i++) {
      double w = 2 * Math.PI * hertz[i];
      if (!inFluid) {
        x = 0;
        y = 0;
      } else {
        double wallIm = w * WALL_PERMITTIVITY * wall * wallLength;
        x = access + lower;
        y = 0;
        invert();
        x += lowPatch + side;
        y += PATCH[0] * wallIm;
        invert();
        x += upper;
        invert();
        x += highPatch;
        y += PATCH[1] * wallIm;
        invert();
        addSurface(i, area);
        invert();
        // fluid beside the file reaches the wall along its whole length
        x += beside;
        invert();
        addBody(hertz[i]);
        invert();
        addLeak(level - canal.length(), w);
      }
      y += w * strayFarads;
      invert();
      re[i] = x;
      im[i] = y;
    }
  }

  /** Conductance of the wall per length at a height. */
  private double patch(double z) {
    return dentine.perLength(bore.radius(z), z);
  }

  /** Adds the impedance of the body: two elements in series of other exponents. */
  private void addBody(double hz) {
    double body = around.body();
    double high = 0.5 * body * around.bodyHighShare();
    double corner = around.bodyCorner();
    double exponent = around.bodyExponent();
    Cole slow = Cole.of(0.6 * body, high, 0.6 * corner, exponent - 0.08, hz);
    Cole fast = Cole.of(0.4 * body, high, 1.9 * corner, Math.min(1, exponent + 0.1), hz);
    x += slow.ohmsRe() + fast.ohmsRe();
    y += slow.ohmsIm() + fast.ohmsIm();
  }

  /** Adds the impedance of the metal surface: a constant-phase element beside a resistor. */
  private void addSurface(int i, double area) {
    double phase = (file.interfaceExponent() - EXPONENT_SHIFT) * Math.PI / 2;
    double size = surfaceMagnitude[i] * area;
    double g = size * Elementary.cos(phase) + area / CHARGE_TRANSFER;
    double b = size * Elementary.sin(phase);
    double scale = 1 / (g * g + b * b);
    x += g * scale;
    y -= b * scale;
  }

  /** Adds the admittance of the chamber: half of it through a film that is partly a capacitor. */
  private void addLeak(double depth, double w) {
    if (!(depth > 0)) {
      return;
    }
    double deep = around.chamberDepth();
    double wet = deep == 0 ? 1 : Math.min(1, depth / deep);
    double film = Surroundings.full(depth, deep) ? around.overflow() : 0;
    double siemens = around.leak() * StrictMath.sqrt(wet) + film;
    // a film of time constant 1/(2π·2 kHz) blocks half of it at low frequency
    double share = w / (w + 2 * Math.PI * 2000);
    x += siemens * (0.5 + 0.5 * share);
    y += siemens * 0.5 * share * (1 - share);
    x += around.throughCrown(depth);
  }

  /** Fluid between two heights, by its mean radius in eight slices. */
  private double column(double from, double to) {
    double ohms = 0;
    double slice = (to - from) / 8;
    for (int i = 0; i < 8; i++) {
      double z = from + (i + 0.5) * slice;
      double r = bore.radius(z);
      ohms += around.resistivity(z) * slice / (Math.PI * r * r);
    }
    return ohms;
  }

  private void invert() {
    double scale = x * x + y * y;
    x = x / scale;
    y = -y / scale;
  }
}
