package org.stopwell.harness.assess;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.sense.ApproachMemory;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.random.RandomStream;

/**
 * A file that goes down one canal without motor and controller: a sequence of samples, each with
 * the truth. The circuit is solved on a grid of depths and interpolated linearly between them.
 */
final class TrainingApproach {
  private static final double TOP_MM = 24;

  /**
   * Height above the orifice at which an approach begins, mm: above the fluid of a flooded chamber.
   */
  private static final double START_MM = 6;

  /** An approach ends at this distance to the foramen, mm; negative is past it. */
  private static final double BOTTOM_MM = -0.7;

  private static final double GRID_MM = 0.05;

  /** Least feed from sample to sample, mm: 0.3 mm/s. */
  private static final double LEAST_STEP_MM = 0.0015;

  /** Greatest feed from sample to sample, mm: 2 mm/s at 200 samples/s, 0.6 at 20. */
  private static final double MOST_STEP_MM = 0.03;

  /** Share of the approaches in which a leak begins on the way; assumed. */
  private static final double LATE_LEAK_SHARE = 0.15;

  /** Least and greatest resistance of that leak, ohm; assumed, as those of a wet chamber. */
  private static final double LATE_LEAK_LEAST_OHM = 1_000;

  private static final double LATE_LEAK_MOST_OHM = 30_000;

  /** It begins where the tip is nearer than this, mm. */
  private static final double LATE_LEAK_MM = 6;

  /** Greatest share of it that is a capacitor; assumed. */
  private static final double LATE_LEAK_CAPACITY = 0.5;

  /** Above this height the steps are coarse, mm. */
  private static final double FINE_MM = 4.5;

  /** How many steps a coarse step is. */
  private static final double COARSE = 4;

  /** A greater distance is learned as this one, mm. */
  private static final double FAR_MM = 4;

  private final double[][] ohms;
  private final double[] leakShare;
  private final double column;
  private final double beyond;
  private final double noise;
  private final double gain;
  private final RandomStream random;
  private final double step;
  private final double stroke;
  private final double wave;
  private final double start;
  private final double lateFrom;
  private final double[] lateRe = new double[ControllerInput.MAX_FREQUENCIES];
  private final double[] lateIm = new double[ControllerInput.MAX_FREQUENCIES];
  private boolean leaks;
  private double fed;
  private double remaining;

  /** Where the readings that make up the smoothed one were taken, in the mean. */
  private double settled;

  /**
   * An approach.
   *
   * @param scene canal, fluid, file and front end
   * @param random source of motion and noise
   * @param tooth the tooth of the scene
   */
  TrainingApproach(Scene scene, RandomStream random, Tooth tooth) {
    this.random = random;
    ParameterValues canal = scene.section("canal");
    ParameterValues fluid = scene.section("fluid");
    ParameterValues frontEnd = scene.section("front_end");
    double length = Canal.lengthMicrons(canal) * 1e-3;
    start = Math.min(TOP_MM, length + START_MM);
    int places = (int) ((start - BOTTOM_MM) / GRID_MM) + 1;
    ohms = new double[places][2 * ControllerInput.MAX_FREQUENCIES];
    leakShare = new double[places];
    double chamberDepth = fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-3;
    double wall = 1.0 / fluid.get(FluidSection.LEAK);
    double film = 1.0 / fluid.get(FluidSection.OVERFLOW);
    for (int k = 0; k < places; k++) {
      MeasuringCircuit circuit = tooth.at((start - k * GRID_MM) * 1e-3);
      for (int f = 0; f < ControllerInput.MAX_FREQUENCIES; f++) {
        ohms[k][2 * f] = circuit.ohmsRe(f);
        ohms[k][2 * f + 1] = circuit.ohmsIm(f);
      }
      double above = tooth.level() * 1e3 - length;
      double leak = above <= 0 ? 0 : wall * Math.min(1, above / chamberDepth);
      leak += Surroundings.full(above * 1e-3, chamberDepth * 1e-3) ? film : 0;
      leakShare[k] = Math.min(1, leak * StrictMath.hypot(ohms[k][0], ohms[k][1]));
    }
    Canal hollow = Canal.of(canal);
    double resistivity = 1 / FluidSection.siemensPerMetre(fluid);
    double narrow = hollow.constrictionRadius();
    column = StrictMath.log(resistivity * 1e-3 / (Math.PI * narrow * narrow) * 1e-3);
    beyond = StrictMath.log((hollow.spreadingOhms() + canal.get(CanalSection.BODY)) * 1e-3);
    noise = frontEnd.get(FrontEndSection.NOISE) * 1e-5;
    gain = 1 + frontEnd.get(FrontEndSection.GAIN_ERROR) * 1e-5;
    step = LEAST_STEP_MM * StrictMath.pow(MOST_STEP_MM / LEAST_STEP_MM, random.nextDouble());
    stroke = random.nextDouble() < 0.4 ? logBetween(0.15, 2) : 0;
    wave = random.nextBetween(0.3, 2);
    remaining = start;
    settled = start;
    boolean late = random.nextDouble() < LATE_LEAK_SHARE;
    lateFrom = late ? random.nextBetween(0.3, LATE_LEAK_MM) : Double.NEGATIVE_INFINITY;
    double siemens = 1 / logBetween(LATE_LEAK_LEAST_OHM, LATE_LEAK_MOST_OHM);
    double capacity = LATE_LEAK_CAPACITY * random.nextDouble();
    double corner = logBetween(500, 8000);
    for (int f = 0; f < ControllerInput.MAX_FREQUENCIES; f++) {
      double w = Training.HERTZ[f] / corner;
      // a resistor beside a resistor with a capacitor in series
      lateRe[f] = siemens * (1 - capacity + capacity * w * w / (1 + w * w));
      lateIm[f] = siemens * capacity * w / (1 + w * w);
    }
  }

  /** Size of the file, 1/100 mm. */
  static double size(Scene scene) {
    return scene.section("file").get(FileSection.SIZE);
  }

  /** Taper of the file, %. */
  static double taperPercent(Scene scene) {
    return scene.section("file").get(FileSection.TAPER) * 1e-2;
  }

  /**
   * Moves on by one sample.
   *
   * @param in receives the sample
   * @return false at the end
   */
  boolean next(ControllerInput in) {
    fed += remaining > FINE_MM ? COARSE * step : step;
    double turn = 2 * Math.PI * fed / wave;
    remaining = Math.min(start, start - fed + stroke * StrictMath.sin(turn));
    settled += ApproachMemory.SMOOTHING * (remaining - settled);
    double place = (start - remaining) / GRID_MM;
    int k = (int) place;
    if (k >= ohms.length - 1) {
      return false;
    }
    leaks |= remaining < lateFrom;
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = ControllerInput.MAX_FREQUENCIES;
    for (int f = 0; f < ControllerInput.MAX_FREQUENCIES; f++) {
      double re = between(k, 2 * f, place - k);
      double im = between(k, 2 * f + 1, place - k);
      if (leaks) {
        double size = re * re + im * im;
        double y = re / size + lateRe[f];
        double x = -im / size + lateIm[f];
        double admittance = y * y + x * x;
        re = y / admittance;
        im = -x / admittance;
      }
      double size = StrictMath.hypot(re, im) * noise;
      in.zRealMilliOhms[f] = milliOhms(re * gain + size * random.nextGaussian());
      in.zImagMilliOhms[f] = milliOhms(im * gain + size * random.nextGaussian());
    }
    return true;
  }

  private double logBetween(double low, double high) {
    return low * StrictMath.pow(high / low, random.nextDouble());
  }

  private double between(int k, int part, double share) {
    return ohms[k][part] + share * (ohms[k + 1][part] - ohms[k][part]);
  }

  private static int milliOhms(double ohms) {
    return (int) Math.rint(1000 * Math.max(-2e6, Math.min(2e6, ohms)));
  }

  /** Where the readings that make up the smoothed one were taken, in the mean, mm. */
  double settled() {
    return settled;
  }

  /** Feed from sample to sample now, mm. */
  double step() {
    return remaining > FINE_MM ? COARSE * step : step;
  }

  /** Height of the tip above the foramen, mm. */
  double remaining() {
    return remaining;
  }

  /**
   * Writes the truth at the last sample.
   *
   * @param out receives {@link DepthEstimate#TARGETS} numbers from an index on
   * @param at the index
   */
  void truth(float[] out, int at) {
    int k = Math.min(leakShare.length - 1, (int) ((start - remaining) / GRID_MM));
    out[at + DepthEstimate.REMAINING] = (float) Math.min(FAR_MM, settled);
    out[at + DepthEstimate.LEAK_SHARE] = (float) leakShare[k];
    out[at + DepthEstimate.COLUMN] = (float) column;
    out[at + DepthEstimate.BEYOND] = (float) beyond;
  }
}
