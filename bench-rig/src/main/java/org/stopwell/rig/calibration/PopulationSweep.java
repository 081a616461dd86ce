package org.stopwell.rig.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.ToLongFunction;
import java.util.stream.Stream;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.Specimen;

/**
 * Sweeps a file through many half-wet canals of the population, without noise: the median curve
 * from ratio to distance, and how far the true distance of a canal lies from it.
 */
public final class PopulationSweep {
  /**
   * Distance between two places in one canal, µm; assumed: a fifth of the resolution of a locator.
   */
  private static final int STEP_MICRONS = 20;

  /** Share of canals that the bound covers. */
  private static final double COVERED = 0.95;

  private final List<List<Sample>> canals;

  /** One place in one canal. */
  private record Sample(int remainingMicrons, long ratio, long lowMilliOhms) {}

  /**
   * One point of the curve.
   *
   * @param ratio median magnitude at the highest over that at the lowest frequency, millionths
   * @param remainingMicrons distance from tip to foramen, µm
   * @param lowMilliOhms median magnitude at the lowest frequency, mΩ
   * @param boundMicrons with the tip at this distance, 95 of 100 canals are read within this error,
   *     µm: the order statistic that holds for one more canal of the population; 0 with fewer than
   *     19 canals
   */
  public record Point(long ratio, int remainingMicrons, long lowMilliOhms, int boundMicrons) {}

  /**
   * Sweeps canals.
   *
   * @param seed seed of the population; no plan draws the same canals
   * @param count number of canals, at least 1
   * @param stated values of the scene that replace what is drawn, by key, by section
   * @param deepestMicrons deepest place of the curve, µm
   * @param shallowestMicrons shallowest place of the curve, µm
   * @throws SettingsException when a stated value is wrong
   */
  public PopulationSweep(
      long seed,
      int count,
      Map<String, Map<String, String>> stated,
      int deepestMicrons,
      int shallowestMicrons)
      throws SettingsException {
    Population population = new Population(RandomStream.of(seed, "canals of a curve").nextLong());
    List<Scene> scenes = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      scenes.add(population.member(i, Fill.HALF_WET, stated));
    }
    canals =
        scenes.parallelStream()
            .map(scene -> samples(scene, deepestMicrons, shallowestMicrons))
            .toList();
  }

  /**
   * The curve. It leaves out the places at which the median does not rise above that of every
   * deeper one.
   *
   * @param deepestMicrons deepest place, µm
   * @param shallowestMicrons shallowest place, µm
   * @param stepMicrons distance from point to point, µm, positive
   * @return the points, deepest first
   * @throws IllegalArgumentException when the median ratio does not rise from the deepest place on
   */
  public List<Point> curve(int deepestMicrons, int shallowestMicrons, int stepMicrons) {
    List<Point> points = new ArrayList<>();
    long last = Long.MIN_VALUE;
    for (int at = deepestMicrons; at <= shallowestMicrons; at += stepMicrons) {
      long ratio = median(at, Sample::ratio);
      if (ratio <= last) {
        continue;
      }
      points.add(new Point(ratio, at, median(at, Sample::lowMilliOhms), 0));
      last = ratio;
    }
    if (points.size() < 2) {
      throw new IllegalArgumentException(
          "the median ratio does not rise from " + deepestMicrons + " µm on");
    }
    return points.stream()
        .map(
            p ->
                new Point(
                    p.ratio, p.remainingMicrons, p.lowMilliOhms, bound(points, p.remainingMicrons)))
        .toList();
  }

  /** Places where the tip is in the fluid, deepest first. */
  private static List<Sample> samples(Scene scene, int deepest, int shallowest) {
    Specimen specimen = new Specimen(scene);
    int highest =
        (int)
                FrontEndSection.FREQUENCIES.stream()
                    .filter(f -> scene.section("front_end").get(f) != 0)
                    .count()
            - 1;
    List<Sample> samples = new ArrayList<>();
    // From above, as a file goes in: the fluid that it displaces rises.
    for (int at = shallowest; at >= deepest; at -= STEP_MICRONS) {
      MeasuringCircuit circuit = specimen.at(at * 1e-6);
      if (specimen.level() * 1e6 >= at) {
        double low = Elementary.hypot(circuit.ohmsRe(0), circuit.ohmsIm(0));
        double high = Elementary.hypot(circuit.ohmsRe(highest), circuit.ohmsIm(highest));
        samples.add(0, new Sample(at, Math.round(1e6 * high / low), Math.round(1e3 * low)));
      }
    }
    return samples;
  }

  private long median(int at, ToLongFunction<Sample> value) {
    long[] sorted = there(at).mapToLong(value).sorted().toArray();
    return sorted.length == 0
        ? Long.MIN_VALUE
        : (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 2;
  }

  /** The canals at one place of the tip, without those in which it is out of the fluid there. */
  private Stream<Sample> there(int at) {
    return canals.stream()
        .flatMap(
            canal ->
                canal.stream()
                    .filter(s -> 2 * Math.abs(s.remainingMicrons - at) <= STEP_MICRONS)
                    .limit(1));
  }

  /** The conformal quantile of the errors that the curve makes in the canals at one place. */
  private int bound(List<Point> curve, int at) {
    long[] sorted =
        there(at).mapToLong(s -> Math.abs(read(curve, s.ratio) - at)).sorted().toArray();
    int rank = (int) Math.ceil((sorted.length + 1) * COVERED);
    return rank > sorted.length ? 0 : (int) sorted[rank - 1];
  }

  /** What the curve reads from a ratio: straight lines between its points, its ends beyond them. */
  private static long read(List<Point> curve, long ratio) {
    for (int i = 1; i < curve.size(); i++) {
      Point low = curve.get(i - 1);
      Point high = curve.get(i);
      if (ratio <= high.ratio) {
        double share = Math.max(0, (double) (ratio - low.ratio) / (high.ratio - low.ratio));
        return Math.round(
            low.remainingMicrons + share * (high.remainingMicrons - low.remainingMicrons));
      }
    }
    return curve.get(curve.size() - 1).remainingMicrons;
  }
}
