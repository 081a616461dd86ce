package org.stopwell.harness.explore;

/**
 * What is kept of any number of trials. It holds whole numbers only, and its size does not depend
 * on the number of trials. Merging is associative and commutative, so that any split of the work
 * over workers and machines ends with the same bytes.
 *
 * @param <S> the summary itself
 */
public interface ShardSummary<S extends ShardSummary<S>> {
  /**
   * Both summaries together; neither is changed.
   *
   * @param other a summary of other units of the same work
   * @return the summary of all
   */
  S merge(S other);

  /**
   * The summary as bytes.
   *
   * @return the same bytes for equal summaries, on any machine
   */
  byte[] toBytes();
}
