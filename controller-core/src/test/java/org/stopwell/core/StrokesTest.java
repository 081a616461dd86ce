package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.State;

/** A hand that goes 1 mm up and down while it feeds, and answers to a stop after 150 ms. */
class StrokesTest {
  private static final double FEED_MICRONS_PER_S = 400;
  private static final double HALF_STROKE_MICRONS = 500;
  private static final int HAND_MS = 150;
  private static final int PHASES = 8;

  @ParameterizedTest(name = "{0} strokes a second")
  @ValueSource(doubles = {0.5, 0.7, 1, 1.5, 2})
  void theFileComesToTheStandoffThoughItTurnsBackOnTheWay(double hertz) {
    double foreseen = worst(hertz, Map.of());
    double unforeseen = worst(hertz, Map.of("stroke_mm", 0, "feed_change_mm_s", "2"));
    System.out.printf(
        "%.1f Hz: %.0f µm off at worst, by a feed alone %.0f µm%n", hertz, foreseen, unforeseen);
    assertTrue(foreseen <= 200, foreseen + " µm");
    assertTrue(hertz < 1.5 || unforeseen > 2 * foreseen, unforeseen + " µm by a feed alone");
  }

  private static double worst(double hertz, Map<String, Object> sense) {
    double worst = 0;
    for (int phase = 0; phase < PHASES; phase++) {
      worst = Math.max(worst, Math.abs(deepest(hertz, phase, sense) - 500));
    }
    return worst;
  }

  /** The deepest that the file comes from the decision on until the hand stays, µm. */
  private static double deepest(double hertz, int phase, Map<String, Object> sense) {
    Map<String, Map<String, Object>> settings = TestBench.length("learn_coast", false);
    settings.put("sense", new LinkedHashMap<>(sense));
    TestBench bench = new TestBench(settings).started();
    double rate = 2 * Math.PI * hertz;
    double deepest = Double.POSITIVE_INFINITY;
    int ms = 0;
    for (int left = HAND_MS; left > 0; ms++) {
      double angle = rate * ms / 1_000 + 2 * Math.PI * phase / PHASES;
      bench.feedMicronsPerSecond =
          FEED_MICRONS_PER_S + HALF_STROKE_MICRONS * rate * Math.cos(angle);
      bench.step();
      if (bench.out.state == State.HOLDING) {
        left--;
        deepest = Math.min(deepest, bench.remainingMicrons);
      }
    }
    return deepest;
  }
}
