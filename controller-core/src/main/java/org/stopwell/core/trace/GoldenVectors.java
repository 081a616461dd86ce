package org.stopwell.core.trace;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Map;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/**
 * Writes one scenario for a port to another language: settings, and every step's time, input,
 * output and state hash, little-endian, closed by a checksum. The layout is in {@code
 * controller-core/port-c/README.md}.
 */
public final class GoldenVectors {
  private static final String MAGIC = "STOPWELL";
  private static final int STEP_BYTES =
      Long.BYTES + FrameCodec.INPUT_BYTES + FrameCodec.OUTPUT_BYTES + Long.BYTES;

  private static final int POINT_BYTES = 2 * Long.BYTES + 2 * Integer.BYTES;

  private final byte[] bytes;
  private final ByteBuffer to;

  private GoldenVectors(int size) {
    bytes = new byte[size];
    to = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
  }

  /**
   * Begins a vector.
   *
   * @param settings what the controller was made with
   * @param steps how many steps will follow
   * @return a writer with room for exactly these steps
   */
  public static GoldenVectors begin(ControllerSettings settings, int steps) {
    GoldenVectors vectors =
        new GoldenVectors(headerBytes(settings) + steps * STEP_BYTES + Long.BYTES);
    vectors.header(settings);
    vectors.to.putInt(steps);
    return vectors;
  }

  private static int headerBytes(ControllerSettings settings) {
    int bytes = MAGIC.length() + 4 * Integer.BYTES + Long.BYTES;
    for (Map.Entry<String, ParameterTable> section : settings.written().entrySet()) {
      for (Parameter p : section.getValue().parameters()) {
        bytes += 1 + section.getKey().length() + 1 + p.key().length() + Long.BYTES;
      }
    }
    return bytes + settings.calibration().points().size() * POINT_BYTES;
  }

  private void header(ControllerSettings settings) {
    ascii(MAGIC);
    to.putInt(FrameCodec.VERSION).putLong(settings.fingerprint());
    Map<String, ParameterTable> sections = settings.written();
    to.putInt(sections.values().stream().mapToInt(t -> t.parameters().size()).sum());
    sections.forEach(
        (name, table) -> {
          for (Parameter p : table.parameters()) {
            String key = name + "." + p.key();
            to.put((byte) key.length());
            ascii(key);
            to.putLong(settings.section(name).get(p));
          }
        });
    to.putInt(settings.calibration().points().size());
    for (Calibration.Point point : settings.calibration().points()) {
      to.putLong(point.feature()).putInt(point.remainingMicrons()).putLong(point.lowMilliOhms());
      to.putInt(point.boundMicrons());
    }
  }

  private void ascii(String text) {
    for (int i = 0; i < text.length(); i++) {
      to.put((byte) text.charAt(i));
    }
  }

  /**
   * Adds one step.
   *
   * @param nowNs its time, ns
   * @param in its input
   * @param out its output
   * @param stateHash the hash after it
   */
  public void step(long nowNs, ControllerInput in, ControllerOutput out, long stateHash) {
    to.putLong(nowNs);
    FrameCodec.put(in, to);
    FrameCodec.put(out, to);
    to.putLong(stateHash);
  }

  /**
   * Closes the vector.
   *
   * @return all its bytes
   */
  public byte[] close() {
    to.putLong(checksum(bytes, to.position()));
    if (to.hasRemaining()) {
      throw new IllegalStateException(to.remaining() / STEP_BYTES + " steps are missing");
    }
    return bytes;
  }

  /**
   * The checksum that closes a vector: FNV-1a, 64 bits.
   *
   * @param bytes the vector
   * @param length how many of them count
   * @return the checksum
   */
  public static long checksum(byte[] bytes, int length) {
    long hash = 0xcbf29ce484222325L;
    for (int i = 0; i < length; i++) {
      hash = (hash ^ (bytes[i] & 0xff)) * 0x100000001b3L;
    }
    return hash;
  }
}
