package org.stopwell.core.motion;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class SpeedRampTest {

  @Test
  void threeThousandRpmPerSecondReachThreeHundredInATenthOfASecond() {
    SpeedRamp ramp = new SpeedRamp();
    for (int i = 0; i < 99; i++) {
      ramp.update(1_000_000, 300_000, 3_000_000);
    }
    assertEquals(297_000, ramp.speedMilliRpm());
    ramp.update(1_000_000, 300_000, 3_000_000);
    assertEquals(300_000, ramp.speedMilliRpm());
    ramp.update(1_000_000, 300_000, 3_000_000);
    assertEquals(300_000, ramp.speedMilliRpm());
  }

  @Test
  void slowingDownTakesTheSameRamp() {
    SpeedRamp ramp = new SpeedRamp();
    ramp.update(100_000_000, 300_000, 3_000_000);
    ramp.update(10_000_000, 150_000, 3_000_000);
    assertEquals(270_000, ramp.speedMilliRpm());
  }

  @Test
  void shortStepsLoseNothing() {
    SpeedRamp ramp = new SpeedRamp();
    for (int i = 0; i < 1_000_000; i++) {
      ramp.update(100, 300_000, 3_000_000);
    }
    assertEquals(300_000, ramp.speedMilliRpm());
  }

  @Test
  void aRestIsImmediate() {
    SpeedRamp ramp = new SpeedRamp();
    ramp.update(100_000_000, 300_000, 3_000_000);
    ramp.rest();
    assertEquals(0, ramp.speedMilliRpm());
  }
}
