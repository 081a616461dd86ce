package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.core.settings.Parameter;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.canal.ToothCircuit;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FluidColumn;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.population.Spread;
import org.stopwell.rig.random.RandomStream;

/**
 * A canal of the population by the network of the training, seen by readings that are a known way
 * of the file apart, on one visit or on two. Unknown can be the place of the last reading,
 * everything that the population draws of canal, fluid and metal surface, the error of scale, and
 * of two visits the place of the other and how the fluid has changed. Known are the network, size
 * and taper of the file, the feed, how high the fluid stands and the size of the noise; hum, delay
 * and rounding are left out.
 *
 * <p>All but the place is counted in normal scores: numbers that a standard normal distribution
 * draws when the population draws the quantity.
 */
final class CanalSight implements HiddenCurve.Model {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final double MICRO = 1e-6;
  private static final double MILLI = 1e-3;
  private static final int HERTZ = Training.HERTZ.length;

  /** What the population draws that has to do with a reading. */
  private static final List<Spread> SPREADS = spreads();

  private static final int OTHER_PLACE = 1 + SPREADS.size();
  private static final int FLUID_CHANGE = 2 + SPREADS.size();
  private static final int ALL = 3 + SPREADS.size();

  /**
   * The readings of one visit.
   *
   * @param fill how full the canal is before the file goes in
   * @param readings how many, the last one deepest
   * @param apartMm way of the file from one to the next, mm
   * @param samples how many samples each is the mean of
   */
  record Pass(Fill fill, int readings, double apartMm, double samples) {}

  private final List<Pass> passes;
  private final int[] hidden;
  private final Instrument file;
  private final double noise;
  private final double strayFarads;
  private final double[] hertz = new double[HERTZ];
  private final double[] levels;

  /** Everything, as it really is. */
  private final double[] really = new double[ALL];

  /**
   * A canal, drawn from the population.
   *
   * @param scene where file and front end are taken from; its canal is not looked at
   * @param passes the visit whose place is asked for, and another one or none
   * @param hidden what is not known but the place, by the keys of the population
   * @param lowMm least place of a last reading, mm; all places between the two are alike
   * @param highMm greatest place
   * @param random where the canal comes from
   */
  CanalSight(
      Scene scene,
      List<Pass> passes,
      List<Parameter> hidden,
      double lowMm,
      double highMm,
      RandomStream random) {
    this.passes = List.copyOf(passes);
    file = Instrument.of(scene.section("file"));
    noise = scene.section("front_end").get(FrontEndSection.NOISE) * 1e-5;
    strayFarads = scene.section("front_end").get(FrontEndSection.STRAY) * 1e-12;
    levels = new double[passes.size()];
    really[0] = random.nextBetween(lowMm, highMm);
    for (int i = 1; i < ALL; i++) {
      really[i] = random.nextGaussian();
    }
    for (int v = 0; v < levels.length; v++) {
      levels[v] = random.nextDouble();
    }
    for (int f = 0; f < HERTZ; f++) {
      hertz[f] = Training.HERTZ[f];
    }
    List<Integer> indices = new ArrayList<>(List.of(0));
    hidden.forEach(parameter -> indices.add(1 + index(parameter)));
    if (passes.size() > 1) {
      indices.add(OTHER_PLACE);
      indices.add(FLUID_CHANGE);
    }
    this.hidden = indices.stream().mapToInt(Integer::intValue).toArray();
  }

  private static List<Spread> spreads() {
    List<Spread> all = new ArrayList<>();
    for (String section : List.of("canal", "fluid", "file")) {
      all.addAll(Population.spreads().getOrDefault(section, List.of()));
    }
    Population.spreads().getOrDefault("front_end", List.of()).stream()
        .filter(spread -> spread.parameter().equals(FrontEndSection.GAIN_ERROR))
        .forEach(all::add);
    return List.copyOf(all);
  }

  /** Everything that can be hidden but places and the change of the fluid. */
  static List<Parameter> everything() {
    return SPREADS.stream().map(Spread::parameter).toList();
  }

  private static int index(Parameter parameter) {
    for (int i = 0; i < SPREADS.size(); i++) {
      if (SPREADS.get(i).parameter().equals(parameter)) {
        return i;
      }
    }
    throw new IllegalArgumentException(parameter.key() + " is not drawn by the population");
  }

  /** The hidden quantities as they really are: the place in mm, then normal scores. */
  double[] truth() {
    double[] truth = new double[hidden.length];
    for (int i = 0; i < truth.length; i++) {
      truth[i] = really[hidden[i]];
    }
    return truth;
  }

  @Override
  public double[] see(double[] unknown) {
    double[] all = really.clone();
    for (int i = 0; i < hidden.length; i++) {
      all[hidden[i]] = unknown[i];
    }
    double[] seen = new double[passes.stream().mapToInt(pass -> 2 * HERTZ * pass.readings).sum()];
    int at = 0;
    for (int v = 0; v < passes.size(); v++) {
      at = see(all, v, seen, at);
    }
    return seen;
  }

  private int see(double[] all, int visit, double[] seen, int from) {
    Pass pass = passes.get(visit);
    Canal canal =
        new Canal(
            value(all, CanalSection.LENGTH) * MILLI,
            value(all, CanalSection.FORAMEN_DIAMETER) / 2 * MILLI,
            value(all, CanalSection.CONSTRICTION) * MILLI,
            value(all, CanalSection.CONSTRICTION_DIAMETER) / 2 * MILLI,
            value(all, CanalSection.TAPER) / 2,
            value(all, CanalSection.WALL) * MILLI,
            value(all, CanalSection.WALL_RESISTIVITY),
            value(all, CanalSection.TISSUE_RESISTIVITY));
    Instrument metal =
        file.withMetal(
            value(all, FileSection.SOLID_FRACTION),
            value(all, FileSection.INTERFACE) * 1e4 * MICRO,
            value(all, FileSection.INTERFACE_EXPONENT));
    double conductivity = value(all, FluidSection.CONDUCTIVITY);
    if (visit == 0 && passes.size() > 1) {
      double way = 2 * NORMAL.cumulativeProbability(all[FLUID_CHANGE]) - 1;
      conductivity *= 1 + SecondVisit.FLUID_CHANGE * way;
    }
    double chamber = value(all, FluidSection.CHAMBER_DEPTH) * MILLI;
    Surroundings around =
        new Surroundings(
            value(all, CanalSection.BODY),
            value(all, CanalSection.BODY_HIGH_SHARE),
            value(all, CanalSection.BODY_CORNER),
            value(all, CanalSection.BODY_EXPONENT),
            1 / conductivity,
            chamber,
            1 / value(all, FluidSection.LEAK),
            1 / value(all, FluidSection.OVERFLOW),
            0,
            1,
            0,
            0);
    Bore bore = new Bore(canal);
    FluidColumn fluid =
        new FluidColumn(
            canal,
            bore,
            metal,
            Population.level(pass.fill, canal.length(), chamber, levels[visit]),
            value(all, FluidSection.CHAMBER_AREA) * MICRO,
            chamber);
    ToothCircuit tooth = new ToothCircuit(around, canal, bore, metal, hertz, strayFarads, 1);
    double scale = StrictMath.log1p(value(all, FrontEndSection.GAIN_ERROR) / 100);
    double one = noise / StrictMath.sqrt(pass.samples);
    // the other visit is the length stage, which ends about half a millimetre short: assumed
    double last = visit == 0 ? all[0] : 0.5 + 0.2 * all[OTHER_PLACE];
    int at = from;
    for (int k = pass.readings - 1; k >= 0; k--) {
      double height = (last + k * pass.apartMm) * MILLI;
      fluid.follow(height);
      tooth.solve(height, fluid.level());
      for (int f = 0; f < HERTZ; f++) {
        double re = tooth.ohmsRe(f);
        double im = tooth.ohmsIm(f);
        seen[at++] = (scale + 0.5 * StrictMath.log(re * re + im * im)) / one;
        seen[at++] = StrictMath.atan2(im, re) / one;
      }
    }
    return at;
  }

  /** The value of a quantity, in the unit of its key. */
  private static double value(double[] all, Parameter parameter) {
    int i = index(parameter);
    Spread spread = SPREADS.get(i);
    double share = NORMAL.cumulativeProbability(all[1 + i]);
    double a = spread.a();
    double b = spread.b();
    return switch (spread.shape()) {
      case EVEN -> a + (b - a) * share;
      case LOG_EVEN -> a * StrictMath.pow(b / a, share);
      case NORMAL -> {
        double low = NORMAL.cumulativeProbability((spread.least() - a) / b);
        double high = NORMAL.cumulativeProbability((spread.greatest() - a) / b);
        yield a + b * NORMAL.inverseCumulativeProbability(low + (high - low) * share);
      }
    };
  }
}
