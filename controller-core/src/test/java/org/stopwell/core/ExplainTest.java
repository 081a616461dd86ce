package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.trace.Event;

/** A sentence for everything that can happen, with the numbers that decided. */
class ExplainTest {
  private final Event event = new Event();

  @Test
  void everyReasonHasASentenceOfItsOwn() {
    event.cause = Cause.JUMPY;
    assertEquals(
        Reason.values().length,
        Arrays.stream(Reason.values()).map(this::lead).distinct().count(),
        "no two alike");
    for (Reason reason : Reason.values()) {
      assertTrue(lead(reason).matches("[A-Z][a-z].{15,}"), reason + ": " + lead(reason));
      assertEquals(
          Explain.isStop(reason),
          lead(reason).matches("(Stopped|Reacted) .*"),
          "a stop says that it is one: " + lead(reason));
    }
  }

  @Test
  void everyCauseHasAClauseOfItsOwn() {
    assertEquals(
        Cause.values().length, Arrays.stream(Cause.values()).map(Explain::why).distinct().count());
    for (Cause cause : Cause.values()) {
      assertTrue(Explain.why(cause).matches("[a-z].{15,}"), Explain.why(cause));
    }
  }

  @Test
  void theLimitThatWasReachedIsNamed() {
    event.standoffMicrons = 500;
    event.torqueLimitMicroNewtonMetres = 6_000;
    assertEquals("Slowed down because the standoff of 0.50 mm is near", lead(Reason.APPROACHING));
    assertEquals(
        "Reacted because the torque reached the limit of 0.60 N·cm", lead(Reason.TORQUE_LIMIT));
    assertEquals(
        "Stopped because the torque reached the limit of 0.60 N·cm too often in a row",
        lead(Reason.RETRIES_SPENT));
  }

  @Test
  void whatIsNotKnownIsCalledUnknownAndNotNought() {
    event.signalAgeMicros = -1;
    assertEquals(
        "no reading, closing at 0.00 mm/s, no sample yet, 0 rpm, 0.00 N·cm.",
        numbers(Reason.LINK_LOST));
    event.signalAgeMicros = 0;
    event.readingPresent = true;
    event.remainingMicrons = -70;
    assertEquals(
        "-0.07 mm remaining, closing at 0.00 mm/s, signal 0 ms old, 0 rpm, 0.00 N·cm.",
        numbers(Reason.LINK_LOST));
  }

  @Test
  void aFileThatGoesAwayRecedesAndNoughtHasNoSign() {
    event.closingMicronsPerSecond = -13_760;
    event.torqueMicroNewtonMetres = -20;
    assertEquals(
        "no reading, receding at 13.76 mm/s, signal 0 ms old, 0 rpm, 0.00 N·cm.",
        numbers(Reason.LINK_LOST));
  }

  private String lead(Reason reason) {
    return said(reason).split(": ", 2)[0];
  }

  private String numbers(Reason reason) {
    return said(reason).split(": ", 2)[1];
  }

  private String said(Reason reason) {
    event.reason = reason;
    return Explain.event(event);
  }
}
