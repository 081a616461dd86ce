package org.stopwell.harness.explore;

import java.io.IOException;
import java.io.Serializable;
import java.util.List;

/**
 * Work that an engine splits. It consists of units numbered from 0, and each unit is a pure
 * function of its number: it does not matter which worker does it, when, or beside which others. An
 * implementation is safe for use by several threads. It is serializable, so that an engine can take
 * it to other machines.
 *
 * @param <S> what is kept of the work
 */
public interface ShardWork<S extends ShardSummary<S>> extends Serializable {
  /**
   * What the work is. A summary counts only for work with the same fingerprint.
   *
   * @return a hash of everything that a result depends on: space, plan, settings, seed and build
   */
  String fingerprint();

  /**
   * How many units there are.
   *
   * @return at least 1
   */
  long units();

  /**
   * Trials in each unit.
   *
   * @return at least 1
   */
  int unitTrials();

  /**
   * The columns of a row, in the order of its values.
   *
   * @return none where the work has no table
   */
  default List<RowColumn> columns() {
    return List.of();
  }

  /**
   * The summary of no unit.
   *
   * @return what merges with any other and changes nothing
   */
  S empty();

  /**
   * A summary from its bytes.
   *
   * @param bytes as {@link ShardSummary#toBytes} made them
   * @return the summary
   * @throws IOException when these are not bytes of such a summary
   */
  S read(byte[] bytes) throws IOException;

  /**
   * Does some units.
   *
   * @param from the first unit
   * @param to the unit after the last
   * @param rows receives every trial; an engine without shared memory gives {@link RowSink#NOWHERE}
   * @return what is kept of them
   */
  S shard(long from, long to, RowSink rows);
}
