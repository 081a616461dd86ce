package org.stopwell.harness.trace;

import java.nio.file.Path;

/**
 * A trace of a directory: one approach of a file to the foramen of one tooth.
 *
 * @param file the CSV file
 * @param tooth which tooth; several traces of one tooth are not independent
 * @param fluid what filled the canal; {@link TraceDirectory#FLUID_NOT_STATED} without a manifest
 * @param lengthUncertaintyMicrons standard uncertainty of the measured length, µm; 0 when the
 *     manifest states none
 */
public record TracedApproach(Path file, String tooth, String fluid, int lengthUncertaintyMicrons) {

  /**
   * Reads the trace and checks every cell. Memory holds all of it.
   *
   * @return the trace
   * @throws TraceException with every mistake, at most 20, each with its line
   */
  public TruthTrace read() throws TraceException {
    return TruthTrace.read(file);
  }
}
