package org.stopwell.core.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** Codes are a contract: what was recorded once must read the same for ever. */
class CodesTest {

  @Test
  void everyCodeComesBack() {
    for (Cause v : Cause.values()) {
      assertEquals(v, Cause.ofCode(v.code()));
    }
    for (Drive v : Drive.values()) {
      assertEquals(v, Drive.ofCode(v.code()));
    }
    for (PositionKind v : PositionKind.values()) {
      assertEquals(v, PositionKind.ofCode(v.code()));
    }
    for (Reason v : Reason.values()) {
      assertEquals(v, Reason.ofCode(v.code()));
    }
    for (Stage v : Stage.values()) {
      assertEquals(v, Stage.ofCode(v.code()));
    }
    for (State v : State.values()) {
      assertEquals(v, State.ofCode(v.code()));
    }
    for (Trust v : Trust.values()) {
      assertEquals(v, Trust.ofCode(v.code()));
    }
  }

  @Test
  void anUnknownCodeIsReadAsTheCarefulValue() {
    for (int code : new int[] {-1, 99, Integer.MIN_VALUE, Integer.MAX_VALUE}) {
      assertEquals(Cause.NO_CAUSE, Cause.ofCode(code));
      assertEquals(Drive.OFF, Drive.ofCode(code));
      assertEquals(PositionKind.ABSENT, PositionKind.ofCode(code));
      assertEquals(Reason.BAD_INPUT, Reason.ofCode(code));
      assertEquals(Stage.LENGTH, Stage.ofCode(code));
      assertEquals(State.LOCKED, State.ofCode(code));
      assertEquals(Trust.NONE, Trust.ofCode(code));
    }
  }

  @Test
  void theCodesOfTheWordsThatMoveAMotorNeverChange() {
    assertEquals("OFF BRAKE FORWARD BACKWARD", words(Drive.values()));
    assertEquals("PARKED TURNING EASING HOLDING BACKING ROCKING LOCKED", words(State.values()));
    assertEquals("NONE DOUBTFUL SURE", words(Trust.values()));
    assertEquals(
        "NO_CAUSE LEAKING UNWETTED OPEN JUMPY STALE RAILED FROZEN VAGUE WIDE",
        words(Cause.values()));
    assertEquals("OPEN LENGTH SHAPE RECHECK", words(Stage.values()));
    assertEquals("ABSENT IMPEDANCE DISTANCE NO_CONTACT", words(PositionKind.values()));
  }

  private static String words(Enum<?>[] values) {
    StringBuilder text = new StringBuilder();
    for (Enum<?> v : values) {
      text.append(v.ordinal() == 0 ? "" : " ").append(v.name());
    }
    return text.toString();
  }
}
