/** Prose and pictures of evidence and assessment: report page, assessment page, JUnit file. */
module org.stopwell.harness.report {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires org.stopwell.harness.record;
  requires org.stopwell.harness.casework;
  requires org.stopwell.harness.explore;
  requires org.stopwell.harness.assess;
  requires gg.jte.runtime;
  requires tools.jackson.jr.ob;
  requires static java.compiler; // marks what is generated from templates
  requires static org.jspecify;

  exports org.stopwell.harness.report;
}
