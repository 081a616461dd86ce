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
import org.stopwell.harness.explore.KeptShards;
import org.stopwell.harness.explore.RowSink;

/**
 * Search on the tuning canals, then judgement on fresh ones. All work goes through the engine and
 * the state, and the search depends on the results alone, so that a second start repeats the
 * finished part without a trial and continues.
 */
public final class TuneRun {
  /** How far a neighbour is, as a share of the range. */
  private static final double NEIGHBOUR = 0.1;

  private final Tuning tuning;
  private final TuneState state;
  private final Engine engine;
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
   * @param engine does the trials; the answer does not depend on it
   * @param watcher sees every finished shard
   * @param news receives the state of the search in a few words
   * @param stop asked before every shard; true ends the work
   */
  public TuneRun(
      Tuning tuning,
      TuneState state,
      Engine engine,
      Engine.Watcher watcher,
      Consumer<String> news,
      BooleanSupplier stop) {
    this.tuning = tuning;
    this.state = state;
    this.engine = engine;
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
    CanalWork work = new CanalWork(tuning, settings, first, canals);
    Optional<byte[]> known = state.find(work);
    if (known.isPresent()) {
      return work.read(known.get());
    }
    KeptShards<CanalSums> part = state.part(work);
    Finished<CanalSums> finished;
    try {
      finished = engine.run(work, state.before(work), RowSink.NOWHERE, part::keep, watcher, stop);
    } catch (RuntimeException e) {
      part.writeNewest();
      throw e;
    }
    if (finished.units().size() < canals) {
      part.write(finished);
      throw new StoppedException();
    }
    state.keep(work, finished.summary().toBytes());
    return finished.summary();
  }
}
