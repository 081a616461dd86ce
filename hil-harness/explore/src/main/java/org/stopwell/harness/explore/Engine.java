package org.stopwell.harness.explore;

import java.util.function.BooleanSupplier;
import java.util.function.Consumer;

/**
 * Does work in shards: in this process, or on other machines. An engine does one work after the
 * other, and keeps its connection to other machines until it is closed.
 */
public interface Engine extends AutoCloseable {
  /** Sees how far the work is. */
  interface Watcher {
    /** Sees nothing. */
    Watcher NOBODY = (worker, trials, busyNs) -> {};

    /**
     * A shard is finished.
     *
     * @param worker number of the worker, from 0
     * @param trials trials of the shard
     * @param busyNs time that the worker took, ns
     */
    void finished(int worker, long trials, long busyNs);

    /**
     * Nothing goes on at the moment.
     *
     * @param why what is waited for
     */
    default void waiting(String why) {}
  }

  /**
   * Does every unit that is not done yet.
   *
   * @param <S> what is kept of the work
   * @param work the work
   * @param before what is finished already
   * @param rows receives every trial, where the engine can reach it
   * @param keeper receives what is finished so far, after every shard; when it returns, that is
   *     safe
   * @param watcher sees every finished shard
   * @param stop asked before every shard; true ends the work after the shards in progress
   * @return what is finished; all of it unless stopped
   */
  <S extends ShardSummary<S>> Finished<S> run(
      ShardWork<S> work,
      Finished<S> before,
      RowSink rows,
      Consumer<Finished<S>> keeper,
      Watcher watcher,
      BooleanSupplier stop);

  /** Ends the connection to other machines. */
  @Override
  default void close() {}
}
