/** The page to try by hand, with the engine that is compiled to JavaScript for it. */
module org.stopwell.harness.tryout {
  requires org.stopwell.core;
  requires org.stopwell.rig;
  requires static org.jspecify;
  requires static org.teavm.jso;
  requires static teavm.core;

  exports org.stopwell.harness.tryout;
}
