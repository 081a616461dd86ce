package org.stopwell.harness.export;

import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.GoldenVectors;
import org.stopwell.harness.trial.TraceReader;

/** A recorded trial as a golden vector: what a port of the controller must do again. */
public final class VectorFile {
  private VectorFile() {}

  /**
   * Makes a vector.
   *
   * @param trace a recorded trial
   * @param settings what the controller was told in it
   * @return the bytes of a {@code .swv} file
   */
  public static byte[] of(byte[] trace, ControllerSettings settings) {
    TraceReader reader = new TraceReader(trace);
    GoldenVectors vectors = GoldenVectors.begin(settings, reader.steps());
    while (reader.next()) {
      vectors.step(reader.nowNs, reader.in, reader.out, reader.stateHash);
    }
    return vectors.close();
  }
}
