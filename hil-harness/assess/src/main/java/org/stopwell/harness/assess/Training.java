package org.stopwell.harness.assess;

import static java.util.stream.Collectors.joining;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.stats.Conformal;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * Trains the depth estimate on canals of its own, in five steps. It gathers readings of every
 * family. For each family it fits a network to the others, and takes down its errors on that
 * family. It fits the network to all families; its standard errors follow the errors of both kinds.
 * On canals that were held out it then scales the bound, so that it holds 95 times in 100 where a
 * stop is decided, for families that were left out. Last, it measures how unlike the training a
 * reading may be.
 */
public final class Training {
  /** Seed of the training population; canals of it are never used for an assessment. */
  public static final long SEED = 770_001;

  /** Training canals of a family that costs little. */
  public static final int CANALS = 20_000;

  /** Four frequencies, Hz. */
  static final int[] HERTZ = {300, 1500, 7000, 20_000};

  /** The frequencies as scene values. */
  static final Map<String, Map<String, String>> FREQUENCIES =
      Map.of(
          "front_end",
          Map.of(
              "frequency_1_hz", "300",
              "frequency_2_hz", "1500",
              "frequency_3_hz", "7000",
              "frequency_4_hz", "20000"));

  /** Widths of the network of a single approach. */
  static final int[] ALONE = {DepthEstimate.INPUTS, 128, 64, 2 * DepthEstimate.TARGETS};

  /** Widths of the network that also has a record. */
  static final int[] LEARNED = {
    2 * DepthEstimate.INPUTS + 4 * DepthEstimate.TARGETS, 64, 32, 2 * DepthEstimate.TARGETS
  };

  /** What the population draws. */
  private static final DepthWeights.Validity VALIDITY =
      new DepthWeights.Validity(
          List.of(HERTZ[0], HERTZ[1], HERTZ[2], HERTZ[3]),
          List.of(10, 20),
          List.of(200, 400),
          List.of("half-wet", "brimful", "flooded"));

  private static final int ROUNDS = 14;

  /** The networks that leave a family out serve for their errors only. */
  private static final int FOREIGN_ROUNDS = 5;

  /** Number of samples between two estimates, as in the core. */
  private static final int EVERY = 4;

  private static final double STANDOFF_MM = 0.5;

  /** A stop is decided where the estimate falls below this, mm: a file runs on by about 0.05 mm. */
  private static final double DECIDE_MM = 0.55;

  /** Every second record is taken earlier by up to this, as after an early stop, mm. */
  private static final double EARLY_MM = 0.3;

  /** One record in this many is of another canal, for every family and fluid. */
  private static final int FOREIGN_RECORD = 5;

  /** Index offset of other canals; a multiple of four, so that the fluid is the same. */
  private static final long OTHERS = 1_000_000;

  /** One canal is held out for this many training canals. */
  private static final int HELD_OUT = 16;

  /** Distance of the seeds of two families. */
  private static final long SPREAD = 10;

  /** One canal is tried for this many training canals, where a family was left out. */
  private static final int LEFT_OUT = 8;

  /** Share of the decisions that the bound must hold. */
  private static final double COVERED = 0.95;

  /** A reading is unlike the training beyond what one in this many held-out decisions shows. */
  private static final int NOVEL = 1000;

  /** 95 % of a normal distribution, where a small training has no decision held out. */
  private static final double NORMAL_95 = 1.96;

  /** Room above that for canals not drawn yet; assumed. */
  private static final double NOVEL_MARGIN = 1.5;

  private final int canals;
  private final List<Family> families;
  private final Consumer<String> progress;

  /**
   * A training.
   *
   * @param canals number of training canals of a family that costs little
   * @param progress receives a line for each step
   */
  public Training(int canals, Consumer<String> progress) {
    this.canals = canals;
    this.progress = progress;
    families = List.of(Family.values());
  }

  /**
   * Trains both networks.
   *
   * @param build version of this software
   * @return weights as they ship
   */
  public DepthWeights weights(String build) {
    Examples examples = readings();
    Taught alone = alone(examples);
    DepthNetwork whole = alone.network().whole(examples);
    Examples pairs = pairs(alone.network());
    DepthNetwork recorded =
        fit(pairs, pairs.rows(), LEARNED, DepthEstimate.CORRECTED, ROUNDS, "with a record")
            .whole(pairs);
    return new DepthWeights(
        new DepthWeights.Origin(
            "simulated canals of the families "
                + families.stream().map(Family::word).collect(joining(", ")),
            build,
            SEED,
            families.stream().mapToInt(f -> f.canals(canals)).sum(),
            List.of(),
            "95 of 100 readings where a stop is decided, in a simulated canal of a family that was"
                + " left out"),
        VALIDITY,
        whole,
        Optional.of(recorded),
        alone.bound());
  }

  /** Trains the network of a single approach. */
  Taught alone(Examples examples) {
    List<FloatNetwork> strangers = new ArrayList<>();
    for (Family family : families) {
      FloatNetwork stranger =
          fit(
              examples,
              examples.rows(family, true),
              ALONE,
              FloatNetwork.NOTHING,
              FOREIGN_ROUNDS,
              family.word());
      examples.foreign(stranger, examples.rows(family, false));
      strangers.add(stranger);
    }
    int[] all = examples.rows();
    FloatNetwork network = fit(examples, all, ALONE, FloatNetwork.NOTHING, ROUNDS, "alone");
    return calibrated(families, network, strangers, Whitening.of(network, examples, all));
  }

  /**
   * What the estimate is worth on each family when it has not seen it: the whole training, without
   * that family, and the decisions on it.
   *
   * @return by family, the training of the others and its decisions on this one
   */
  Map<Family, List<ApproachDecision>> leaveOneOut() {
    Examples examples = readings();
    Map<Set<Family>, FloatNetwork> pairs = new HashMap<>();
    Map<Family, List<ApproachDecision>> found = new EnumMap<>(Family.class);
    for (Family left : families) {
      List<Family> others = families.stream().filter(f -> f != left).toList();
      List<FloatNetwork> strangers = new ArrayList<>();
      for (Family family : others) {
        // one network that knows neither of two families serves both
        FloatNetwork stranger =
            pairs.computeIfAbsent(
                EnumSet.of(left, family),
                pair ->
                    fit(
                        examples,
                        examples.rows(pair),
                        ALONE,
                        -1,
                        FOREIGN_ROUNDS,
                        "without " + pair));
        examples.foreign(stranger, examples.rows(family, false));
        strangers.add(stranger);
      }
      int[] rows = examples.rows(left, true);
      FloatNetwork network =
          fit(examples, rows, ALONE, FloatNetwork.NOTHING, ROUNDS, "without " + left);
      Taught taught = calibrated(others, network, strangers, Whitening.of(network, examples, rows));
      found.put(
          left,
          decisions(SEED + 3, left, network, network, taught.novelty(), canals / LEFT_OUT).stream()
              .map(d -> d.bounded(taught))
              .toList());
    }
    return found;
  }

  /** Readings of all families. */
  Examples readings() {
    Examples examples = new Examples(DepthEstimate.INPUTS, DepthEstimate.TARGETS);
    for (Family family : families) {
      gather(SEED, family, family.canals(canals), examples, Training::single);
      progress.accept(examples.count() + " readings, with those of family " + family.word());
    }
    return examples;
  }

  /** Readings of canals that have the record of an earlier approach. */
  private Examples pairs(FloatNetwork alone) {
    Examples examples = new Examples(LEARNED[0], DepthEstimate.TARGETS);
    for (Family family : families) {
      gather(
          SEED + 2,
          family,
          Math.max(1, family.canals(canals) / 2),
          examples,
          (from, i, of, found) -> pair(from, i, of, alone, found));
    }
    progress.accept(examples.count() + " readings with a record");
    return examples;
  }

  private FloatNetwork fit(
      Examples examples, int[] rows, int[] sizes, int corrected, int rounds, String name) {
    progress.accept("fit " + name + ": " + rows.length + " readings");
    RandomStream random = RandomStream.of(SEED, "fit " + name);
    return Fit.fit(
        examples, rows, sizes, corrected, rounds, random, line -> progress.accept("  " + line));
  }

  /**
   * Scales the bound on held-out canals. Each score is the error of the network that has not seen
   * the family, over the standard error that the network of all families states there: split
   * conformal prediction with normalised scores (Papadopoulos et al. 2008; Angelopoulos and Bates,
   * arXiv 2107.07511; both from memory), every family with the same weight.
   */
  private Taught calibrated(
      List<Family> known, FloatNetwork network, List<FloatNetwork> strangers, Whitening novelty) {
    double sum = 0;
    double[] novelties = new double[0];
    for (int f = 0; f < known.size(); f++) {
      Family family = known.get(f);
      List<ApproachDecision> decisions =
          decisions(SEED + 1, family, network, strangers.get(f), novelty, canals / HELD_OUT)
              .stream()
              .filter(ApproachDecision::decided)
              .toList();
      double[] scores =
          decisions.stream().mapToDouble(d -> Math.abs(d.error()) / d.standardError()).toArray();
      double quantile = quantile(scores, COVERED).orElse(NORMAL_95);
      double[] own = decisions.stream().mapToDouble(ApproachDecision::novelty).toArray();
      int before = novelties.length;
      novelties = Arrays.copyOf(novelties, before + own.length);
      System.arraycopy(own, 0, novelties, before, own.length);
      progress.accept(
          family.word()
              + ", left out: 95 % of "
              + scores.length
              + " decisions are within "
              + quantile
              + " standard errors");
      sum += quantile;
    }
    double factor = sum / known.size();
    double limit =
        NOVEL_MARGIN
            * quantile(novelties, 1 - 1.0 / NOVEL)
                .orElse(Arrays.stream(novelties).max().orElse(Double.POSITIVE_INFINITY));
    progress.accept("bound: " + factor + " standard errors; novelty limit " + limit);
    return new Taught(network, factor, novelty, limit);
  }

  /** Every value is a group of its own: the plain conformal quantile. */
  private static OptionalDouble quantile(double[] values, double share) {
    return Conformal.ofNewGroup(
        Arrays.stream(values).mapToObj(value -> new double[] {value}).toList(), share);
  }

  /** The readings at which stops would be decided, one approach per canal. */
  static List<ApproachDecision> decisions(
      long seed,
      Family family,
      FloatNetwork network,
      FloatNetwork decides,
      Whitening novelty,
      int cheapCanals) {
    Population population = new Population(seed + SPREAD * family.ordinal());
    return IntStream.range(0, family.canals(cheapCanals))
        .parallel()
        .mapToObj(
            i -> {
              try {
                return decision(population, i, family, network, decides, novelty);
              } catch (SettingsException e) {
                throw new IllegalStateException("canal " + i + ": " + e.getMessage(), e);
              }
            })
        .toList();
  }

  private static ApproachDecision decision(
      Population population,
      int i,
      Family family,
      FloatNetwork network,
      FloatNetwork decides,
      Whitening novelty)
      throws SettingsException {
    Scene scene = population.member(i, fill(i), family.trainingScene(i));
    RandomStream random = RandomStream.of(scene.seed(), "training");
    TrainingApproach approach = new TrainingApproach(scene, random, family.tooth(scene));
    TrainingFeatures features = new TrainingFeatures(scene);
    float[][] room = decides.room();
    ControllerInput in = new ControllerInput();
    int wet = 0;
    while (approach.next(in)) {
      if (!features.add(in) || ++wet % EVERY != 0 || approach.remaining() > 3) {
        continue;
      }
      float[] inputs = features.floats();
      double estimate = decides.run(inputs, 0, room)[DepthEstimate.REMAINING];
      if (estimate < DECIDE_MM) {
        float log = network.run(inputs, 0, network.room())[DepthEstimate.TARGETS];
        return new ApproachDecision(
            family,
            fill(i),
            true,
            approach.settled(),
            estimate - approach.settled(),
            StrictMath.exp(log),
            novelty.novelty(inputs, 0));
      }
    }
    return new ApproachDecision(family, fill(i), false, 0, 0, 0, 0);
  }

  /** Adds the examples of one canal. */
  private interface Lesson {
    void give(Population from, int canal, Family family, Examples found) throws SettingsException;
  }

  private static void gather(long seed, Family family, int canals, Examples all, Lesson lesson) {
    // a seed of its own, so that no family shares its canals with another
    Population from = new Population(seed + SPREAD * family.ordinal());
    IntStream.range(0, canals)
        .parallel()
        .mapToObj(
            i -> {
              Examples found = new Examples(all.width, all.truths);
              try {
                lesson.give(from, i, family, found);
              } catch (SettingsException e) {
                throw new IllegalStateException("canal " + i + ": " + e.getMessage(), e);
              }
              return found;
            })
        .forEachOrdered(all::addAll);
  }

  private static void single(Population from, int i, Family family, Examples found)
      throws SettingsException {
    Scene scene = from.member(i, fill(i), family.trainingScene(i));
    RandomStream random = RandomStream.of(scene.seed(), "training");
    TrainingFeatures features = new TrainingFeatures(scene);
    watch(
        new TrainingApproach(scene, random, family.tooth(scene)),
        features::add,
        random,
        family,
        found,
        features::doubles);
  }

  private void pair(Population from, int i, Family family, FloatNetwork alone, Examples found)
      throws SettingsException {
    // so that the estimate learns to recognise the record of another canal
    long recorded = i / 4 % FOREIGN_RECORD == FOREIGN_RECORD - 1 ? i + OTHERS : i;
    Scene before = from.member(recorded, Fill.HALF_WET, family.trainingScene(recorded));
    RandomStream random = RandomStream.of(before.seed(), "training pair");
    double place = STANDOFF_MM + EARLY_MM * Math.max(0, random.nextBetween(-1, 1));
    Optional<double[]> record =
        recordAt(
            place,
            new TrainingApproach(before, random, family.tooth(before)),
            new TrainingFeatures(before),
            alone);
    if (record.isEmpty()) {
      return;
    }
    Scene after = SecondVisit.of(from, i, fill(i), family.trainingScene(i), random);
    TrainingFeatures features = new TrainingFeatures(after);
    float[][] room = alone.room();
    double[] inputs = new double[LEARNED[0]];
    System.arraycopy(record.get(), 0, inputs, DepthEstimate.INPUTS, record.get().length);
    watch(
        new TrainingApproach(after, random, family.tooth(after)),
        features::add,
        random,
        family,
        found,
        () -> {
          System.arraycopy(features.doubles(), 0, inputs, 0, DepthEstimate.INPUTS);
          float[] out = alone.run(features.floats(), 0, room);
          for (int j = 0; j < out.length; j++) {
            inputs[inputs.length - out.length + j] = out[j];
          }
          return inputs;
        });
  }

  /** Goes down to where the estimate falls below a distance: inputs and outputs there. */
  private static Optional<double[]> recordAt(
      double distance, TrainingApproach approach, TrainingFeatures features, FloatNetwork alone) {
    ControllerInput in = new ControllerInput();
    float[][] room = alone.room();
    int wet = 0;
    while (approach.next(in)) {
      if (features.add(in) && ++wet % EVERY == 0 && approach.remaining() < 4) {
        float[] out = alone.run(features.floats(), 0, room);
        if (out[DepthEstimate.REMAINING] < distance) {
          double[] record = Arrays.copyOf(features.doubles(), DepthEstimate.INPUTS + out.length);
          for (int j = 0; j < out.length; j++) {
            record[DepthEstimate.INPUTS + j] = out[j];
          }
          return Optional.of(record);
        }
      }
    }
    return Optional.empty();
  }

  /** Takes in a sample. */
  private interface Sampler {
    boolean add(ControllerInput in);
  }

  private static void watch(
      TrainingApproach approach,
      Sampler sampler,
      RandomStream random,
      Family family,
      Examples found,
      Supplier<double[]> inputs) {
    ControllerInput in = new ControllerInput();
    int readings = family.readings();
    while (approach.next(in)) {
      if (sampler.add(in)
          && random.nextDouble() < readings * density(approach.remaining()) * approach.step()) {
        found.add(inputs.get(), family);
        approach.truth(found.targets(), found.lastTarget());
      }
    }
  }

  /** Readings that become examples, per mm of feed: more where a stop is decided. */
  private static double density(double remaining) {
    if (remaining > 3.6) {
      return remaining > 8 ? 0.3 : 1;
    }
    return remaining < 1.6 ? 8 : 4;
  }

  static Fill fill(long i) {
    return switch ((int) (i % 4)) {
      case 0, 2 -> Fill.HALF_WET;
      case 1 -> Fill.BRIMFUL;
      default -> Fill.FLOODED;
    };
  }
}
