package org.stopwell.harness.assess;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.sense.DepthNetwork;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * How much of the distance a regression finds in the readings when it may learn the very network
 * that it is judged by, with more hidden units than the core has room for. Unlike the Cramér–Rao
 * bound it is not linearised and does not take the canal as nearly known. It bounds from the other
 * side: so much at least is possible on that network, and an estimate that must do on an unknown
 * network can hardly expect more.
 */
public final class Ceiling {
  /** Seed of the canals to learn from; one more is that of the canals to judge by. */
  public static final long SEED = 880_001;

  private static final int[] SIZES = {DepthEstimate.INPUTS, 128, 64, 2 * DepthEstimate.TARGETS};
  private static final int ROUNDS = 12;

  /** One canal is judged for so many that are learned from. */
  private static final int JUDGED = 4;

  /** Readings are judged from the foramen to here, mm. */
  private static final double NEAR_MM = 1;

  private final int canals;
  private final Consumer<String> progress;

  /**
   * A ceiling that has not been worked out.
   *
   * @param canals how many canals to learn from, per network
   * @param progress told what is being done
   */
  public Ceiling(int canals, Consumer<String> progress) {
    this.canals = canals;
    this.progress = progress;
  }

  /**
   * Works it out; some minutes.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out =
        new StringBuilder(
            "Simulated. Single readings within "
                + NEAR_MM
                + " mm of the foramen, by a regression that learned the very network; "
                + canals
                + " canals of seed "
                + SEED
                + ".\n");
    for (String kind : new String[] {"tooth", "lumped"}) {
      Examples learned =
          Training.gather(
              new Population(SEED),
              canals,
              DepthEstimate.INPUTS,
              (from, i, found) -> readings(from, i, Training.fill(i), kind, found));
      progress.accept(learned.count() + " examples, " + kind);
      double[] weights =
          Fit.fit(
              learned.inputs(),
              learned.targets(),
              SIZES,
              ROUNDS,
              RandomStream.of(SEED, "ceiling " + kind));
      for (Fill fill : new Fill[] {Fill.HALF_WET, Fill.BRIMFUL, Fill.FLOODED}) {
        Examples judged =
            Training.gather(
                new Population(SEED + 1),
                canals / JUDGED,
                DepthEstimate.INPUTS,
                (from, i, found) -> readings(from, i, fill, kind, found));
        out.append(line(kind, fill, new DepthNetwork(SIZES, weights), judged));
      }
    }
    return out.toString();
  }

  private static void readings(Population from, long i, Fill fill, String kind, Examples found)
      throws SettingsException {
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    all.put("canal", Map.of("kind", kind));
    Scene scene = from.member(i, fill, all);
    RandomStream random = RandomStream.of(scene.seed(), "ceiling");
    Training.watch(
        new TrainingApproach(scene, random), Training.blank(scene), random, found, new double[0]);
  }

  private static String line(String kind, Fill fill, DepthNetwork network, Examples judged) {
    float[] inputs = judged.inputs();
    float[] targets = judged.targets();
    int n = 0;
    int within = 0;
    double squares = 0;
    for (int k = 0; k < judged.count(); k++) {
      double remaining = targets[k * DepthEstimate.TARGETS + DepthEstimate.REMAINING];
      if (!(remaining >= 0 && remaining < NEAR_MM)) {
        continue;
      }
      for (int i = 0; i < judged.width; i++) {
        network.inputs()[i] = inputs[k * judged.width + i];
      }
      network.run();
      double miss = network.outputs()[DepthEstimate.REMAINING] - remaining;
      n++;
      squares += miss * miss;
      within += Math.abs(miss) <= 0.5 ? 1 : 0;
    }
    return String.format(
        Locale.ROOT,
        "  %-7s %-9s %6d readings, rms %.3f mm, within 0.5 mm %.1f %%%n",
        kind,
        fill.name().toLowerCase(Locale.ROOT).replace('_', '-'),
        n,
        StrictMath.sqrt(squares / n),
        100.0 * within / n);
  }
}
