/** The whole job of one tooth: case file, append-only record, and the plan of every step. */
module org.stopwell.harness.casework {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires tools.jackson.jr.ob;
  requires static org.jspecify;

  exports org.stopwell.harness.casework;
}
