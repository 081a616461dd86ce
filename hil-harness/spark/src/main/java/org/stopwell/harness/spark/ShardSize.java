package org.stopwell.harness.spark;

/**
 * How many units make a shard: about some seconds of work, and small enough at the end for every
 * worker to have some. The result does not depend on it.
 */
final class ShardSize {
  /** Wanted time of a shard, ns; assumed: a hundred times what Spark needs to hand one out. */
  private static final double WANTED_NS = 4e9;

  /** Trials of the first shards, before their speed is known; assumed. */
  private static final int FIRST_TRIALS = 64;

  /** Shards that each worker still gets at the end, at least; assumed. */
  private static final int LAST_SHARDS = 4;

  /** Trials of a shard at most: its rows, where they are wanted, fit into memory; assumed. */
  private static final int MOST_TRIALS = 100_000;

  private final long fixed;
  private final int unitTrials;
  private long units;
  private double busyNs;

  /**
   * The size of the shards of some work.
   *
   * @param fixed units of every shard; 0 where the time decides
   * @param unitTrials trials in each unit
   */
  ShardSize(long fixed, int unitTrials) {
    this.fixed = fixed;
    this.unitTrials = unitTrials;
  }

  /** Counts a finished shard. */
  void finished(long shardUnits, long shardNs) {
    units += shardUnits;
    busyNs += shardNs;
  }

  /** Units of the next shard, when so many are left for so many slots. */
  long next(long left, int slots) {
    if (fixed > 0) {
      return fixed;
    }
    double wanted =
        units == 0 || busyNs == 0
            ? (double) FIRST_TRIALS / unitTrials
            : WANTED_NS / (busyNs / units);
    double most = Math.min((double) MOST_TRIALS / unitTrials, (double) left / slots / LAST_SHARDS);
    return Math.max(1, (long) Math.min(wanted, most));
  }
}
