package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.SQLException;
import org.stopwell.harness.record.RunFileException.Kind;

/** Starts a run file: whole or not at all, and never over another one. */
final class RunFileStart {
  private RunFileStart() {}

  /**
   * Takes the run directory and writes a run file that holds its header.
   *
   * @param directory the run directory, made if it is missing
   * @param header makes the header, once the directory is taken
   * @return the lock of the directory, to be released with the file
   */
  static RunLock of(Path directory, RunFile.HeaderMaker header) throws RunFileException {
    Path file = directory.resolve(RunFile.NAME);
    refuseExisting(file);
    RunLock lock;
    try {
      Files.createDirectories(directory);
      lock = RunLock.take(directory);
      try {
        refuseExisting(file);
        write(directory, header.make());
      } catch (SQLException | IOException e) {
        lock.release(!Files.exists(file));
        throw e;
      }
    } catch (RunFileException e) {
      throw e;
    } catch (SQLException | IOException e) {
      deleteIfEmpty(directory);
      throw RunFileException.notBegun(file, e);
    }
    return lock;
  }

  private static void refuseExisting(Path file) throws RunFileException {
    if (Files.exists(file)) {
      throw new RunFileException(
          Kind.EXISTS, file + ": there already is a run; choose another directory or resume it");
    }
  }

  /** Written aside and linked, so that a run.db always holds its header and replaces nothing. */
  private static void write(Path directory, RunHeader header) throws SQLException, IOException {
    Path aside = directory.resolve(RunFile.NAME + ".new");
    Path journal = directory.resolve(RunFile.NAME + ".new-journal");
    // A kill can have left both.
    Files.deleteIfExists(journal);
    Files.deleteIfExists(aside);
    try {
      try (Connection connection = RunConnection.connect(aside, "rwc")) {
        connection.setAutoCommit(false);
        new Rows(connection).createTables();
        new Rows(connection).insertHeader(header);
        connection.commit();
      }
      link(aside, directory.resolve(RunFile.NAME));
    } finally {
      Files.deleteIfExists(aside);
    }
    sync(directory);
  }

  private static void link(Path aside, Path file) throws IOException {
    try {
      Files.createLink(file, aside);
    } catch (FileAlreadyExistsException e) {
      refuseExisting(file);
    } catch (UnsupportedOperationException | FileSystemException e) {
      // A file system without links. The lock keeps other programs away.
      Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE);
    }
  }

  private static void deleteIfEmpty(Path directory) {
    try {
      Files.deleteIfExists(directory);
    } catch (IOException e) {
      // It holds something else, or was never made.
    }
  }

  private static void sync(Path directory) throws IOException {
    try (FileChannel channel = FileChannel.open(directory, StandardOpenOption.READ)) {
      channel.force(true);
    }
  }
}
