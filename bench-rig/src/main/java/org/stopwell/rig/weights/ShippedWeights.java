package org.stopwell.rig.weights;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Objects;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.core.weights.WeightsException;

/** The weights of the depth estimate that come with the program. They are read once. */
public final class ShippedWeights {
  /** Where the core keeps them; no package has this name, so every module can read it. */
  private static final String PLACE = "/stopwell-weights/shipped.weights";

  private static final DepthWeights SHIPPED = read();

  private ShippedWeights() {}

  /**
   * The shipped weights.
   *
   * @return the same object every time
   */
  public static DepthWeights get() {
    return SHIPPED;
  }

  private static DepthWeights read() {
    try (InputStream in =
        Objects.requireNonNull(DepthWeights.class.getResourceAsStream(PLACE), PLACE)) {
      return DepthWeightsText.decode(
          "shipped.weights", new String(in.readAllBytes(), StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (WeightsException e) {
      throw new IllegalStateException(e);
    }
  }
}
