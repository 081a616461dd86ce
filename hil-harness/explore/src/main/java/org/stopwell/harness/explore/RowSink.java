package org.stopwell.harness.explore;

/** Receives the trials of a shard one by one, in any order and from several threads. */
@FunctionalInterface
public interface RowSink {
  /** Keeps nothing. */
  RowSink NOWHERE = (trial, values) -> {};

  /**
   * Takes one trial. The same trial always has the same values.
   *
   * @param trial number of the trial, from 0
   * @param values its factors and outcomes, whole numbers
   */
  void put(long trial, long[] values);
}
