/** The test harness: plans, trials, campaigns, statistics, run file, report, replay. */
module org.stopwell.harness {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires java.sql;
  requires jdk.httpserver;
  requires org.apache.commons.csv;
  requires org.apache.commons.statistics.distribution;
  requires info.picocli;
  requires me.tongfei.progressbar;
  requires org.snakeyaml.engine;
  requires tools.jackson.jr.ob;
  requires static org.jspecify;

  exports org.stopwell.harness.assess;
  exports org.stopwell.harness.budget;
  exports org.stopwell.harness.evidence;
  exports org.stopwell.harness.campaign;
  exports org.stopwell.harness.plan;
  exports org.stopwell.harness.protocol;
  exports org.stopwell.harness.detect;
  exports org.stopwell.harness.export;
  exports org.stopwell.harness.record;
  exports org.stopwell.harness.report;
  exports org.stopwell.harness.standing;
  exports org.stopwell.harness.stats;
  exports org.stopwell.harness.trial;

  opens org.stopwell.harness.cli to
      info.picocli;
}
