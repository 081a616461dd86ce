package org.stopwell.harness.rare;

import java.util.ArrayList;
import java.util.List;
import java.util.function.IntFunction;
import org.stopwell.rig.random.RandomStream;

/**
 * Probability of a rare event by subset simulation.
 *
 * <p>The event {@code depth <= last level} is the last of nested sets, each rarer than the one
 * before it. P is the product of the shares of each set in the one before: P = ∏ p_j (Au and Beck,
 * Probabilistic Engineering Mechanics 2001;16:263). A pilot run chooses the levels and the sizes of
 * the steps. The runs that count keep them: survivors of a level are drawn again to the full
 * number, and each walks some Metropolis steps inside of its set. With levels fixed beforehand the
 * product is an unbiased estimate (Del Moral, Feynman-Kac Formulae, Springer 2004, from memory).
 *
 * @param <S> a sample
 */
final class Splitting<S> {
  /** Share of proposals to accept: 0.44, Papaioannou and others 2015. */
  private static final double ACCEPTED = 0.44;

  /** Rounds in which the pilot adapts the step of a level, and proposals of a round; assumed. */
  private static final int ROUNDS = 6;

  private static final double FIRST_STEP = 0.8;
  private static final double LEAST_STEP = 0.02;

  private final World<S> world;
  private final Choice choice;
  private final Workers workers;

  /**
   * How much work is done.
   *
   * @param samples samples of a level
   * @param share share of the samples that a level of the pilot keeps
   * @param steps Metropolis steps of a sample at each level
   * @param mostLevels levels after which the pilot gives up
   * @param seed seed of everything random
   */
  record Choice(int samples, double share, int steps, int mostLevels, long seed) {}

  /**
   * What is sampled.
   *
   * @param <S> a sample
   */
  interface World<S> {
    /** A sample of the distribution. */
    S fresh(RandomStream random);

    /** A neighbour, by a proposal that leaves the distribution as it is; steps of 0 to 1. */
    S neighbour(S of, double step, RandomStream random);

    /** How near a sample is to the event; less is nearer. */
    int depth(S sample);
  }

  /** Does independent pieces of work, in any order. */
  interface Workers {
    /** The results by number. */
    <T> List<T> each(int count, IntFunction<T> work);
  }

  /**
   * One level.
   *
   * @param depth greatest depth inside of it
   * @param step size of the steps inside of it
   */
  record Level(int depth, double step) {}

  /**
   * One run over fixed levels.
   *
   * @param shares share of each level's set in the set before; fewer than levels when the run ended
   *     before the event
   * @param reached samples inside of the event
   * @param <S> a sample
   */
  record Run<S>(List<Double> shares, List<S> reached) {
    /** The estimate. */
    double probability() {
      return shares.stream().reduce(1.0, (a, b) -> a * b);
    }
  }

  Splitting(World<S> world, Choice choice, Workers workers) {
    this.world = world;
    this.choice = choice;
    this.workers = workers;
  }

  /**
   * Levels on the way to the event, found by a run that does not count.
   *
   * @param event depth of the last level
   * @return falling levels; the last of them is the event, unless the walk stops short of it
   */
  List<Level> levels(int event) {
    List<Level> levels = new ArrayList<>();
    List<S> samples = fresh("pilot");
    int before = Integer.MAX_VALUE;
    double step = FIRST_STEP;
    while (levels.size() < choice.mostLevels()) {
      int[] depths = samples.stream().mapToInt(world::depth).sorted().toArray();
      int depth = depths[(int) Math.ceil(choice.share() * depths.length) - 1];
      if (depth <= event) {
        levels.add(new Level(event, step));
        return levels;
      }
      if (depth >= before) {
        return levels;
      }
      String name = "pilot " + levels.size();
      List<S> inside = inside(samples, depth);
      step = adapted(inside, depth, step, name);
      levels.add(new Level(depth, step));
      samples = next(inside, levels.get(levels.size() - 1), name);
      before = depth;
    }
    return levels;
  }

  /**
   * One run.
   *
   * @param number its number; runs with different numbers are independent
   * @param levels what {@link #levels} found
   * @return its estimate
   */
  Run<S> run(int number, List<Level> levels) {
    List<Double> shares = new ArrayList<>();
    List<S> samples = fresh("run " + number);
    for (Level level : levels) {
      List<S> inside = inside(samples, level.depth());
      shares.add((double) inside.size() / samples.size());
      if (inside.isEmpty()) {
        return new Run<>(shares, List.of());
      }
      samples =
          shares.size() == levels.size()
              ? inside
              : next(inside, level, "run " + number + " level " + shares.size());
    }
    return new Run<>(shares, samples);
  }

  private List<S> fresh(String name) {
    return workers.each(
        choice.samples(), i -> world.fresh(RandomStream.of(choice.seed(), name + " sample " + i)));
  }

  private List<S> inside(List<S> samples, int depth) {
    return samples.stream().filter(s -> world.depth(s) <= depth).toList();
  }

  /** A step of which about the wanted share is accepted (Robbins and Monro). */
  private double adapted(List<S> inside, int depth, double from, String name) {
    double step = from;
    int proposals = Math.max(8, choice.samples() / ROUNDS);
    for (int round = 0; round < ROUNDS; round++) {
      double tried = step;
      String stream = name + " round " + round + " step ";
      long accepted =
          workers
              .each(
                  proposals,
                  i ->
                      world.depth(
                              world.neighbour(
                                  inside.get(i % inside.size()),
                                  tried,
                                  RandomStream.of(choice.seed(), stream + i)))
                          <= depth)
              .stream()
              .filter(a -> a)
              .count();
      double miss = (double) accepted / proposals - ACCEPTED;
      step = Math.max(LEAST_STEP, Math.min(1, step * Math.exp(2 * miss / Math.sqrt(round + 1.0))));
    }
    return step;
  }

  /** Survivors, drawn again evenly to the full number, each after its walk inside of the level. */
  private List<S> next(List<S> inside, Level level, String name) {
    int n = choice.samples();
    double offset = RandomStream.of(choice.seed(), name + " draw").nextDouble();
    return workers.each(
        n,
        i -> {
          int parent = (int) ((i + offset) * inside.size() / n);
          RandomStream random = RandomStream.of(choice.seed(), name + " walk " + i);
          return walk(inside.get(Math.min(inside.size() - 1, parent)), level, random);
        });
  }

  private S walk(S from, Level level, RandomStream random) {
    S here = from;
    for (int step = 0; step < choice.steps(); step++) {
      S there = world.neighbour(here, level.step(), random);
      if (world.depth(there) <= level.depth()) {
        here = there;
      }
    }
    return here;
  }
}
