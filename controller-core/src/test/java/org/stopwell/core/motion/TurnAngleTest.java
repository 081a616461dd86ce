package org.stopwell.core.motion;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class TurnAngleTest {

  @Test
  void threeHundredRpmForASecondIsFiveTurns() {
    TurnAngle angle = new TurnAngle();
    for (int i = 0; i < 4_000; i++) {
      angle.update(250_000, 300_000);
    }
    assertEquals(5 * 360_000, angle.milliDegrees());
  }

  @Test
  void nothingIsLostAtTheSlowestSpeed() {
    TurnAngle angle = new TurnAngle();
    for (int i = 0; i < 1_000_000; i++) {
      angle.update(1_000, 1);
    }
    // 1 milli-rpm for 1 s is 0.006 degrees.
    assertEquals(6, angle.milliDegrees());
  }
}
