/** The control core: a pure function of time and input. It needs nothing but java.base. */
module org.stopwell.core {
  requires static org.jspecify;

  exports org.stopwell.core;
  exports org.stopwell.core.frame;
  exports org.stopwell.core.guard;
  exports org.stopwell.core.number;
  exports org.stopwell.core.policy;
  exports org.stopwell.core.sense;
  exports org.stopwell.core.settings;
  exports org.stopwell.core.trace;
  exports org.stopwell.core.weights;
}
