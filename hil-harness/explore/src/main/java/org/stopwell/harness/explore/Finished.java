package org.stopwell.harness.explore;

/**
 * The finished part of some work.
 *
 * @param <S> what is kept of the work
 * @param units the finished units
 * @param summary what is kept of them
 */
public record Finished<S extends ShardSummary<S>>(UnitSet units, S summary) {
  /**
   * Nothing yet.
   *
   * @param <S> what is kept of the work
   * @param work the work
   * @return its beginning
   */
  public static <S extends ShardSummary<S>> Finished<S> none(ShardWork<S> work) {
    return new Finished<>(UnitSet.NONE, work.empty());
  }

  /**
   * With another shard.
   *
   * @param from its first unit
   * @param to the unit after its last
   * @param shard what is kept of it
   * @return both together
   * @throws IllegalArgumentException when a unit would count twice
   */
  public Finished<S> with(long from, long to, S shard) {
    return new Finished<>(units.with(from, to), summary.merge(shard));
  }
}
