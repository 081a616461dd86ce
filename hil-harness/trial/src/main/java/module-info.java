/**
 * What is asked and what one trial gives: plan, protocol, trial, faults, length readings, traces.
 */
module org.stopwell.harness.trial {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.snakeyaml.engine;
  requires org.apache.commons.csv;
  requires tools.jackson.jr.ob;
  requires org.apache.commons.statistics.distribution;
  requires jdk.management;
  requires java.management;
  requires static org.jspecify;

  exports org.stopwell.harness.plan;
  exports org.stopwell.harness.protocol;
  exports org.stopwell.harness.trial;
  exports org.stopwell.harness.advice;
  exports org.stopwell.harness.external;
  exports org.stopwell.harness.fault;
  exports org.stopwell.harness.input;
  exports org.stopwell.harness.length;
  exports org.stopwell.harness.stops;
  exports org.stopwell.harness.trace;
}
