/** Prose and pictures of the evidence: report page and JUnit file. */
module org.stopwell.harness.report {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires org.stopwell.harness.record;
  requires gg.jte.runtime;
  requires tools.jackson.jr.ob;
  requires static java.compiler; // marks what is generated from templates
  requires static org.jspecify;

  exports org.stopwell.harness.report;
}
