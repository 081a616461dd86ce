package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.TestWeights;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.Calibration;

/** A reading that is smoothed tells where the file was, and a feed goes on. */
class SmoothedReadingTest {
  private static final long SAMPLE_NS = 5_000_000;
  private static final double FEED_MICRONS_PER_SECOND = 1_000;
  private static final double START_MICRONS = 3_000;

  private static double placeMicrons(long ns) {
    return START_MICRONS - FEED_MICRONS_PER_SECOND * (ns * 1e-9);
  }

  /** Under an even feed the distance is that of now, however old the reading says that it is. */
  @ParameterizedTest(name = "{0} ms old")
  @ValueSource(ints = {0, 37, 60})
  void theDistanceIsThatOfNow(int lagMs) throws Exception {
    long lagNs = lagMs * 1_000_000L;
    Sensing late =
        (in, out) -> {
          out.placed = true;
          out.inside = true;
          out.lagNs = lagNs;
          out.sdMicrons = 10;
          out.remainingMicrons = placeMicrons(in.sampleTimeNs - lagNs);
        };
    PositionSense sense =
        new PositionSense(
            TestWeights.settings(
                Map.of(
                    "file",
                    Map.of("size", 15, "taper", "0.02"),
                    "sense",
                    Map.of("policy", "approach"),
                    "stages.length",
                    Map.of("torque_ncm", "0.1")),
                Calibration.NONE),
            late);
    ControllerInput in = new ControllerInput();
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 4;
    long now = 0;
    for (int sample = 1; sample <= 300; sample++) {
      now = sample * SAMPLE_NS;
      in.sampleSequence = sample;
      in.sampleTimeNs = now;
      in.zRealMilliOhms[0] = 10_000_000 - sample;
      sense.update(now, SAMPLE_NS, in);
    }
    // without its age the reading would be 37 and 60 µm too far
    assertEquals(placeMicrons(now), sense.remainingMicrons(now), 5);
  }
}
