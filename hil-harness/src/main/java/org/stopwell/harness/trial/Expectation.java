package org.stopwell.harness.trial;

/** What a condition of a plan expects of the controller. */
public enum Expectation {
  /** The file comes to rest at the standoff. */
  STOP,
  /** The controller says that it cannot know, and never claims a position it does not have. */
  REFUSE
}
