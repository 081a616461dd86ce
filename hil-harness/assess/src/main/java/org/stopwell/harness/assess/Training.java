package org.stopwell.harness.assess;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * Trains the weights of the depth estimate on a population of its own. Canals of this seed are used
 * for training only, never for an assessment.
 */
public final class Training {
  /** Seed of the training population. */
  public static final long SEED = 770_001;

  /** Number of training canals. */
  public static final int CANALS = 240_000;

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

  private static final int ROUNDS = 12;

  /** Above this distance fewer samples become examples, mm. */
  private static final double DEEP_MM = 3.6;

  /** Base share of the samples that become examples. */
  private static final double SHARE = 0.006;

  /** Number of samples between two estimates, as in the core. */
  private static final int EVERY = 4;

  private static final double STANDOFF_MM = 0.5;

  /** Every second record is taken earlier by up to this, as after an early stop, mm. */
  private static final double EARLY_MM = 0.3;

  /** One record in this many is of another canal, for every tooth model and fluid. */
  private static final int FOREIGN = 5;

  /** Index offset of other canals; even, so that the tooth model is the same. */
  private static final long OTHERS = 1_000_000;

  /** One canal is visited twice for this many that are visited once. */
  private static final int ONCE = 2;

  /** One canal is held out for this many training canals. */
  private static final int HELD_OUT = 8;

  /** The standard error is scaled on readings nearer than this, mm. */
  private static final double NEAR_MM = 1.6;

  /** 95 % of a normal distribution lies within this many standard deviations. */
  private static final double NORMAL_95 = 1.96;

  /** What the population draws. */
  private static final DepthWeights.Validity VALIDITY =
      new DepthWeights.Validity(
          List.of(HERTZ[0], HERTZ[1], HERTZ[2], HERTZ[3]),
          List.of(10, 20),
          List.of(200, 400),
          List.of("half-wet", "brimful", "flooded"));

  /** Widths of the layers of the network of a single approach. */
  private static final int[] SIZES = {DepthWeights.INPUTS, 256, 128, 2 * DepthWeights.TARGETS};

  /** Widths of the layers of the network that also has a record. */
  private static final int[] RECORDED_SIZES = {
    DepthWeights.RECORDED_INPUTS, 128, 64, 2 * DepthWeights.TARGETS
  };

  /** Examples that show the range of hidden values. */
  private static final int RANGE_EXAMPLES = 20_000;

  private final int canals;
  private final Consumer<String> progress;

  /**
   * A training.
   *
   * @param canals number of training canals
   * @param progress receives a line for each step
   */
  public Training(int canals, Consumer<String> progress) {
    this.canals = canals;
    this.progress = progress;
  }

  /**
   * Trains both networks.
   *
   * @param build version of this software
   * @return weights as they ship
   */
  public DepthWeights weights(String build) {
    DepthNetwork alone = alone();
    return new DepthWeights(
        new DepthWeights.Origin(
            "virtual canals, every second one by a random network of its own",
            build,
            SEED,
            canals,
            List.of(),
            "95 of 100 readings near the foramen, by a tooth model left out of training"),
        VALIDITY,
        alone,
        Optional.of(learned(alone)),
        DepthBound.NORMAL);
  }

  /**
   * Trains the network of a single approach.
   *
   * @return the network in whole numbers
   */
  public DepthNetwork alone() {
    return train(
        "alone",
        SIZES,
        FloatNetwork.NOTHING,
        canals,
        held -> (from, i, found) -> single(from, i, held, found));
  }

  /**
   * Trains the network that also has the record of an earlier approach.
   *
   * @param alone the network of a single approach
   * @return the network in whole numbers
   */
  public DepthNetwork learned(DepthNetwork alone) {
    return train(
        "learned",
        RECORDED_SIZES,
        DepthEstimate.CORRECTED,
        canals / ONCE,
        held -> (from, i, found) -> pair(from, i, alone, held, found));
  }

  private DepthNetwork train(
      String name, int[] sizes, int corrected, int visited, Function<Boolean, Lesson> lesson) {
    Examples examples = gather(new Population(SEED), visited, sizes[0], lesson.apply(false));
    progress.accept(examples.count() + " examples, " + name);
    RandomStream random = RandomStream.of(SEED, "fit " + name);
    double[] weights =
        Fit.fit(examples.inputs(), examples.targets(), sizes, corrected, ROUNDS, random, progress);
    Examples held =
        gather(new Population(SEED + 1), visited / HELD_OUT, sizes[0], lesson.apply(true));
    float[] inputs = examples.inputs();
    return Quantiser.quantise(
        sizes,
        honest(weights, sizes, corrected, held),
        Arrays.copyOf(inputs, Math.min(inputs.length, RANGE_EXAMPLES * sizes[0])));
  }

  /**
   * Scales the standard error of the distance up until 95 % of the held-out errors are within 1.96
   * of it. The held-out readings are near the foramen and by the other tooth model of the
   * assessment.
   */
  private double[] honest(double[] weights, int[] sizes, int corrected, Examples held) {
    FloatNetwork network = new FloatNetwork(sizes, corrected, weights);
    float[] inputs = held.inputs();
    float[] targets = held.targets();
    double[] misses = new double[held.count()];
    int n = 0;
    for (int k = 0; k < held.count(); k++) {
      double remaining = targets[k * DepthEstimate.TARGETS + DepthEstimate.REMAINING];
      if (!(remaining < NEAR_MM)) {
        continue;
      }
      for (int i = 0; i < held.width; i++) {
        network.inputs()[i] = inputs[k * held.width + i];
      }
      network.run();
      double miss = network.outputs()[DepthEstimate.REMAINING] - remaining;
      double log = network.outputs()[DepthEstimate.TARGETS + DepthEstimate.REMAINING];
      misses[n++] = Math.abs(miss) * StrictMath.exp(-log);
    }
    Arrays.sort(misses, 0, n);
    double grow = Math.max(1, misses[(int) (0.95 * n)] / NORMAL_95);
    progress.accept(n + " readings held out; standard error multiplied by " + grow);
    double[] honest = weights.clone();
    honest[honest.length - DepthEstimate.TARGETS + DepthEstimate.REMAINING] += StrictMath.log(grow);
    return honest;
  }

  private static Map<String, Map<String, String>> overrides(boolean held) {
    return held
        ? Map.of("front_end", FREQUENCIES.get("front_end"), "canal", Map.of("kind", "lumped"))
        : FREQUENCIES;
  }

  /** Adds the examples of one canal. */
  private interface Lesson {
    void give(Population from, int canal, Examples found) throws SettingsException;
  }

  private static Examples gather(Population from, int canals, int width, Lesson lesson) {
    Examples all = new Examples(width);
    IntStream.range(0, canals)
        .parallel()
        .mapToObj(
            i -> {
              Examples found = new Examples(width);
              try {
                lesson.give(from, i, found);
              } catch (SettingsException e) {
                throw new IllegalStateException("canal " + i + ": " + e.getMessage(), e);
              }
              return found;
            })
        .forEachOrdered(all::addAll);
    return all;
  }

  private void single(Population from, int i, boolean held, Examples found)
      throws SettingsException {
    Scene scene = from.member(i, fill(i / 2), overrides(held));
    RandomStream random = RandomStream.of(scene.seed(), "training");
    DepthEstimate estimate = blank(scene);
    watch(
        new TrainingApproach(scene, random, tooth(held, i, scene)),
        estimate,
        random,
        found,
        estimate::features);
  }

  private void pair(Population from, int i, DepthNetwork alone, boolean held, Examples found)
      throws SettingsException {
    // so that the estimate learns to recognise the record of another canal
    long recorded = i / 2 % FOREIGN == FOREIGN - 1 ? i + OTHERS : i;
    Scene before = from.member(recorded, Fill.HALF_WET, overrides(held));
    RandomStream random = RandomStream.of(before.seed(), "training pair");
    DepthEstimate estimate = blank(before, alone);
    ControllerInput in = new ControllerInput();
    double place = STANDOFF_MM + EARLY_MM * Math.max(0, random.nextBetween(-1, 1));
    if (walkTo(place, new TrainingApproach(before, random, tooth(held, i, before)), estimate, in)) {
      Scene after = SecondVisit.of(from, i, fill(i / 2 * 3L + 1), overrides(held), random);
      DepthEstimate again = blank(after, alone);
      double[] record = estimate.recordValues();
      System.arraycopy(record, 0, again.recordValues(), 0, record.length);
      watch(
          new TrainingApproach(after, random, tooth(held, i, after)),
          again,
          random,
          found,
          again::recordedInputs);
    }
  }

  /**
   * A training tooth: every second one by the tooth model of the bench, the others with a random
   * network each. Held-out teeth are by the other tooth model of the assessment.
   */
  private static Tooth tooth(boolean held, long i, Scene scene) {
    return held || i % 2 == 0
        ? Tooth.of(scene)
        : VariedTooth.of(scene, RandomStream.of(scene.seed(), "network"));
  }

  private static void watch(
      TrainingApproach approach,
      DepthEstimate estimate,
      RandomStream random,
      Examples found,
      Supplier<double[]> inputs) {
    ControllerInput in = new ControllerInput();
    while (approach.next(in)) {
      if (estimate.add(in) && random.nextDouble() < density(approach.remaining())) {
        estimate.update(false);
        found.add(approach, inputs.get());
      }
    }
  }

  /** Share of the samples at a distance that become examples. */
  private static double density(double remaining) {
    if (remaining > DEEP_MM) {
      return 0.4 * SHARE;
    }
    return remaining < 1.6 ? 1.5 * SHARE : 0.7 * SHARE;
  }

  /** Goes down to where the estimate falls below a distance, and records the canal there. */
  private static boolean walkTo(
      double distance, TrainingApproach approach, DepthEstimate estimate, ControllerInput in) {
    int wet = 0;
    while (approach.next(in)) {
      if (estimate.add(in) && ++wet % EVERY == 0) {
        estimate.update(false);
        if (estimate.remainingMm() < distance) {
          estimate.record();
          return true;
        }
      }
    }
    return false;
  }

  private static DepthEstimate blank(Scene scene) {
    return blank(scene, DepthNetwork.silent(DepthWeights.INPUTS, 2 * DepthWeights.TARGETS));
  }

  private static DepthEstimate blank(Scene scene, DepthNetwork alone) {
    return new DepthEstimate(
        TrainingApproach.size(scene),
        TrainingApproach.taperPercent(scene),
        DepthWeights.bare(alone, Optional.empty()));
  }

  static Fill fill(long i) {
    return switch ((int) (i % 4)) {
      case 0, 2 -> Fill.HALF_WET;
      case 1 -> Fill.BRIMFUL;
      default -> Fill.FLOODED;
    };
  }
}
