/** Many trials in order: campaign, live feed, replay, detection. */
module org.stopwell.harness.campaign {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires org.stopwell.harness.record;
  requires org.apache.commons.csv;
  requires tools.jackson.jr.ob;
  requires static org.jspecify;

  exports org.stopwell.harness.campaign;
  exports org.stopwell.harness.live;
  exports org.stopwell.harness.replay;
  exports org.stopwell.harness.detect;
}
