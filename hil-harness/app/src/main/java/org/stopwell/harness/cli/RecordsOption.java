package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.rig.bench.BenchDescription;
import picocli.CommandLine.Option;

/** The directory of the proofs and calibrations of benches. */
final class RecordsOption {
  @Option(
      names = "--records",
      paramLabel = "DIR",
      description =
          "Directory of proofs and calibrations, one file each per serial number of a"
              + " bench. Default: the directory named by the station file, or benches/.")
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
