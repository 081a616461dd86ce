package org.stopwell.harness.assess;

import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.sense.DepthNetwork;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * Learns the weights of the depth estimate from a population of its own. Canals of this seed are
 * for learning alone and never judged.
 */
public final class Training {
  /** Seed of the population to learn from. */
  public static final long SEED = 770_001;

  /** How many canals there are to learn from. */
  public static final int CANALS = 9_000;

  /** Four frequencies, Hz. */
  static final int[] HERTZ = {300, 1500, 7000, 20_000};

  /** The frequencies as values that replace those of a population. */
  static final Map<String, Map<String, String>> FREQUENCIES =
      Map.of(
          "front_end",
          Map.of(
              "frequency_1_hz", "300",
              "frequency_2_hz", "1500",
              "frequency_3_hz", "7000",
              "frequency_4_hz", "20000"));

  private static final int ROUNDS = 14;
  private static final double DEEP_MM = 3.6;
  private static final double SHARE = 0.012;

  /** Samples from one estimate to the next, as in the core. */
  private static final int EVERY = 4;

  private static final double STANDOFF_MM = 0.5;

  private final Population population = new Population(SEED);
  private final int canals;
  private final Consumer<String> progress;

  /**
   * A training.
   *
   * @param canals how many canals to learn from
   * @param progress told what is being done
   */
  public Training(int canals, Consumer<String> progress) {
    this.canals = canals;
    this.progress = progress;
  }

  /**
   * Weights of the network of a single approach.
   *
   * @return weights
   */
  public double[] alone() {
    Examples examples = gather(DepthEstimate.INPUTS, this::single);
    progress.accept(examples.count() + " examples of single approaches");
    return Fit.fit(
        examples.inputs(),
        examples.targets(),
        DepthEstimate.sizes(false),
        ROUNDS,
        RandomStream.of(SEED, "fit alone"));
  }

  /**
   * Weights of the network that also knows an approach of before.
   *
   * @param alone weights of the other network
   * @return weights
   */
  public double[] learned(double[] alone) {
    Examples examples = gather(DepthEstimate.LEARNED_INPUTS, (i, found) -> pair(i, alone, found));
    progress.accept(examples.count() + " examples with a record");
    return Fit.fit(
        examples.inputs(),
        examples.targets(),
        DepthEstimate.sizes(true),
        ROUNDS,
        RandomStream.of(SEED, "fit learned"));
  }

  /** What one canal gives to learn. */
  private interface Lesson {
    void give(int canal, Examples found) throws SettingsException;
  }

  private Examples gather(int width, Lesson lesson) {
    Examples all = new Examples(width);
    IntStream.range(0, canals)
        .parallel()
        .mapToObj(
            i -> {
              Examples found = new Examples(width);
              try {
                lesson.give(i, found);
              } catch (SettingsException e) {
                throw new IllegalStateException("canal " + i + ": " + e.getMessage(), e);
              }
              return found;
            })
        .forEachOrdered(all::addAll);
    return all;
  }

  private void single(int i, Examples found) throws SettingsException {
    Scene scene = population.member(i, fill(i), FREQUENCIES);
    RandomStream random = RandomStream.of(scene.seed(), "training");
    watch(new TrainingApproach(scene, random), blank(scene), random, found, new double[0]);
  }

  private void pair(int i, double[] alone, Examples found) throws SettingsException {
    Scene before = population.member(i, Fill.HALF_WET, FREQUENCIES);
    RandomStream random = RandomStream.of(before.seed(), "training pair");
    DepthEstimate estimate =
        new DepthEstimate(
            TrainingApproach.size(before),
            TrainingApproach.taperPercent(before),
            alone,
            new double[DepthNetwork.weightCount(DepthEstimate.sizes(true))]);
    ControllerInput in = new ControllerInput();
    if (walkToStandoff(new TrainingApproach(before, random), estimate, in)) {
      Scene after = SecondVisit.of(population, i, fill(3L * i + 1), FREQUENCIES, random);
      double[] record = estimate.recordValues();
      watch(new TrainingApproach(after, random), blank(after), random, found, record);
    }
  }

  private static void watch(
      TrainingApproach approach,
      DepthEstimate estimate,
      RandomStream random,
      Examples found,
      double[] record) {
    ControllerInput in = new ControllerInput();
    while (approach.next(in)) {
      if (estimate.add(in) && random.nextDouble() < density(approach.remaining())) {
        estimate.update(false);
        found.add(approach, estimate.features(), record);
      }
    }
  }

  /** Share of the samples at a distance that become examples. */
  private static double density(double remaining) {
    if (remaining > DEEP_MM) {
      return 0.3 * SHARE;
    }
    return remaining < 1.6 ? 1.5 * SHARE : 0.7 * SHARE;
  }

  /** Goes down to where the estimate says that the standoff is, and records the canal there. */
  static boolean walkToStandoff(
      TrainingApproach approach, DepthEstimate estimate, ControllerInput in) {
    int wet = 0;
    while (approach.next(in)) {
      if (estimate.add(in) && ++wet % EVERY == 0) {
        estimate.update(false);
        if (estimate.remainingMm() < STANDOFF_MM) {
          estimate.record();
          return true;
        }
      }
    }
    return false;
  }

  static DepthEstimate blank(Scene scene) {
    return new DepthEstimate(
        TrainingApproach.size(scene),
        TrainingApproach.taperPercent(scene),
        new double[DepthNetwork.weightCount(DepthEstimate.sizes(false))],
        new double[DepthNetwork.weightCount(DepthEstimate.sizes(true))]);
  }

  private static Fill fill(long i) {
    return switch ((int) (i % 4)) {
      case 0, 2 -> Fill.HALF_WET;
      case 1 -> Fill.BRIMFUL;
      default -> Fill.FLOODED;
    };
  }
}
