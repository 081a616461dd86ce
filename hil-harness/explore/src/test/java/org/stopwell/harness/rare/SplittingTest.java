package org.stopwell.harness.rare;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.function.IntFunction;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.random.RandomStream;

/**
 * A sum of six uniform numbers has a tail in closed form (Irwin and Hall): P(sum &lt; x) = x⁶/720
 * for x from 0 to 1. Its numbers are on tapes as those of a trial are.
 */
class SplittingTest {
  private static final double UNIT = 1e6;

  record Toy(Map<String, double[]> tapes, int depth) {}

  private static final class Sum implements Splitting.World<Toy> {
    @Override
    public Toy fresh(RandomStream random) {
      return toy(new Recording(Map.of(), random));
    }

    @Override
    public Toy neighbour(Toy of, double step, RandomStream random) {
      return toy(new Recording(Recording.near(of.tapes(), step, random), random));
    }

    @Override
    public int depth(Toy sample) {
      return sample.depth();
    }

    private static Toy toy(Recording recording) {
      RandomStream numbers = RandomStream.of(0, "toy", recording);
      double sum = IntStream.range(0, 6).mapToDouble(i -> numbers.nextDouble()).sum();
      return new Toy(recording.tapes(), (int) Math.ceil(sum * UNIT));
    }
  }

  private static final Splitting.Workers HERE =
      new Splitting.Workers() {
        @Override
        public <T> List<T> each(int count, IntFunction<T> work) {
          return IntStream.range(0, count).mapToObj(work).toList();
        }
      };

  private static Splitting<Toy> splitting(int samples, int steps, long seed) {
    return new Splitting<>(new Sum(), new Splitting.Choice(samples, 0.25, steps, 20, seed), HERE);
  }

  private static int event(double probability) {
    return (int) Math.floor(Math.pow(720 * probability, 1 / 6.0) * UNIT);
  }

  private static double[] runs(int count, double probability, long seed) {
    Splitting<Toy> splitting = splitting(100, 3, seed);
    List<Splitting.Level> levels = splitting.levels(event(probability));
    return IntStream.range(0, count)
        .mapToDouble(r -> splitting.run(r, levels).probability())
        .toArray();
  }

  @ParameterizedTest
  @ValueSource(doubles = {1e-3, 1e-4, 1e-5, 1e-7})
  void the_mean_of_the_runs_is_the_closed_form(double probability) {
    double[] runs = runs(200, probability, 1);
    double mean = Arrays.stream(runs).average().orElseThrow();
    double variance =
        Arrays.stream(runs).map(p -> (p - mean) * (p - mean)).sum() / (runs.length - 1);
    double error = Math.sqrt(variance / runs.length);

    assertEquals(probability, mean, 4 * error, "standard error " + error);
    assertTrue(error < 0.1 * probability, "standard error " + error);
  }

  /** Where counting reaches, it agrees. */
  @Test
  void plain_counting_gives_the_same_share() {
    Sum world = new Sum();
    int event = event(1e-3);
    int n = 200_000;
    RandomStream random = RandomStream.of(5, "counting");
    int hits = 0;
    for (int i = 0; i < n; i++) {
      hits += world.fresh(random).depth() <= event ? 1 : 0;
    }
    double counted = hits / (double) n;
    double split = Arrays.stream(runs(100, 1e-3, 2)).average().orElseThrow();

    assertEquals(counted, split, 4 * Math.sqrt(counted / n) + 0.1 * counted);
  }

  /** Intervals of ten runs each; 95 % of 60 is 57, with a standard deviation of 1.7. */
  @ParameterizedTest
  @ValueSource(doubles = {1e-4, 1e-6})
  void the_interval_of_ten_runs_holds_the_truth_as_often_as_it_says(double probability) {
    int held = 0;
    for (int repeat = 0; repeat < 60; repeat++) {
      Estimate estimate = Estimate.of(runs(10, probability, 100 + repeat));
      held += estimate.low() <= probability && probability <= estimate.high() ? 1 : 0;
    }
    assertTrue(held >= 52, held + " of 60 intervals hold the truth");
  }

  @Test
  void the_result_does_not_depend_on_who_does_the_work() {
    Splitting.Workers backwards =
        new Splitting.Workers() {
          @Override
          public <T> List<T> each(int count, IntFunction<T> work) {
            List<T> results = new ArrayList<>(HERE.each(count, i -> work.apply(count - 1 - i)));
            Collections.reverse(results);
            return results;
          }
        };
    Splitting.Choice choice = new Splitting.Choice(60, 0.25, 3, 20, 9);
    Splitting<Toy> one = new Splitting<>(new Sum(), choice, HERE);
    Splitting<Toy> other = new Splitting<>(new Sum(), choice, backwards);
    List<Splitting.Level> levels = one.levels(event(1e-5));

    assertEquals(levels, other.levels(event(1e-5)));
    assertEquals(one.run(3, levels).probability(), other.run(3, levels).probability());
  }

  @Test
  void a_search_for_what_cannot_happen_ends_short_of_it() {
    List<Splitting.Level> levels = splitting(50, 2, 4).levels(-1);

    assertTrue(levels.get(levels.size() - 1).depth() > -1);
  }

  @Test
  void an_event_that_happens_often_is_counted_in_one_level() {
    Splitting<Toy> splitting = splitting(100, 2, 4);

    List<Splitting.Level> levels = splitting.levels((int) (3 * UNIT));

    assertEquals(1, levels.size());
    assertEquals(0.5, splitting.run(0, levels).probability(), 0.2);
  }

  @Test
  void a_run_that_finds_nothing_leaves_an_interval_from_zero() {
    Estimate estimate = Estimate.of(new double[] {0, 1e-6, 2e-6});

    assertEquals(1e-6, estimate.probability(), 1e-12);
    assertEquals(0, estimate.low());
    assertTrue(estimate.high() > 2e-6);
  }
}
