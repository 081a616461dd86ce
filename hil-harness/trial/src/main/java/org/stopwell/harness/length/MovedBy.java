package org.stopwell.harness.length;

/** What moves the file during a length reading. */
public enum MovedBy {
  /** A file on the motor, which the controller stops. */
  MOTOR("motor"),
  /** A hand file: nothing turns, and the hand follows the reading. */
  HAND_FILE("hand file");

  private final String word;

  MovedBy(String word) {
    this.word = word;
  }

  /**
   * The word in files.
   *
   * @return one or two words
   */
  public String word() {
    return word;
  }
}
