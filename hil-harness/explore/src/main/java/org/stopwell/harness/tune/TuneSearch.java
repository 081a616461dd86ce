package org.stopwell.harness.tune;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.harness.explore.Evolution;
import org.stopwell.harness.plan.TuneTarget;

/**
 * Tries settings on the tuning canals: the present ones, points spread over the ranges, and then
 * points of an evolution from the best so far, again and again until all points are used. Every
 * point meets the same canals (common random numbers).
 */
final class TuneSearch {
  /** Share of the points that are spread. */
  private static final int SPREAD_PART = 4;

  private static final int FEWEST_SPREAD = 4;

  /** First step of the evolution, a share of the range; assumed. */
  private static final double STEP = 0.2;

  private static final int LARGEST_POPULATION = 64;

  /** Calls for each point; a range of few values gives the same point again and again. */
  private static final int CALLS = 20;

  /** Evolutions without a new point after which the search ends. */
  private static final int BARREN = 3;

  private final Tuning tuning;
  private final Bench bench;
  private final Consumer<String> news;
  private final List<Tried> tried = new ArrayList<>();
  private final Map<List<Long>, Tried> known = new HashMap<>();
  private long calls;

  /** What measures settings on the tuning canals. */
  @FunctionalInterface
  interface Bench {
    Measured at(long[] settings) throws IOException;
  }

  /** All points are used. */
  private static final class SpentException extends RuntimeException {
    private static final long serialVersionUID = 1L;
  }

  TuneSearch(Tuning tuning, Bench bench, Consumer<String> news) {
    this.tuning = tuning;
    this.bench = bench;
    this.news = news;
  }

  /** The points so far, in their order. */
  List<Tried> tried() {
    return tried;
  }

  /** The best of some points: limits, then the goal, then distance from the limits. */
  static Tried best(List<Tried> tried) {
    return tried.stream()
        .min(
            Comparator.comparingDouble(Tried::score)
                .thenComparingDouble(Tried::used)
                .thenComparingInt(Tried::number))
        .orElseThrow();
  }

  void run() throws IOException {
    try {
      all();
    } catch (SpentException e) {
      // As agreed: the points are used.
    } catch (UncheckedIOException e) {
      throw e.getCause();
    }
  }

  private void all() {
    long seed = tuning.space().head().seed();
    int dimensions = tuning.tuned().size();
    measure(tuning.start(), Tried.Phase.OLD);
    int spread = (int) Math.max(FEWEST_SPREAD, tuning.points() / SPREAD_PART);
    for (double[] place : Evolution.spread(dimensions, spread, seed)) {
      measure(tuning.settings(place), Tried.Phase.SPREAD);
    }
    int population = Math.max(6, 4 + (int) (3 * StrictMath.log(dimensions)));
    int barren = 0;
    for (int round = 0; barren < BARREN; round++) {
      int before = tried.size();
      double[] from = tuning.place(best(tried).settings().stream().mapToLong(v -> v).toArray());
      Evolution.search(
          place -> measure(tuning.settings(place), Tried.Phase.EVOLUTION).score(),
          from,
          round % 2 == 0 ? STEP : STEP / 4,
          population,
          seed + round,
          (int) Math.min(Integer.MAX_VALUE / 2, CALLS * tuning.points()));
      population = Math.min(LARGEST_POPULATION, 2 * population);
      barren = tried.size() == before ? barren + 1 : 0;
    }
  }

  private Tried measure(long[] settings, Tried.Phase phase) {
    if (++calls > CALLS * tuning.points()) {
      throw new SpentException();
    }
    Tried found = known.get(TuneRun.list(settings));
    if (found != null) {
      return found;
    }
    if (tried.size() >= tuning.points()) {
      throw new SpentException();
    }
    Measured measured;
    try {
      measured = bench.at(settings);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    TuneTarget target = tuning.target();
    double excess =
        isImpossible(measured)
            ? Double.POSITIVE_INFINITY
            : target.limits().stream()
                .mapToDouble(limit -> Aim.excess(limit, measured, target.freshCanals()))
                .sum();
    Tried point =
        new Tried(
            tried.size() + 1,
            phase,
            TuneRun.list(settings),
            tuning.texts(settings),
            measured,
            excess,
            measured.value(target.minimise()),
            target.limits().stream()
                .mapToDouble(limit -> measured.value(limit.measure()) / limit.atMost())
                .sum());
    tried.add(point);
    known.put(point.settings(), point);
    Tried best = best(tried);
    news.accept(
        "point "
            + tried.size()
            + " of "
            + tuning.points()
            + ", best: "
            + target.minimise().words()
            + " "
            + TuneWords.value(target.minimise(), best.goal())
            + (best.meets() ? "" : ", limits not met"));
    return point;
  }

  /** Settings that contradict each other in canals in which the old ones do not. */
  private boolean isImpossible(Measured measured) {
    long before = tried.isEmpty() ? measured.impossible() : tried.get(0).measured().impossible();
    return measured.impossible() > before;
  }
}
