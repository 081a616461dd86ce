package org.stopwell.core.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class StepClockTest {
  private final StepClock clock = new StepClock(50);

  @Test
  void timeThatPassesIsCounted() {
    assertEquals(0, clock.advance(-7), "the first step has nothing before it");
    assertEquals(0, clock.advance(-7));
    assertEquals(50, clock.advance(43));
    assertFalse(clock.fault());
  }

  @Test
  void timeThatGoesBackwardsDoesNotPass() {
    clock.advance(100);
    assertEquals(0, clock.advance(99));
    assertTrue(clock.fault());
    assertEquals(1, clock.advance(100), "and goes on from there");
    assertFalse(clock.fault());
  }

  @Test
  void timeThatJumpsPassesByTheLongestGap() {
    clock.advance(0);
    assertEquals(50, clock.advance(51));
    assertTrue(clock.fault());
    clock.advance(Long.MIN_VALUE);
    assertEquals(50, clock.advance(Long.MAX_VALUE), "further than a number can say");
    assertTrue(clock.fault());
    assertEquals(0, clock.advance(Long.MIN_VALUE), "back by more than a number can say");
    assertTrue(clock.fault());
  }
}
