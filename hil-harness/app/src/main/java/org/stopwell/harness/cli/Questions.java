package org.stopwell.harness.cli;

/** Which of the commands that run many simulated trials answers which question, for their help. */
final class Questions {
  static final String HELP =
      "%nWhich command answers which question?"
          + "%n  explore SPACE   What decides an outcome? Which settings are the best compromise?"
          + "%n  rare PLAN       How often does a file pass the foramen, if that is rare?"
          + "%n  break PLAN      How little must go wrong until a file passes the foramen?"
          + "%n  tune SPACE      Which settings keep a limit at the least price?";

  private Questions() {}
}
