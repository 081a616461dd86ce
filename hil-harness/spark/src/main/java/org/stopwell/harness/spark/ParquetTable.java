package org.stopwell.harness.spark;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.stopwell.harness.explore.EngineException;
import org.stopwell.harness.explore.UnitSet;

/**
 * The trials as Parquet: a directory with one file for each finished shard. A worker writes the
 * file of its shard into a directory that belongs to one run of the program, and the program moves
 * the file into the table when it accepts the shard. So a shard that is computed twice is in the
 * table once, and workers that outlive a dead program write nothing into the table.
 */
final class ParquetTable {
  /** A file that says that the table is complete, as Spark names it. */
  static final String COMPLETE = "_SUCCESS";

  /** Readers of Parquet pass over names that begin so. */
  private static final String PENDING = "_pending-";

  private static final Pattern PART = Pattern.compile("part-(\\d+)-(\\d+)\\.parquet");

  private final Path directory;
  private final Path pending;

  /**
   * The table of one run of the program.
   *
   * @param directory the table
   * @param run a name that no other run has
   */
  ParquetTable(Path directory, String run) {
    this.directory = directory.toAbsolutePath();
    this.pending = this.directory.resolve(PENDING + run);
  }

  /** The file of a shard. */
  static String part(long from, long to) {
    return "part-%012d-%012d.parquet".formatted(from, to);
  }

  /** Where workers write. */
  Path pending() {
    return pending;
  }

  /**
   * Removes what earlier runs left over, and prepares the directory for workers.
   *
   * @param finished the units that count already
   * @throws EngineException when their trials are not in the table
   */
  void begin(UnitSet finished) {
    try {
      Files.createDirectories(directory);
      Files.deleteIfExists(directory.resolve(COMPLETE));
      long there = 0;
      try (DirectoryStream<Path> files = Files.newDirectoryStream(directory)) {
        for (Path file : files) {
          String name = String.valueOf(file.getFileName());
          Optional<UnitSet.Range> shard = shard(name);
          if (shard.isPresent() && isIn(finished, shard.get())) {
            there += shard.get().size();
          } else if (shard.isPresent() || name.startsWith(PENDING)) {
            delete(file);
          }
        }
      }
      if (there != finished.size()) {
        throw new EngineException(
            "%s holds %d of the %d units that are finished; the others ran without it. Add --no-parquet, or remove explore.state to begin again"
                .formatted(directory, there, finished.size()));
      }
      Files.createDirectory(pending);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Optional<UnitSet.Range> shard(String name) {
    Matcher part = PART.matcher(name);
    return part.matches()
        ? Optional.of(
            new UnitSet.Range(Long.parseLong(part.group(1)), Long.parseLong(part.group(2))))
        : Optional.empty();
  }

  private static boolean isIn(UnitSet finished, UnitSet.Range shard) {
    return finished.gap(shard.from(), shard.to(), 1).isEmpty();
  }

  /**
   * Takes the file of an accepted shard into the table.
   *
   * @return false when the file is not there: the worker wrote it on a disk of its own
   */
  boolean accept(UnitSet.Range shard) {
    String name = part(shard.from(), shard.to());
    try {
      Files.move(
          pending.resolve(name),
          directory.resolve(name),
          StandardCopyOption.ATOMIC_MOVE,
          StandardCopyOption.REPLACE_EXISTING);
      return true;
    } catch (NoSuchFileException e) {
      return false;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Says that every trial is in the table. */
  void complete() {
    try {
      Files.write(directory.resolve(COMPLETE), new byte[0]);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Removes what is not in the table. */
  void end() {
    try {
      delete(pending);
    } catch (IOException e) {
      // A worker that was thought dead still writes; the next run removes the directory.
    }
  }

  private static void delete(Path place) throws IOException {
    if (!Files.exists(place)) {
      return;
    }
    List<Path> all;
    try (Stream<Path> inside = Files.walk(place)) {
      all = inside.sorted(Comparator.reverseOrder()).toList();
    }
    for (Path file : all) {
      Files.deleteIfExists(file);
    }
  }
}
