/** The controller as C99 sources, made from its class files and its settings. */
module org.stopwell.harness.firmware {
  requires org.stopwell.core;
  requires org.objectweb.asm;
  requires org.objectweb.asm.tree;
  requires org.objectweb.asm.tree.analysis;
  requires static org.jspecify;

  exports org.stopwell.harness.firmware;
}
