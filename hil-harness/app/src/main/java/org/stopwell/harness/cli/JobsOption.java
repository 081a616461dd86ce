package org.stopwell.harness.cli;

import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** How many trials run at the same time. */
final class JobsOption {
  @Option(
      names = "--jobs",
      paramLabel = "N",
      description = "Trials that run at the same time. Default: the number of processors.")
  @Nullable Integer asked;
}
