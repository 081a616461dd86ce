package org.stopwell.core.trace;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;

/** The layout that stands in the page of the port, byte by byte. */
class GoldenVectorsSizeTest {
  private static ControllerSettings settings(int points) throws Exception {
    List<Calibration.Point> curve =
        IntStream.range(0, points)
            .mapToObj(i -> new Calibration.Point(500_000 + i, 1_000 * i, 20_000_000 + i))
            .toList();
    return ControllerSettings.of(
        Map.of("file", Map.of(), "sense", Map.of(), "stages.length", Map.of()),
        new Calibration(curve));
  }

  @Test
  void aPointOfTheCurveTakes24BytesAndAStep138() throws Exception {
    int two = GoldenVectors.begin(settings(2), 0).close().length;
    assertEquals(two + 3 * 24, GoldenVectors.begin(settings(5), 0).close().length);
    GoldenVectors one = GoldenVectors.begin(settings(2), 1);
    one.step(0, new ControllerInput(), new ControllerOutput(), 0);
    assertEquals(two + 138, one.close().length);
  }

  @Test
  void aVectorThatIsClosedTooEarlySaysHowManyStepsAreMissing() throws Exception {
    GoldenVectors vectors = GoldenVectors.begin(settings(2), 3);
    vectors.step(0, new ControllerInput(), new ControllerOutput(), 0);
    assertEquals(
        "2 steps are missing",
        assertThrows(IllegalStateException.class, vectors::close).getMessage());
  }
}
