package org.stopwell.harness.explore;

/** An exploration that cannot be begun as it is asked for; the message says what to change. */
public final class SpaceException extends Exception {
  private static final long serialVersionUID = 1L;

  SpaceException(String message) {
    super(message);
  }
}
