package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.record.RunFileException.Kind;

/** Connects to a run file after checking that it is one and that this build can use it. */
final class RunConnection {
  private static final String NO_LIBRARY =
      "the library of SQLite cannot be unpacked: the temporary directory "
          + System.getProperty("java.io.tmpdir")
          + " needs 2 MB and must permit programs";

  private RunConnection() {}

  /** Connects to a file that holds a run of a version that this build can use in this mode. */
  static Connection open(Path file, String mode) throws SQLException, RunFileException {
    Connection connection = connect(file, mode);
    boolean checked = false;
    try {
      Rows rows = new Rows(connection);
      checkIdentity(file, rows);
      guard(file, connection, mode.equals("rw"));
      if (mode.equals("rw") && rows.finishedAt().isEmpty()) {
        checkVersion(file, rows);
        rows.pragma("journal_mode = WAL");
        rows.pragma("synchronous = FULL");
      }
      checked = true;
      return connection;
    } finally {
      if (!checked) {
        closeQuietly(connection);
      }
    }
  }

  /** The run file of a directory, which must be there. */
  static Path existing(Path directory) throws RunFileException {
    Path file = directory.resolve(RunFile.NAME);
    if (!Files.exists(file)) {
      throw new RunFileException(Kind.MISSING, file + ": there is no run");
    }
    for (String end : List.of("", "-wal", "-shm", "-journal")) {
      Path part = directory.resolve(RunFile.NAME + end);
      if (Files.exists(part) && !Files.isRegularFile(part)) {
        throw new RunFileException(Kind.FOREIGN, part + ": not a regular file");
      }
    }
    return file;
  }

  /** Takes the directory of a run that is there. */
  static RunLock lock(Path directory) throws RunFileException {
    existing(directory);
    try {
      return RunLock.take(directory);
    } catch (RunFileException e) {
      throw e;
    } catch (IOException e) {
      throw RunFileException.disk(directory.resolve(RunLock.NAME), e);
    }
  }

  /** Connects, whatever the file holds. */
  static Connection connect(Path file, String mode) throws SQLException {
    Connection connection;
    try {
      connection =
          DriverManager.getConnection(
              "jdbc:sqlite:" + file.toAbsolutePath().toUri() + "?mode=" + mode);
    } catch (SQLException e) {
      // Without a code it is not SQLite that failed, but the loading of its library.
      throw e.getErrorCode() == 0 ? new SQLException(NO_LIBRARY, e) : e;
    }
    new Rows(connection).pragma("busy_timeout = 5000");
    return connection;
  }

  private static void guard(Path file, Connection connection, boolean written)
      throws SQLException, RunFileException {
    try {
      new Rows(connection).guard().check(written);
    } catch (Rows.DamageException e) {
      throw RunFileException.damaged(file, e.getMessage());
    }
  }

  private static void checkIdentity(Path file, Rows rows) throws SQLException, RunFileException {
    if (rows.number("PRAGMA application_id") != Schema.APPLICATION_ID) {
      throw new RunFileException(Kind.FOREIGN, file + ": not a run file of Stopwell");
    }
    long version = rows.number("PRAGMA user_version");
    if (version > Schema.VERSION) {
      throw new RunFileException(
          Kind.NEWER,
          file
              + ": written in version "
              + version
              + " of the format, this build reads up to "
              + Schema.VERSION);
    }
    if (version < 1) {
      throw new RunFileException(Kind.DAMAGED, file + ": format version " + version);
    }
  }

  /** An older file can be read but not continued: one chain has one version. */
  private static void checkVersion(Path file, Rows rows) throws SQLException, RunFileException {
    long version = rows.number("PRAGMA user_version");
    if (version < Schema.VERSION) {
      throw new RunFileException(
          Kind.OLDER,
          file
              + ": begun in version "
              + version
              + " of the format, this build writes version "
              + Schema.VERSION
              + "; resume it with the build that began it. Report, compare, replay, verify"
              + " and export can read it");
    }
  }

  /** Closes after a failure. */
  static void closeQuietly(@Nullable Connection connection) {
    if (connection != null) {
      try {
        connection.close();
      } catch (SQLException e) {
        // The first failure is the one to report.
      }
    }
  }
}
