package org.stopwell.harness.tune;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.KeptPieces;
import org.stopwell.harness.explore.KeptShards;

/**
 * The finished part of a tuning in its output directory: a file of finished work, and a file of the
 * work in progress. A second start finds both and does the rest.
 */
public final class TuneState {
  /** Name of the file of finished work. */
  public static final String NAME = "tune.state";

  /** Name of the file of the work in progress; it goes when that is finished. */
  static final String PART = "tune.part";

  private final Path directory;
  private final KeptPieces pieces;
  private final long begun;

  /**
   * Opens the files of a tuning, or begins them.
   *
   * @param directory output directory, which exists
   * @param tuning the tuning
   * @throws IOException when a file belongs to another tuning or is damaged; the message says so
   */
  public TuneState(Path directory, Tuning tuning) throws IOException {
    this.directory = directory;
    this.pieces =
        new KeptPieces(
            directory.resolve(NAME),
            "stopwell tune " + tuning.fingerprint(),
            "space, plan, settings, seed, number of trials or build");
    Optional<KeptShards.Begun> part = KeptShards.begun(directory.resolve(PART));
    String own = tuning.fingerprint() + " ";
    this.begun =
        part.filter(p -> p.fingerprint().startsWith(own))
            .map(p -> trialsOfPart(p, p.fingerprint().substring(own.length())))
            .orElse(0L);
  }

  private long trialsOfPart(KeptShards.Begun part, String name) {
    return pieces.find(name).isPresent() ? 0 : part.units().size() * CanalWork.unitTrials(name);
  }

  /**
   * How many trials were finished when the files were opened, or have become so with their work.
   *
   * @return trials
   */
  public long trials() {
    return begun + pieces.names().stream().mapToLong(CanalWork::trials).sum();
  }

  Optional<byte[]> find(CanalWork work) {
    return pieces.find(work.name());
  }

  /** The file of this work while it is in progress. */
  KeptShards<CanalSums> part(CanalWork work) {
    return new KeptShards<>(directory, PART, work);
  }

  /** What is finished of work that was in progress. */
  Finished<CanalSums> before(CanalWork work) throws IOException {
    boolean same =
        KeptShards.begun(directory.resolve(PART))
            .filter(p -> p.fingerprint().equals(work.fingerprint()))
            .isPresent();
    return same ? part(work).read().orElseThrow() : Finished.none(work);
  }

  void keep(CanalWork work, byte[] sums) {
    pieces.keep(work.name(), sums);
    try {
      Files.deleteIfExists(directory.resolve(PART));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
