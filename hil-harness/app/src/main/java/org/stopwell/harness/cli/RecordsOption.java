package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.rig.bench.BenchDescription;
import picocli.CommandLine.Option;

/** Where the proofs and calibrations of benches lie. */
final class RecordsOption {
  @Option(
      names = "--records",
      paramLabel = "DIR",
      description =
          "Directory with the proofs and calibrations, one file each per serial number of a bench;"
              + " that of the station file, or benches/, unless told.")
  @Nullable Path directory;

  /** The records of one bench. */
  BenchRecords of(BenchDescription bench, @Nullable Path station) {
    return new BenchRecords(chosen(station), bench, !bench.simulated() || directory != null);
  }

  private Path chosen(@Nullable Path station) {
    if (directory != null) {
      return directory;
    }
    return station == null
        ? Path.of("benches")
        : Objects.requireNonNullElse(station.getParent(), Path.of(""));
  }
}
