package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineOrder;
import org.stopwell.harness.explore.EngineProvider;
import org.stopwell.harness.explore.Pool;
import picocli.CommandLine.Option;

/** Where the trials of an exploration run. */
final class EngineOptions {
  /** Name of the table that the workers of a cluster write. */
  private static final String PARQUET = "trials.parquet";

  private static final String POOL = "pool";

  @Option(
      names = "--on",
      paramLabel = "ENGINE",
      description =
          "Where the trials run: pool (threads of this program) or spark (docs/spark.md). Default:"
              + " pool. The result is the same.")
  String name = POOL;

  @Option(
      names = "--master",
      paramLabel = "URL",
      description = "Address of the Spark cluster, such as spark://node1:7077.")
  @Nullable String master;

  @Option(
      names = "--parquet",
      negatable = true,
      description =
          "Let the workers of a cluster write every trial to trials.parquet, in an output directory"
              + " that they share. Default: with --on spark, where trials.npy is written.")
  @Nullable Boolean parquet;

  /**
   * The engine that was asked for.
   *
   * @param table whether every trial is wanted
   * @param directory output directory
   */
  Engine engine(int workers, Extensions extensions, boolean table, Path directory)
      throws UsageException {
    if (name.equals(POOL)) {
      if (parquet != null && parquet) {
        throw new UsageException(
            "--parquet needs --on spark; without it, trials.npy has every trial");
      }
      if (master != null) {
        throw new UsageException("--master " + master + " needs --on spark");
      }
      return new Pool(workers);
    }
    boolean wanted = parquet == null ? table : parquet;
    EngineOrder order =
        new EngineOrder(
            master == null ? "" : master,
            extensions.paths(),
            wanted ? Optional.of(directory.resolve(PARQUET)) : Optional.empty());
    try {
      for (EngineProvider offered : ServiceLoader.load(EngineProvider.class)) {
        if (offered.name().equals(name)) {
          return offered.at(order);
        }
      }
    } catch (ServiceConfigurationError e) {
      throw new UsageException("--on " + name + ": " + e.getMessage());
    }
    throw new UsageException(
        "--on "
            + name
            + ": this program has no such engine; give pool or spark. ./stopwell adds Spark when"
            + " its command line holds --on spark");
  }
}
