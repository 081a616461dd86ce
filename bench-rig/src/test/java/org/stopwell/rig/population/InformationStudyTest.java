package org.stopwell.rig.population;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.population.InformationStudy.Sight;
import org.stopwell.rig.population.Population.Fill;

class InformationStudyTest {
  private static final int[] HERTZ = {100, 700, 7000, 20_000};
  private final InformationStudy study = new InformationStudy(new Population(9), HERTZ, 0.003);

  @Test
  void more_frequencies_and_more_readings_never_know_less() throws Exception {
    for (int i = 0; i < 10; i++) {
      Sight one = study.look(i, Fill.HALF_WET, 0.5, 1);
      Sight approach = study.look(i, Fill.HALF_WET, 0.5, 8);
      double single = study.boundMm(one, 1);
      double pair = study.boundMm(one, 1, 2);
      double all = study.boundMm(one, 0, 1, 2, 3);
      assertTrue(single <= 1, "the prior alone knows 1 mm");
      assertTrue(pair <= single + 1e-9, pair + " against " + single);
      assertTrue(all <= pair + 1e-9, all + " against " + pair);
      assertTrue(study.boundMm(approach, 1, 2) <= pair + 1e-9);
    }
  }

  @Test
  void more_noise_knows_less() throws Exception {
    InformationStudy noisy = new InformationStudy(new Population(9), HERTZ, 0.03);
    for (int i = 0; i < 10; i++) {
      assertTrue(
          noisy.boundMm(noisy.look(i, Fill.HALF_WET, 0.5, 1), 1, 2)
              > study.boundMm(study.look(i, Fill.HALF_WET, 0.5, 1), 1, 2));
    }
  }

  /** One reading cannot do it; the approach can do better: on average over members. */
  @Test
  void the_approach_is_worth_more_than_one_reading() throws Exception {
    double one = 0;
    double sixteen = 0;
    for (int i = 0; i < 20; i++) {
      one += study.boundMm(study.look(i, Fill.HALF_WET, 0.5, 1), 1, 2);
      sixteen += study.boundMm(study.look(i, Fill.HALF_WET, 0.5, 16), 1, 2);
    }
    assertTrue(sixteen < 0.6 * one, sixteen / 20 + " against " + one / 20);
  }

  /** The default pair of frequencies: what it costs against the best of a wide grid. */
  @Test
  void the_default_pair_is_within_a_seventh_of_the_best_pair() throws Exception {
    int[] grid = {100, 220, 700, 2200, 7000, 20_000};
    InformationStudy wide = new InformationStudy(new Population(2026), grid, 0.003);
    double[][] square = new double[grid.length][grid.length];
    for (int i = 0; i < 12; i++) {
      for (Fill fill : new Fill[] {Fill.HALF_WET, Fill.FLOODED}) {
        Sight sight = wide.look(i, fill, 0.5, 16);
        for (int low = 0; low < grid.length; low++) {
          for (int high = low + 1; high < grid.length; high++) {
            double bound = wide.boundMm(sight, low, high);
            square[low][high] += bound * bound;
          }
        }
      }
    }
    double best = Double.POSITIVE_INFINITY;
    for (int low = 0; low < grid.length; low++) {
      for (int high = low + 1; high < grid.length; high++) {
        best = Math.min(best, square[low][high]);
      }
    }
    double defaults = Math.sqrt(square[2][4] / best);
    assertTrue(defaults < 1.14, "700 and 7000 Hz cost " + defaults);
  }

  /** The four frequencies of the depth estimate against all fours of a grid that holds them. */
  @Test
  void the_four_of_the_estimate_are_within_a_twentieth_of_the_best_four() throws Exception {
    int[] grid = {100, 300, 700, 1500, 4500, 7000, 20_000};
    InformationStudy wide = new InformationStudy(new Population(2026), grid, 0.003);
    List<Sight> sights = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      for (Fill fill : new Fill[] {Fill.HALF_WET, Fill.FLOODED}) {
        sights.add(wide.look(i, fill, 0.5, 16));
      }
    }
    double best = Double.POSITIVE_INFINITY;
    for (int mask = 0; mask < 1 << grid.length; mask++) {
      if (Integer.bitCount(mask) == 4) {
        int chosen = mask;
        int[] four = IntStream.range(0, grid.length).filter(f -> (chosen >> f & 1) == 1).toArray();
        best = Math.min(best, meanSquare(wide, sights, four));
      }
    }
    double ours = Math.sqrt(meanSquare(wide, sights, 1, 3, 5, 6) / best);
    assertTrue(ours < 1.05, "300, 1500, 7000 and 20 000 Hz cost " + ours);
  }

  private static double meanSquare(InformationStudy study, List<Sight> sights, int... chosen) {
    return sights.stream()
        .mapToDouble(sight -> study.boundMm(sight, chosen))
        .map(bound -> bound * bound)
        .average()
        .orElseThrow();
  }
}
