package org.stopwell.harness.explore;

/** An engine that cannot begin, or cannot go on. What is finished by then stays finished. */
public final class EngineException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final boolean begun;

  /**
   * An engine that cannot begin: it was given a wrong place, or the place is not fit.
   *
   * @param message what happened, where, and what to do
   */
  public EngineException(String message) {
    this(message, false);
  }

  /**
   * An engine that cannot begin or go on.
   *
   * @param message what happened, where, and what to do
   * @param begun whether it ended in the middle of the work
   */
  public EngineException(String message, boolean begun) {
    super(message);
    this.begun = begun;
  }

  /**
   * Whether the engine ended in the middle of the work.
   *
   * @return false for wrong input
   */
  public boolean begun() {
    return begun;
  }
}
