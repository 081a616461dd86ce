package org.stopwell.harness.explore;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * What an engine on other machines needs beside the work.
 *
 * @param master where its machines are; empty where the surroundings say it
 * @param extensions jars and directories of classes that the work uses
 * @param parquet directory into which the machines write every trial as Parquet; empty: not wanted
 */
public record EngineOrder(String master, List<Path> extensions, Optional<Path> parquet) {
  /** Takes a copy. */
  public EngineOrder {
    extensions = List.copyOf(extensions);
  }
}
