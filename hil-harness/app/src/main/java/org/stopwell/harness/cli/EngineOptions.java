package org.stopwell.harness.cli;

import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineProvider;
import org.stopwell.harness.explore.Pool;
import picocli.CommandLine.Option;

/** Where the trials of an exploration run. */
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

  /** The engine that was asked for. */
  Engine engine(int workers, Extensions extensions) throws UsageException {
    if (name.equals(POOL)) {
      if (master != null) {
        throw new UsageException("--master " + master + " needs --on spark");
      }
      return new Pool(workers);
    }
    if (!extensions.words().isEmpty()) {
      throw new UsageException(
          "--on " + name + ": own policies of --extensions are on this machine only");
    }
    try {
      for (EngineProvider offered : ServiceLoader.load(EngineProvider.class)) {
        if (offered.name().equals(name)) {
          return offered.at(master == null ? "" : master);
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
