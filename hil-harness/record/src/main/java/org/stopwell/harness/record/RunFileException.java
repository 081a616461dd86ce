package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.Objects;

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
    /** Another program works on the run directory. */
    HELD,
    /** The disk is full. */
    DISK_FULL,
    /** The disk or the directory refused. */
    DISK
  }

  private final Kind kind;

  /** Free space below which a failed write is put down to a full disk, bytes; assumed. */
  private static final long FULL_BELOW = 128 * 1024;

  private static final int SQLITE_FULL = 13;

  private static final String FULL = "the disk is full";

  RunFileException(Kind kind, String message) {
    super(message);
    this.kind = kind;
  }

  RunFileException(Kind kind, String message, Throwable cause) {
    super(message, cause);
    this.kind = kind;
  }

  /**
   * A file in a run directory could not be written.
   *
   * @param file which one
   * @param cause what the system said
   * @return the exception: place, what is safe, how to continue
   */
  public static RunFileException disk(Path file, IOException cause) {
    return disk(file, "cannot be written (" + cause.getMessage() + ")", cause);
  }

  /** As {@link #disk}, where the file is known to have trials. */
  static RunFileException disk(Path file, String what, Exception cause) {
    boolean space = isFull(file, cause);
    return new RunFileException(
        space ? Kind.DISK_FULL : Kind.DISK,
        file
            + ": "
            + (space ? FULL : what)
            + "; every recorded trial is safe. "
            + (space ? "Free some space" : "Correct this")
            + ", then continue with: stopwell resume "
            + run(file),
        cause);
  }

  /** Its content is damaged or was changed. */
  static RunFileException damaged(Path file, String what) {
    return new RunFileException(Kind.DAMAGED, file + ": damaged or changed: " + what);
  }

  /** What SQLite said of a file. */
  static RunFileException sqlite(Path file, SQLException e) {
    String what = "cannot be used (" + e.getMessage() + ")";
    return switch (e.getErrorCode() & 0xff) {
      case 5, 6 -> // SQLITE_BUSY, SQLITE_LOCKED
          because(Kind.BUSY, file, "another program is writing to it (" + e.getMessage() + ")", e);
      case 11 -> because(Kind.DAMAGED, file, "damaged (" + e.getMessage() + ")", e); // CORRUPT
      case 26 -> // SQLITE_NOTADB
          because(Kind.FOREIGN, file, "not a run file of Stopwell (" + e.getMessage() + ")", e);
      case 8, 10, 13, 14 -> // SQLITE_READONLY, SQLITE_IOERR, SQLITE_FULL, SQLITE_CANTOPEN
          disk(file, what, e);
      default -> because(Kind.DISK, file, what, e);
    };
  }

  private static RunFileException because(Kind kind, Path file, String what, SQLException e) {
    return new RunFileException(kind, file + ": " + what, e);
  }

  /**
   * A file could not be written before a run began.
   *
   * @param file which one
   * @param cause what the system said
   * @return the exception: place, and that no trial was run
   */
  public static RunFileException notBegun(Path file, Exception cause) {
    boolean space = isFull(file, cause);
    return new RunFileException(
        space ? Kind.DISK_FULL : Kind.DISK,
        file
            + ": "
            + (space ? FULL : "cannot be written (" + cause.getMessage() + ")")
            + "; no trial was run. "
            + (space ? "Free some space" : "Correct this")
            + ", then run again",
        cause);
  }

  private static Path run(Path file) {
    return Objects.requireNonNullElse(file.getParent(), Path.of("."));
  }

  /** Whether a failed write is due to a full disk: SQLite does not always say so. */
  private static boolean isFull(Path file, Exception cause) {
    String said = String.valueOf(cause.getMessage());
    if (said.contains("No space left")
        || said.contains("quota exceeded")
        || (cause instanceof SQLException sql && (sql.getErrorCode() & 0xff) == SQLITE_FULL)) {
      return true;
    }
    try {
      return Files.getFileStore(run(file)).getUsableSpace() < FULL_BELOW;
    } catch (IOException e) {
      return false;
    }
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
