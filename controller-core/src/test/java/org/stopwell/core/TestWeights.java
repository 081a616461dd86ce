package org.stopwell.core;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Objects;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.core.weights.WeightsException;

/** The weights that ship with the core, as tests read them. */
public final class TestWeights {
  /** The weights. */
  public static final DepthWeights SHIPPED = read();

  private TestWeights() {}

  /** Settings that may choose any built-in policy, also one that reads by weights. */
  public static ControllerSettings settings(
      Map<String, ? extends Map<String, ?>> written, Calibration curve) throws SettingsException {
    return ControllerSettings.of(written, curve, PolicyTables.BUILT_IN, SHIPPED);
  }

  /** The text of the shipped file. */
  public static String text() {
    try (InputStream in =
        Objects.requireNonNull(
            DepthWeights.class.getResourceAsStream("/stopwell-weights/shipped.weights"))) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private static DepthWeights read() {
    try {
      return DepthWeightsText.decode("shipped.weights", text());
    } catch (WeightsException e) {
      throw new AssertionError(e);
    }
  }
}
