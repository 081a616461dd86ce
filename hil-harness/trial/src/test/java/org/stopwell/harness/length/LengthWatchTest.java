package org.stopwell.harness.length;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

class LengthWatchTest {
  private static final long MS = 1_000_000;

  @Test
  void aStopAtTheStandoffIsReadOnceAfterItHasSettled() {
    LengthWatch watch = LengthWatch.of(MovedBy.MOTOR, 500);
    ControllerOutput out = stopped();
    assertFalse(watch.ripe(0, out), "not yet at rest");
    assertFalse(watch.ripe(300 * MS - 1, out));
    assertTrue(watch.ripe(300 * MS, out));
    assertFalse(watch.ripe(400 * MS, out), "once per stop");
    out.state = State.TURNING;
    assertFalse(watch.ripe(500 * MS, out));
    out.state = State.HOLDING;
    out.reason = Reason.TRUST_LOST;
    assertFalse(watch.ripe(600 * MS, out));
    assertFalse(watch.ripe(1_000 * MS, out), "not a stop at the standoff");
    out.reason = Reason.PAST_FORAMEN;
    assertFalse(watch.ripe(1_100 * MS, out), "every stop settles for itself");
    assertTrue(watch.ripe(1_400 * MS, out));
  }

  @Test
  void aWideBoundIsStatedWithTheReadingAndALeakGivesNone() {
    ControllerOutput out = stopped();
    out.trust = Trust.DOUBTFUL;
    for (Cause cause : Cause.values()) {
      LengthWatch watch = LengthWatch.of(MovedBy.MOTOR, 500);
      out.cause = cause;
      watch.ripe(0, out);
      assertEquals(cause == Cause.WIDE, watch.ripe(300 * MS, out), cause.name());
    }
    out.trust = Trust.NONE;
    out.cause = Cause.WIDE;
    LengthWatch watch = LengthWatch.of(MovedBy.MOTOR, 500);
    watch.ripe(0, out);
    assertFalse(watch.ripe(300 * MS, out), "no distance");
  }

  @Test
  void aHandIsReadWhenItsReadingRestsAtTheStandoffAndNotWhileItPasses() {
    LengthWatch watch = LengthWatch.of(MovedBy.HAND_FILE, 500);
    ControllerOutput out = stopped();
    out.state = State.PARKED;
    boolean passing = false;
    for (int ms = 0; ms < 5_000; ms++) {
      out.remainingMicrons = 1_500 - ms / 2; // 0.5 mm/s
      passing |= watch.ripe(ms * MS, out);
    }
    assertFalse(passing, "a moving file");
    out.remainingMicrons = 560;
    assertFalse(watch.ripe(5_000 * MS, out));
    assertFalse(watch.ripe(5_999 * MS, out));
    assertTrue(watch.ripe(6_000 * MS, out));
    out.remainingMicrons = 900;
    assertFalse(watch.ripe(6_500 * MS, out));
    out.remainingMicrons = 500;
    assertFalse(watch.ripe(7_000 * MS, out));
    assertFalse(watch.ripe(9_000 * MS, out), "the hand never left");
    out.remainingMicrons = 1_600;
    assertFalse(watch.ripe(9_100 * MS, out));
    out.remainingMicrons = 500;
    assertFalse(watch.ripe(9_200 * MS, out));
    assertTrue(watch.ripe(10_200 * MS, out), "another rest");
  }

  private static ControllerOutput stopped() {
    ControllerOutput out = new ControllerOutput();
    out.state = State.HOLDING;
    out.reason = Reason.STANDOFF_REACHED;
    out.trust = Trust.SURE;
    out.readingPresent = true;
    out.remainingMicrons = 500;
    return out;
  }
}
