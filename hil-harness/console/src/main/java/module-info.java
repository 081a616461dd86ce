/** The web page of the console: server, pages, and the channel to their watchers. */
module org.stopwell.harness.console {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires org.stopwell.harness.tryout;
  requires org.stopwell.harness.trial;
  requires org.stopwell.harness.record;
  requires org.stopwell.harness.campaign;
  requires org.stopwell.harness.report;
  requires org.eclipse.jetty.server;
  requires org.eclipse.jetty.http;
  requires org.eclipse.jetty.io;
  requires org.eclipse.jetty.util;
  requires tools.jackson.jr.ob;
  requires static org.jspecify;

  exports org.stopwell.harness.console;
}
