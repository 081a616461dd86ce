package org.stopwell.core.motion;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ReciprocationTest {
  private static final int SUBSTEPS = 20;
  private static final long STEP_NS = 1_000_000;

  /** Speed of the file follows the command as a first-order lag, after a delay of the link. */
  @ParameterizedTest
  @CsvSource({
    "200, 3, 0",
    "300, 3, 0",
    "300, 8, 2",
    "300, 15, 1",
    "400, 5, 2",
    "150, 20, 3",
    "500, 5, 0"
  })
  void turningPointsHoldToTwoDegrees(int rpm, int lagMs, int delayMs) {
    Reciprocation strokes = new Reciprocation(120_000, 40_000);
    strokes.begin();
    double[] delayed = new double[delayMs + 1];
    double speed = 0;
    double angle = 0;
    double extreme = 0;
    double target = 120;
    boolean up = true;
    int turned = 0;
    double worst = 0;
    for (int ms = 0; ms < 10_000; ms++) {
      strokes.update(STEP_NS, (int) (speed * 1_000));
      System.arraycopy(delayed, 0, delayed, 1, delayMs);
      delayed[0] = strokes.forward() ? rpm : -rpm;
      for (int i = 0; i < SUBSTEPS; i++) {
        double before = speed;
        speed += (delayed[delayMs] - speed) * (1.0 / SUBSTEPS / lagMs);
        angle += speed * 6 / 1_000 / SUBSTEPS;
        extreme = up ? Math.max(extreme, angle) : Math.min(extreme, angle);
        if (before > 0 != speed > 0 && before != 0) {
          double error = extreme - target;
          turned++;
          if (turned > 10) {
            worst = Math.max(worst, Math.abs(error));
          }
          up = !up;
          target += up ? 120 : -40;
          extreme = angle;
        }
      }
    }
    System.out.printf(
        "%d rpm, lag %d ms, delay %d ms: worst %.2f degrees over %d%n",
        rpm, lagMs, delayMs, worst, turned);
    assertTrue(turned > 50, "turned " + turned);
    assertTrue(worst <= 2, "worst " + worst);
    assertEquals(turned * 40.0, angle, 140, "net advance");
  }
}
