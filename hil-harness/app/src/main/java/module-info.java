/** Command line: what ./stopwell starts. */
module org.stopwell.harness.app {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.stats;
  requires org.stopwell.harness.trial;
  requires org.stopwell.harness.record;
  requires org.stopwell.harness.campaign;
  requires org.stopwell.harness.casework;
  requires org.stopwell.harness.explore;
  requires org.stopwell.harness.report;
  requires org.stopwell.harness.assess;
  requires org.stopwell.harness.console;
  requires org.stopwell.harness.tryout;
  requires org.stopwell.harness.firmware;
  requires info.picocli;
  requires me.tongfei.progressbar;
  requires tools.jackson.jr.ob;
  requires static org.jspecify;

  uses org.stopwell.core.policy.PolicyExtension;
  uses org.stopwell.rig.bench.BenchExtension;
  uses org.stopwell.harness.explore.EngineProvider;

  opens org.stopwell.harness.cli to
      info.picocli;
}
