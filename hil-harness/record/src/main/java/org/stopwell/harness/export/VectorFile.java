package org.stopwell.harness.export;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.GoldenVectors;
import org.stopwell.harness.trial.TraceReader;

/**
 * Golden vectors: what a port of the controller must reproduce. A recorded trial becomes one; the
 * shipped vectors cover every transition of the controller.
 */
public final class VectorFile {
  private VectorFile() {}

  /**
   * Makes a vector.
   *
   * @param trace a recorded trial
   * @param settings the settings of the controller in it
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

  /**
   * The vectors that ship.
   *
   * @return the bytes of each {@code .swv} file by its name, in order
   */
  public static Map<String, byte[]> shipped() {
    Map<String, byte[]> vectors = new LinkedHashMap<>();
    try (ZipInputStream zip =
        new ZipInputStream(
            Objects.requireNonNull(VectorFile.class.getResourceAsStream("vectors.zip")))) {
      ZipEntry entry;
      while ((entry = zip.getNextEntry()) != null) {
        vectors.put(entry.getName(), zip.readAllBytes());
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return vectors;
  }
}
