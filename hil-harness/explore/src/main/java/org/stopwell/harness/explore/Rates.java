package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.stopwell.rig.time.MachineClock;

/** How fast the work goes: trials per second of every worker, and the time left. */
public final class Rates implements Engine.Watcher {
  private final long trials;
  private final long begunNs = MachineClock.nowNs();
  private final List<long[]> workers = new ArrayList<>();
  private long done;

  /**
   * The clock starts.
   *
   * @param trials trials that are still open
   */
  public Rates(long trials) {
    this.trials = trials;
  }

  @Override
  public synchronized void finished(int worker, long more, long busyNs) {
    while (workers.size() <= worker) {
      workers.add(new long[2]);
    }
    workers.get(worker)[0] += more;
    workers.get(worker)[1] += busyNs;
    done += more;
  }

  /**
   * Trials per second of each worker, while it worked.
   *
   * @return one number for each worker
   */
  public synchronized List<Double> perSecond() {
    return workers.stream().map(w -> w[1] == 0 ? 0 : w[0] * 1e9 / w[1]).toList();
  }

  /**
   * Trials per second of each worker, in words.
   *
   * @return for a line of progress
   */
  public String perWorker() {
    return "trials/s per worker: "
        + perSecond().stream()
            .map(r -> String.format(Locale.ROOT, "%.1f", r))
            .collect(Collectors.joining(", "));
  }

  /**
   * Trials per second of all workers, by the clock on the wall.
   *
   * @return 0 before the first
   */
  public synchronized double together() {
    return done * 1e9 / Math.max(1, MachineClock.nowNs() - begunNs);
  }

  /**
   * Time until the last trial, at the present speed.
   *
   * @return s; 0 before the first trial is finished
   */
  public synchronized double leftSeconds() {
    return done == 0 ? 0 : (trials - done) / together();
  }
}
