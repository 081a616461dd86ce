package org.stopwell.harness.record;

import java.io.IOException;

/** A run file cannot be used; the message names the file, what is wrong and what to do. */
public final class RunFileException extends IOException {
  private static final long serialVersionUID = 1L;

  /** What is wrong. */
  public enum Kind {
    /** There is no such file. */
    MISSING,
    /** There is already such a file. */
    EXISTS,
    /** It is not a run file of Stopwell. */
    FOREIGN,
    /** It was written by a newer version. */
    NEWER,
    /** It was begun by an older version and cannot be continued. */
    OLDER,
    /** Its content is damaged or was changed. */
    DAMAGED,
    /** The campaign is finished: nothing can be added. */
    FINISHED,
    /** Another program is writing to it. */
    BUSY,
    /** The disk is full. */
    DISK_FULL,
    /** The disk or the directory refused. */
    DISK
  }

  private final Kind kind;

  RunFileException(Kind kind, String message) {
    super(message);
    this.kind = kind;
  }

  RunFileException(Kind kind, String message, Throwable cause) {
    super(message, cause);
    this.kind = kind;
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

  /**
   * What is wrong.
   *
   * @return the kind
   */
  public Kind kind() {
    return kind;
  }
}
