package org.stopwell.harness.sign;

import java.io.IOException;
import java.nio.file.Path;

/** A key file cannot be made or used; the message names the file, what is wrong and what to do. */
public final class KeyFileException extends IOException {
  private static final long serialVersionUID = 1L;

  KeyFileException(Path file, String why) {
    super(file + ": " + why);
  }

  /**
   * What is wrong, with the file and what to do.
   *
   * @return one sentence
   */
  @Override
  public String getMessage() {
    return String.valueOf(super.getMessage());
  }
}
