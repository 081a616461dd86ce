package org.stopwell.harness.firmware;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.weights.DepthWeights;

/** Reads the settings of a golden vector, so that firmware can be made for it. */
public final class GoldenVector {
  private static final int BEFORE_SETTINGS = 12;

  private GoldenVector() {}

  /**
   * The fingerprint of the settings.
   *
   * @param vector the bytes of a {@code .swv} file
   * @return 64 bits
   */
  public static long fingerprint(byte[] vector) {
    return ByteBuffer.wrap(vector).order(ByteOrder.LITTLE_ENDIAN).getLong(BEFORE_SETTINGS);
  }

  /**
   * The settings, as the controller of the vector was made with.
   *
   * @param vector the bytes of a {@code .swv} file
   * @param weights for settings that read by weights; may be absent for all others
   * @return checked settings
   * @throws SettingsException when the vector needs other policies or weights
   */
  public static ControllerSettings settings(byte[] vector, @Nullable DepthWeights weights)
      throws SettingsException {
    ByteBuffer from = ByteBuffer.wrap(vector).order(ByteOrder.LITTLE_ENDIAN);
    from.position(BEFORE_SETTINGS + Long.BYTES);
    Map<String, ParameterTable> tables = ControllerSettings.tables();
    Map<String, Map<String, Object>> written = new LinkedHashMap<>();
    for (int left = from.getInt(); left > 0; left--) {
      byte[] text = new byte[from.get() & 0xff];
      from.get(text);
      String key = new String(text, StandardCharsets.US_ASCII);
      long value = from.getLong();
      int dot = key.lastIndexOf('.');
      String section = key.substring(0, dot);
      Map<String, Object> values = written.computeIfAbsent(section, s -> new LinkedHashMap<>());
      Parameter p = parameter(Objects.requireNonNull(tables.get(section)), key.substring(dot + 1));
      if (value != p.defaultValue() || p.required()) {
        values.put(p.key(), p.human(value));
      }
    }
    List<Calibration.Point> points = new ArrayList<>();
    for (int left = from.getInt(); left > 0; left--) {
      points.add(
          new Calibration.Point(from.getLong(), from.getInt(), from.getLong(), from.getInt()));
    }
    return ControllerSettings.of(written, new Calibration(points), PolicyTables.BUILT_IN, weights);
  }

  private static Parameter parameter(ParameterTable table, String key) {
    return table.parameters().stream().filter(p -> p.key().equals(key)).findFirst().orElseThrow();
  }
}
