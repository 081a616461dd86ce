package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
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
 * that it is judged by, with half as many hidden units as the core has. Unlike the Cramér–Rao bound
 * it is not linearised and does not take the canal as nearly known. It bounds from the other side:
 * so much at least is possible on that network, and an estimate that must do on an unknown network
 * can hardly expect more.
 */
public final class Ceiling {
  /** Seed of the canals to learn from; one more is that of the canals to judge by. */
  public static final long SEED = 880_001;

  private static final int[] HIDDEN = {128, 64};
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

  /** What the regression goes by. */
  enum Features {
    /** The features of the core. */
    READINGS,
    /** Those and the way of the file, which no hand tells. */
    MEASURED_FEED;

    private int inputs() {
      return this == READINGS ? DepthEstimate.INPUTS : MeasuredFeed.INPUTS;
    }
  }

  /**
   * How well the distance is found, on one network and in one fluid.
   *
   * @param features what the regression goes by
   * @param kind network of the canals
   * @param fill fluid
   * @param n readings judged
   * @param rmsMm root mean square error, mm
   * @param within share of the readings within 0.5 mm, 0 to 1
   */
  record Row(Features features, String kind, Fill fill, int n, double rmsMm, double within) {
    String text() {
      return String.format(
          Locale.ROOT,
          "  %-13s  %-7s %-9s %6d readings, rms %.3f mm, within 0.5 mm %.1f %%%n",
          words(features),
          kind,
          words(fill),
          n,
          rmsMm,
          100 * within);
    }

    private static String words(Enum<?> value) {
      return value.name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }
  }

  /**
   * Works it out; many minutes.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder();
    out.append("Simulated. Single readings within ")
        .append(NEAR_MM)
        .append(" mm of the foramen, by a regression that learned the very network; ")
        .append(canals)
        .append(" canals of seed ")
        .append(SEED)
        .append(".\n");
    for (Row row : rows()) {
      out.append(row.text());
    }
    return out.toString();
  }

  List<Row> rows() {
    List<Row> rows = new ArrayList<>();
    for (Features features : Features.values()) {
      for (String kind : new String[] {"tooth", "lumped"}) {
        DepthNetwork network = learn(features, kind);
        for (Fill fill : new Fill[] {Fill.HALF_WET, Fill.BRIMFUL, Fill.FLOODED}) {
          Examples judged =
              Training.gather(
                  new Population(SEED + 1),
                  canals / JUDGED,
                  features.inputs(),
                  (from, i, found) -> readings(features, from, i, fill, kind, found));
          rows.add(judge(features, kind, fill, network, judged));
        }
      }
    }
    return rows;
  }

  private DepthNetwork learn(Features features, String kind) {
    Examples learned =
        Training.gather(
            new Population(SEED),
            canals,
            features.inputs(),
            (from, i, found) -> readings(features, from, i, Training.fill(i), kind, found));
    progress.accept(learned.count() + " examples, " + kind + ", " + Row.words(features));
    int[] sizes = {features.inputs(), HIDDEN[0], HIDDEN[1], 2 * DepthEstimate.TARGETS};
    return new DepthNetwork(
        sizes,
        DepthNetwork.NOTHING,
        Fit.fit(
            learned.inputs(),
            learned.targets(),
            sizes,
            DepthNetwork.NOTHING,
            ROUNDS,
            RandomStream.of(SEED, "ceiling " + kind),
            progress));
  }

  private static void readings(
      Features features, Population from, long i, Fill fill, String kind, Examples found)
      throws SettingsException {
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    all.put("canal", Map.of("kind", kind));
    Scene scene = from.member(i, fill, all);
    RandomStream random = RandomStream.of(scene.seed(), "ceiling");
    TrainingApproach approach = new TrainingApproach(scene, random);
    if (features == Features.READINGS) {
      DepthEstimate estimate = Training.blank(scene);
      Training.watch(approach, estimate, random, found, estimate::features);
    } else {
      MeasuredFeed.watch(approach, scene, random, found);
    }
  }

  private static Row judge(
      Features features, String kind, Fill fill, DepthNetwork network, Examples judged) {
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
    return new Row(features, kind, fill, n, StrictMath.sqrt(squares / n), (double) within / n);
  }
}
