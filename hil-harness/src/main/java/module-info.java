/** The test harness: plans, trials, campaigns, statistics, run file, report, replay. */
module org.stopwell.harness {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires static org.jspecify;

  exports org.stopwell.harness.trial;
}
