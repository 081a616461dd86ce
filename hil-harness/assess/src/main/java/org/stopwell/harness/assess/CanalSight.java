package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.sense.ApproachSensing;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.settings.Parameter;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.canal.ToothCircuit;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FluidColumn;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.population.Spread;
import org.stopwell.rig.random.RandomStream;

/**
 * A canal of the population, seen by readings of a file on its way down, on one visit or on two.
 * Unknown are the place of the last reading, all that the population draws of canal, fluid, metal
 * surface and error of scale and that has to do with a reading, the feed as far as {@link Feed}
 * says, and of two visits the place of the other and how the fluid has changed. Known are size and
 * taper of the file, that it only goes down, and the size of the noise; hum, delay and rounding are
 * left out.
 *
 * <p>The network is that of the bench and known, or one of those drawn by chance. Of the latter the
 * build is known ({@link NetworkScores}) and the rest unknown. Who is told more is right more
 * often, so what is given away does no harm to a bound.
 *
 * <p>All is counted in normal scores: numbers that a standard normal distribution draws when the
 * population draws the quantity.
 */
final class CanalSight implements TruthChain.Model {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final double MICRO = 1e-6;
  private static final double MILLI = 1e-3;
  private static final int HERTZ = Training.HERTZ.length;

  /** What the population draws that has to do with a reading. */
  private static final List<Spread> SPREADS = spreads();

  // the place comes first, then the spreads; of the visits two of each
  private static final int OTHER_PLACE = 1 + SPREADS.size();
  private static final int FLUID_CHANGE = OTHER_PLACE + 1;
  private static final int FEED = FLUID_CHANGE + 1;
  private static final int VISITS = 2;
  private static final int LEVEL = FEED + VISITS;
  private static final int ALL = LEVEL + VISITS;

  /** Fastest feed against the slowest, as in the training. */
  private static final double FEEDS =
      TrainingApproach.MOST_STEP_MM / TrainingApproach.LEAST_STEP_MM;

  /** How much higher readings are looked at to tell how they change with the height, mm. */
  private static final double LIFT_MM = 1e-4;

  /**
   * The readings of one visit.
   *
   * @param fill how full the canal is before the file goes in
   * @param readings how many, the last one deepest
   * @param apartMm way of the file from one to the next, mm
   * @param samples how many samples each is the mean of
   * @param feed what is known of the feed
   */
  record Pass(Fill fill, int readings, double apartMm, double samples, Feed feed) {}

  /** What is known of the feed. */
  enum Feed {
    /** All: every way is measured. */
    MEASURED,
    /** That it is the same all the way. */
    EVEN,
    /**
     * Nothing but its spread: beside a common factor every way from a reading to the next has one
     * of its own, of the same spread. The spread is that of the feeds from hand to hand, for want
     * of a measured one from moment to moment: assumed.
     */
    UNEVEN
  }

  /** Samples after which a smoothed reading of the core has come to rest: within 0.6 %. */
  private static final int WAITING = 40;

  private final Scene scene;
  private final List<Pass> passes;
  private final double lowMm;
  private final double highMm;
  private final Instrument file;
  private final double noise;
  private final double strayFarads;
  private final double[] hertz = new double[HERTZ];

  /** Where the unknowns stand among all scores. */
  private final int[] unknown;

  /** All scores, as they really are. */
  private final double[] really;

  /** Where the scores of the network begin; before them are those of the ways. */
  private final int network;

  /** The networks; null: that of the bench. */
  private final @Nullable NetworkScores varied;

  /**
   * A canal, drawn from the population.
   *
   * @param scene where file and front end are taken from; its canal is not looked at
   * @param passes the visit whose place is asked for, and another one or none
   * @param lowMm least place of a last reading, mm; all places between the two are alike
   * @param highMm greatest place
   * @param byChance whether the network is drawn by chance
   * @param random where the canal comes from
   */
  CanalSight(
      Scene scene,
      List<Pass> passes,
      double lowMm,
      double highMm,
      boolean byChance,
      RandomStream random) {
    this.scene = scene;
    this.passes = List.copyOf(passes);
    this.lowMm = lowMm;
    this.highMm = highMm;
    file = Instrument.of(scene.section("file"));
    noise = scene.section("front_end").get(FrontEndSection.NOISE) * 1e-5;
    strayFarads = scene.section("front_end").get(FrontEndSection.STRAY) * 1e-12;
    Arrays.setAll(hertz, f -> Training.HERTZ[f]);
    network = ALL + passes.stream().mapToInt(CanalSight::ways).sum();
    double[] scores = new double[network];
    Arrays.setAll(scores, i -> random.nextGaussian());
    varied = byChance ? new NetworkScores(random) : null;
    really =
        varied == null
            ? scores
            : DoubleStream.concat(Arrays.stream(scores), Arrays.stream(varied.drawn())).toArray();
    unknown = IntStream.range(0, really.length).filter(this::matters).toArray();
  }

  /** Scores of the ways between readings. */
  private static int ways(Pass pass) {
    return pass.feed == Feed.UNEVEN ? pass.readings - 1 : 0;
  }

  /** Whether a score can have to do with these readings. */
  private boolean matters(int score) {
    if (score >= network) {
      return varied == null || varied.matters(score - network);
    }
    if (score < OTHER_PLACE || score >= ALL) {
      return true;
    }
    if (score < FEED) {
      return passes.size() > 1;
    }
    int visit = (score - FEED) % VISITS;
    return visit < passes.size()
        && (score >= LEVEL
            ? passes.get(visit).fill != Fill.BRIMFUL
            : passes.get(visit).readings > 1 && passes.get(visit).feed != Feed.MEASURED);
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

  private static int index(Parameter parameter) {
    for (int i = 0; i < SPREADS.size(); i++) {
      if (SPREADS.get(i).parameter().equals(parameter)) {
        return i;
      }
    }
    throw new IllegalArgumentException(parameter.key() + " is not drawn by the population");
  }

  /** What is unknown, as it really is. */
  double[] truth() {
    double[] truth = new double[unknown.length];
    Arrays.setAll(truth, i -> really[unknown[i]]);
    return truth;
  }

  /**
   * The place that scores tell.
   *
   * @param scores what is unknown
   * @return height of the last reading above the foramen, mm
   */
  double placeMm(double[] scores) {
    return lowMm + (highMm - lowMm) * NORMAL.cumulativeProbability(scores[0]);
  }

  @Override
  public double[] see(double[] scores) {
    return see(all(scores), 0);
  }

  /**
   * What the shipped estimate tells of the place of the last reading, when the file waits at each.
   *
   * @param seen readings of a single visit, in units of their noise
   * @return mm; NaN where the tip touches no fluid
   */
  double told(double[] seen) {
    DepthEstimate estimate = Training.blank(scene, ApproachSensing.weights());
    ControllerInput in = new ControllerInput();
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = HERTZ;
    Pass pass = passes.get(0);
    double one = noise / StrictMath.sqrt(pass.samples);
    boolean wet = false;
    int at = 0;
    for (int k = 0; k < pass.readings; k++) {
      for (int f = 0; f < HERTZ; f++) {
        double milliOhms = 1000 * StrictMath.exp(seen[at++] * one);
        double phase = seen[at++] * one;
        in.zRealMilliOhms[f] = (int) Math.rint(milliOhms * StrictMath.cos(phase));
        in.zImagMilliOhms[f] = (int) Math.rint(milliOhms * StrictMath.sin(phase));
      }
      for (int i = 0; i < WAITING; i++) {
        wet = estimate.add(in);
      }
    }
    if (!wet) {
      return Double.NaN;
    }
    estimate.update(false);
    return estimate.remainingMm();
  }

  private double[] all(double[] scores) {
    double[] all = really.clone();
    for (int i = 0; i < unknown.length; i++) {
      all[unknown[i]] = scores[i];
    }
    return all;
  }

  /** Readings, all of them from so much higher up, mm. */
  private double[] see(double[] all, double higherMm) {
    double[] seen = new double[passes.stream().mapToInt(pass -> 2 * HERTZ * pass.readings).sum()];
    int at = 0;
    int way = ALL;
    for (int v = 0; v < passes.size(); v++) {
      at = see(all, v, way, higherMm, seen, at);
      way += ways(passes.get(v));
    }
    return seen;
  }

  /** A way moves all readings above it alike, so one look from higher up tells the ways. */
  @Override
  public double[][] slopes(double[] scores, double[] would) {
    double[] all = all(scores);
    double[] higher = network > ALL ? see(all, LIFT_MM) : would;
    double[][] slopes = new double[scores.length][];
    for (int p = 0; p < scores.length; p++) {
      slopes[p] =
          unknown[p] >= ALL && unknown[p] < network
              ? slopeOfWay(all, unknown[p], higher, would)
              : slope(scores, would, p);
    }
    return slopes;
  }

  private double[] slopeOfWay(double[] all, int way, double[] higher, double[] would) {
    double[] slope = new double[would.length];
    int visit = 0;
    int from = 0;
    int first = ALL;
    while (way >= first + ways(passes.get(visit))) {
      first += ways(passes.get(visit));
      from += 2 * HERTZ * passes.get(visit).readings;
      visit++;
    }
    // mm by score: the way grows with the power of FEEDS
    double growth =
        faster(all, visit)
            * passes.get(visit).apartMm
            * factor(all[way])
            * StrictMath.log(FEEDS)
            * NORMAL.density(all[way]);
    // readings begin with the highest
    int above = 2 * HERTZ * (passes.get(visit).readings - 1 - (way - first));
    for (int i = from; i < from + above; i++) {
      slope[i] = (higher[i] - would[i]) / LIFT_MM * growth;
    }
    return slope;
  }

  /** Feed against the middle one: every ratio alike within the spread of hands. */
  private static double factor(double score) {
    return StrictMath.pow(FEEDS, NORMAL.cumulativeProbability(score) - 0.5);
  }

  private double faster(double[] all, int visit) {
    return passes.get(visit).feed == Feed.MEASURED ? 1 : factor(all[FEED + visit]);
  }

  private int see(double[] all, int visit, int way, double higherMm, double[] seen, int from) {
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
      double change = 2 * NORMAL.cumulativeProbability(all[FLUID_CHANGE]) - 1;
      conductivity *= 1 + SecondVisit.FLUID_CHANGE * change;
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
            Population.level(
                pass.fill,
                canal.length(),
                chamber,
                NORMAL.cumulativeProbability(all[LEVEL + visit])),
            value(all, FluidSection.CHAMBER_AREA) * MICRO,
            chamber);
    MeasuringCircuit tooth =
        varied == null
            ? new ToothCircuit(around, canal, bore, metal, hertz, strayFarads, 1)
            : new VariedTooth(
                around,
                around.body() * around.bodyHighShare(),
                canal,
                bore,
                metal,
                fluid,
                varied.network(all, network));
    double scale = StrictMath.log1p(value(all, FrontEndSection.GAIN_ERROR) / 100);
    double one = noise / StrictMath.sqrt(pass.samples);
    // the other visit is the length stage, which has ended within half a millimetre of 0.5 mm
    double last = visit == 0 ? placeMm(all) : NORMAL.cumulativeProbability(all[OTHER_PLACE]);
    double[] heightsMm = new double[pass.readings];
    double faster = faster(all, visit);
    double ways = 0;
    for (int k = 0; k < pass.readings; k++) {
      heightsMm[k] = last + higherMm + ways * faster * pass.apartMm;
      boolean own = pass.feed == Feed.UNEVEN && k < pass.readings - 1;
      ways += own ? factor(all[way + k]) : 1;
    }
    int at = from;
    for (int k = pass.readings - 1; k >= 0; k--) {
      double height = heightsMm[k] * MILLI;
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
