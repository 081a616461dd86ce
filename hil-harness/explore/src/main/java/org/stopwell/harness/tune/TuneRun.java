package org.stopwell.harness.tune;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.Pool;
import org.stopwell.harness.explore.RowSink;

/**
 * Search on the tuning canals, then judgement on fresh ones. Every piece of work goes through the
 * state, and the search depends on the results alone, so that a second start repeats the finished
 * part without a trial and continues.
 */
public final class TuneRun {
  /** Canals of a piece of work; assumed: what an interruption loses at most. */
  private static final int PIECE = 250;

  /** Trials of a shard at most, as in {@link Pool}. */
  private static final int SHARD_TRIALS = 64;

  /** How far a neighbour is, as a share of the range. */
  private static final double NEIGHBOUR = 0.1;

  private final Tuning tuning;
  private final TuneState state;
  private final int workers;
  private final Engine.Watcher watcher;
  private final Consumer<String> news;
  private final BooleanSupplier stop;

  /** The user stopped the work. */
  static final class StoppedException extends RuntimeException {
    private static final long serialVersionUID = 1L;
  }

  /**
   * A run of a tuning.
   *
   * @param tuning what is tuned
   * @param state the finished part
   * @param workers threads, at least 1
   * @param watcher sees every finished shard
   * @param news receives the state of the search in a few words
   * @param stop asked before every shard; true ends the work
   */
  public TuneRun(
      Tuning tuning,
      TuneState state,
      int workers,
      Engine.Watcher watcher,
      Consumer<String> news,
      BooleanSupplier stop) {
    this.tuning = tuning;
    this.state = state;
    this.workers = workers;
    this.watcher = watcher;
    this.news = news;
    this.stop = stop;
  }

  /**
   * Does the work that is not finished.
   *
   * @return the answer; so far, where the work was stopped
   * @throws IOException when the finished part cannot be read
   */
  public TuneResult run() throws IOException {
    TuneSearch search = new TuneSearch(tuning, this::onTuningCanals, news);
    try {
      search.run();
    } catch (StoppedException e) {
      return TuneResult.of(tuning, search.tried(), false, List.of(), Optional.empty());
    }
    List<long[]> settings = judged(search);
    Optional<CanalSums> sums;
    try {
      news.accept("judgement on fresh canals");
      sums = Optional.of(sums(settings, Tuning.FRESH, tuning.target().freshCanals()));
    } catch (StoppedException e) {
      sums = Optional.empty();
    }
    return TuneResult.of(tuning, search.tried(), true, settings, sums);
  }

  private Measured onTuningCanals(long[] settings) throws IOException {
    return Measured.of(sums(List.of(settings), 0, tuning.canals()), 0);
  }

  /** The old settings, the tuned ones, and the neighbours of these; each once. */
  private List<long[]> judged(TuneSearch search) {
    long[] best = TuneSearch.best(search.tried()).settings().stream().mapToLong(v -> v).toArray();
    Set<List<Long>> all = new LinkedHashSet<>();
    all.add(list(tuning.start()));
    all.add(list(best));
    if (tuning.hasNeighbours()) {
      double[] place = tuning.place(best);
      for (int i = 0; i < place.length; i++) {
        for (double step : new double[] {-NEIGHBOUR, NEIGHBOUR}) {
          double[] moved = place.clone();
          moved[i] = Math.max(0, Math.min(1, moved[i] + step));
          long[] settings = best.clone();
          settings[i] = tuning.settings(moved)[i];
          all.add(list(settings));
        }
      }
    }
    List<long[]> settings = new ArrayList<>();
    all.forEach(one -> settings.add(one.stream().mapToLong(v -> v).toArray()));
    return settings;
  }

  static List<Long> list(long[] settings) {
    return java.util.Arrays.stream(settings).boxed().toList();
  }

  private CanalSums sums(List<long[]> settings, long first, long canals) throws IOException {
    CanalSums all = new CanalSums(settings.size());
    for (long from = 0; from < canals; from += PIECE) {
      all = all.merge(piece(settings, first + from, Math.min(PIECE, canals - from)));
    }
    return all;
  }

  private CanalSums piece(List<long[]> settings, long first, long canals) throws IOException {
    String name = CanalWork.name(settings, first, canals);
    Optional<byte[]> known = state.find(name);
    if (known.isPresent()) {
      return CanalSums.read(known.get(), settings.size());
    }
    CanalWork work = new CanalWork(tuning, settings, first, canals);
    long share = (canals + 4L * workers - 1) / (4L * workers);
    long shard = Math.max(1, Math.min(share, SHARD_TRIALS / settings.size()));
    Finished<CanalSums> finished =
        new Pool(workers, shard)
            .run(work, Finished.none(work), RowSink.NOWHERE, f -> {}, watcher, stop);
    if (finished.units().size() < canals) {
      throw new StoppedException();
    }
    state.keep(name, finished.summary().toBytes());
    return finished.summary();
  }
}
