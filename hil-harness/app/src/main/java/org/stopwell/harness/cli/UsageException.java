package org.stopwell.harness.cli;

/** A command that cannot be executed as given. */
final class UsageException extends Exception {
  private static final long serialVersionUID = 1L;

  UsageException(String message) {
    super(message);
  }
}
