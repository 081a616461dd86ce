package org.stopwell.harness.explore;

/** An engine that cannot begin, or cannot go on. What is finished by then stays finished. */
public final class EngineException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /**
   * An engine that cannot begin or go on.
   *
   * @param message what happened, where, and what to do
   */
  public EngineException(String message) {
    super(message);
  }
}
