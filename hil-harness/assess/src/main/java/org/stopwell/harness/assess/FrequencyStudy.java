package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.population.InformationStudy;
import org.stopwell.rig.population.InformationStudy.Sight;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

/**
 * Which frequencies tell a depth best: every choice of one to four out of fifteen, by the least
 * standard error that they leave ({@link InformationStudy}), over half-wet and flooded canals of
 * the population.
 */
public final class FrequencyStudy {
  /** Seed of the canals. */
  public static final long SEED = 2026;

  private static final int[] GRID = {
    100, 150, 220, 300, 450, 700, 1000, 1500, 2200, 3000, 4500, 7000, 10_000, 15_000, 20_000
  };

  private static final double NOISE = 0.003;
  private static final double[] PLACES_MM = {0.25, 0.5, 0.75, 1};
  private static final int MOST = 4;

  /** What the product measures: of a scene, and of the depth estimate. */
  private static final List<List<Integer>> OURS =
      List.of(List.of(700, 7000), List.of(300, 1500, 7000, 20_000));

  /**
   * A choice and what it leaves open.
   *
   * @param hertz the frequencies, Hz
   * @param rmsMm root mean square of the least standard errors, mm
   */
  record Choice(List<Integer> hertz, double rmsMm) {
    private String text() {
      return hertz.stream().map(String::valueOf).collect(Collectors.joining(", ")) + " Hz";
    }
  }

  private final int canals;

  /**
   * A study that has not been made.
   *
   * @param canals how many canals
   */
  public FrequencyStudy(int canals) {
    this.canals = canals;
  }

  /**
   * Makes it; some seconds.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder();
    out.append("Simulated. Least standard error of a depth (Bayesian Cramer-Rao, linearised), ")
        .append(canals)
        .append(" canals of seed ")
        .append(SEED)
        .append(", half-wet and flooded, 0.25 to 1 mm short, 0.3 % noise.\n");
    for (int readings : new int[] {1, 16}) {
      List<Sight> sights = sights(readings);
      out.append(readings == 1 ? "One reading\n" : "Sixteen readings 0.25 mm apart\n");
      for (int size = 1; size <= MOST; size++) {
        out.append(lines(ranked(sights, size)));
      }
      double all = rms(sights, IntStream.range(0, GRID.length).toArray());
      out.append(String.format(Locale.ROOT, "  all fifteen: %.3f mm%n", all));
    }
    return out.toString();
  }

  private static String lines(List<Choice> ranked) {
    Choice best = ranked.get(0);
    Choice worst = ranked.get(ranked.size() - 1);
    StringBuilder out = new StringBuilder();
    out.append(
        String.format(
            Locale.ROOT, "  best of %d: %s, %.3f mm%n", ranked.size(), best.text(), best.rmsMm));
    for (int i = 0; i < ranked.size(); i++) {
      Choice choice = ranked.get(i);
      if (choice.equals(worst) || OURS.contains(choice.hertz)) {
        out.append(
            String.format(
                Locale.ROOT,
                "    %s: %s, %.3f mm, %.1f %% above the best, rank %d%n",
                choice.equals(worst) ? "worst" : "ours",
                choice.text(),
                choice.rmsMm,
                100 * (choice.rmsMm / best.rmsMm - 1),
                i + 1));
      }
    }
    return out.toString();
  }

  List<Choice> ranked(List<Sight> sights, int size) {
    return IntStream.range(0, 1 << GRID.length)
        .filter(mask -> Integer.bitCount(mask) == size)
        .parallel()
        .mapToObj(
            mask -> {
              int[] chosen =
                  IntStream.range(0, GRID.length).filter(f -> ((mask >> f) & 1) == 1).toArray();
              List<Integer> hertz = Arrays.stream(chosen).map(f -> GRID[f]).boxed().toList();
              return new Choice(hertz, rms(sights, chosen));
            })
        .sorted(Comparator.comparingDouble(Choice::rmsMm))
        .toList();
  }

  List<Sight> sights(int readings) {
    InformationStudy study = study();
    List<Sight> sights = new ArrayList<>();
    try {
      for (int i = 0; i < canals; i++) {
        for (Fill fill : new Fill[] {Fill.HALF_WET, Fill.FLOODED}) {
          sights.add(study.look(i, fill, PLACES_MM[i % PLACES_MM.length], readings));
        }
      }
    } catch (SettingsException e) {
      throw new IllegalStateException(e.getMessage(), e);
    }
    return sights;
  }

  private static double rms(List<Sight> sights, int... chosen) {
    InformationStudy study = study();
    return StrictMath.sqrt(
        sights.stream()
            .mapToDouble(sight -> study.boundMm(sight, chosen))
            .map(bound -> bound * bound)
            .average()
            .orElseThrow());
  }

  private static InformationStudy study() {
    return new InformationStudy(new Population(SEED), GRID, NOISE);
  }
}
