/** Weighs ways of sensing the depth and trains the learned ones. */
module org.stopwell.harness.assess {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires tools.jackson.jr.ob;

  exports org.stopwell.harness.assess;
  exports org.stopwell.harness.learn;
}
