package org.stopwell.harness.campaign;

import java.math.BigDecimal;
import java.util.Optional;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.device.TipSeen;

/**
 * Advances the file after a stop in an extracted tooth until an observer sees its tip at the
 * foramen. The way is the distance at rest.
 */
final class TipAdvance {
  /** So far before the expected place the looks begin, µm (assumed: above any length error). */
  private static final int NEAR_MICRONS = 300;

  /** So far past the expected place the looks end, µm (assumed). */
  private static final int BEYOND_MICRONS = 1_500;

  /** Speed of the way, µm/s; assumed: slow enough to take a hand away. */
  private static final int MICRONS_PER_SECOND = 500;

  private TipAdvance() {}

  /**
   * Advances and asks after each step.
   *
   * @param stage the stage that carries the file
   * @param attendant who looks at the foramen
   * @param expectedMicrons distance to the foramen by the measured length, µm
   * @return what was seen; empty when a question stayed without an answer, when the tip showed
   *     before the careful steps, or not at all
   */
  static Optional<TipSeen> ask(LinearStage stage, Attendant attendant, int expectedMicrons)
      throws BenchException {
    int begin = stage.status().positionMicrons();
    int quick = Math.max(0, expectedMicrons - NEAR_MICRONS);
    int most = Math.max(0, expectedMicrons) + BEYOND_MICRONS;
    if (quick > 0) {
      stage.moveTo(begin + quick, MICRONS_PER_SECOND);
    }
    for (int way = quick; way <= most; way += TipSeen.STEP_MICRONS) {
      if (way > quick) {
        stage.moveTo(begin + way, MICRONS_PER_SECOND);
      }
      Optional<String> seen =
          attendant.answer(
              new Attendant.Question(
                  Attendant.Wanted.WORDS,
                  "Look at the foramen. Does the tip of the file show? y; n: the stage goes on by "
                      + mm(TipSeen.STEP_MICRONS)
                      + " mm",
                  ""));
      if (seen.isEmpty()) {
        return Optional.empty();
      }
      if (seen.get().strip().equalsIgnoreCase("y")) {
        if (way == quick && quick > 0) {
          attendant.tell(
              "The tip shows "
                  + mm(NEAR_MICRONS)
                  + " mm before the place that the measured length gives, or earlier: the distance"
                  + " is not known. Check the measured length of the tooth.");
          return Optional.empty();
        }
        return Optional.of(TipSeen.after(way));
      }
    }
    attendant.tell(
        "The tip did not show within "
            + mm(BEYOND_MICRONS)
            + " mm past the place that the measured length gives. Check the measured length of the"
            + " tooth and the file.");
    return Optional.empty();
  }

  private static String mm(int microns) {
    return BigDecimal.valueOf(microns, 3).stripTrailingZeros().toPlainString();
  }
}
