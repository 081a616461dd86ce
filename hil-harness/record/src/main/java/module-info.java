/** What is kept and what it says: run file, evidence, claims, budget, bench records, export. */
module org.stopwell.harness.record {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires org.apache.commons.csv;
  requires tools.jackson.jr.ob;
  requires org.apache.commons.statistics.distribution;
  requires java.sql;
  requires static org.jspecify;

  exports org.stopwell.harness.record;
  exports org.stopwell.harness.evidence;
  exports org.stopwell.harness.claim;
  exports org.stopwell.harness.budget;
  exports org.stopwell.harness.standing;
  exports org.stopwell.harness.export;
  exports org.stopwell.harness.sign;
}
