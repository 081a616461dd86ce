package org.stopwell.rig.time;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class PaceTest {
  private static final long MS = 1_000_000;

  @Test
  void lockstep_time_is_exact_and_never_late() {
    Pace pace = Pace.lockstep(MS);
    for (int i = 0; i < 1000; i++) {
      assertEquals(i * MS, pace.next());
      assertEquals(0, pace.latenessNs());
    }
  }

  @Test
  void real_time_never_comes_early_and_tells_how_late_it_is() {
    Pace pace = Pace.realTime(2 * MS);
    long before = System.nanoTime();
    long last = -1;
    for (int i = 0; i < 50; i++) {
      long nowNs = pace.next();
      assertTrue(nowNs >= 2L * i * MS, "step " + i + " at " + nowNs);
      assertEquals(nowNs - 2L * i * MS, pace.latenessNs());
      assertTrue(nowNs > last);
      last = nowNs;
    }
    assertTrue(System.nanoTime() - before >= 49 * 2 * MS);
  }

  /** Deadlines are absolute: the steps after a stall are taken at once until time is caught up. */
  @Test
  void a_stall_makes_one_step_late_and_does_not_move_the_others() {
    Pace pace = Pace.realTime(10 * MS);
    pace.next();
    long stallEnds = System.nanoTime() + 35 * MS;
    while (System.nanoTime() < stallEnds) {
      Thread.onSpinWait();
    }
    assertTrue(pace.next() >= 35 * MS);
    assertTrue(pace.latenessNs() >= 25 * MS);
    pace.next();
    pace.next();
    long fourth = pace.next();
    assertTrue(fourth >= 40 * MS, "at " + fourth);
    assertEquals(fourth - 40 * MS, pace.latenessNs());
  }

  @Test
  void an_idle_loop_says_how_late_it_was_and_ends() {
    Pace beside = Pace.realTime(MS);
    try (IdleLoop idle = new IdleLoop(MS)) {
      for (int i = 0; i < 20; i++) {
        beside.next();
      }
      long worst = idle.worstNs();
      assertTrue(worst > 0, "late by " + worst);
      assertEquals(worst, idle.worstNs(), "it has ended");
    }
  }
}
