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

/** Where the trials of an exploration or a tuning run. */
final class EngineOptions {
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

  /** Whether the trials run in this program. */
  boolean inThisProgram() {
    return name.equals(POOL);
  }

  /**
   * The engine that was asked for.
   *
   * @param workers threads of this program
   * @param extensions own policies, which travel with the work
   * @param parquet directory into which the machines of a cluster write every trial; empty: not
   *     wanted
   */
  Engine engine(int workers, Extensions extensions, Optional<Path> parquet) throws UsageException {
    if (inThisProgram()) {
      if (master != null) {
        throw new UsageException("--master " + master + " needs --on spark");
      }
      return new Pool(workers);
    }
    EngineOrder order = new EngineOrder(master == null ? "" : master, extensions.paths(), parquet);
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
