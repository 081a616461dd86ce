package org.stopwell.harness.console;

/** A page that must not or cannot be shown; the message says why and what to do. */
public final class RefusedException extends Exception {
  private static final long serialVersionUID = 1;

  /**
   * A refusal.
   *
   * @param why one sentence
   */
  public RefusedException(String why) {
    super(why);
  }
}
