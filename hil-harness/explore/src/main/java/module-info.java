/** What decides an outcome over all canals: engine, designs, sensitivity, surface, front. */
module org.stopwell.harness.explore {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires org.apache.commons.statistics.distribution;
  requires commons.math3;
  requires static org.jspecify;

  exports org.stopwell.harness.explore;
  exports org.stopwell.harness.rare;
  exports org.stopwell.harness.breaking;
  exports org.stopwell.harness.tune;
}
