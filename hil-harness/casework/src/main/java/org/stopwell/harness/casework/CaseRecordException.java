package org.stopwell.harness.casework;

/** A record that cannot be read or continued. */
public final class CaseRecordException extends Exception {
  private static final long serialVersionUID = 1L;

  private final Kind kind;

  CaseRecordException(Kind kind, String message) {
    super(message);
    this.kind = kind;
  }

  /** What is wrong with it. */
  public enum Kind {
    /** Another command holds it. */
    HELD,
    /** A line does not fit. */
    DAMAGED
  }

  /**
   * What is wrong with it.
   *
   * @return whether it is held or damaged
   */
  public Kind kind() {
    return kind;
  }
}
