/** Pure mathematics: intervals, bounds, tests, variance components. Knows nothing of trials. */
module org.stopwell.harness.stats {
  requires org.apache.commons.statistics.distribution;
  requires static org.jspecify;

  exports org.stopwell.harness.stats;
}
