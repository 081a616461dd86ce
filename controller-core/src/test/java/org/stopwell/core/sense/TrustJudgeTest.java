package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;

/** What an uncertain distance leaves of the trust, and what is given as the cause. */
class TrustJudgeTest {
  private static final long MS = 1_000_000;

  private final Measurement last = new Measurement();
  private final Signs signs = new Signs();
  private final TrustJudge judge = judge();

  TrustJudgeTest() {
    signs.wide = false;
  }

  private static TrustJudge judge() {
    try {
      return new TrustJudge(
          ControllerSettings.of(
                  Map.of(
                      "file", Map.of(),
                      "sense",
                          Map.of(
                              "policy",
                              "locator",
                              "locator_step_mm",
                              "0.001",
                              "locator_rate_hz",
                              200),
                      "stages.length", Map.of()),
                  Calibration.NONE)
              .section("guard"));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  private void after(int ms) {
    for (int i = 0; i < ms; i++) {
      judge.update(MS, last, signs);
    }
  }

  @Test
  void aVagueDistanceIsDoubtfulAndAHopelessOneIsWorthNothing() {
    after(200);
    assertEquals(Trust.SURE, judge.trust());
    last.vague = true;
    after(1);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    assertEquals(Cause.VAGUE, judge.cause());
    last.hopeless = true;
    after(1);
    assertEquals(Trust.NONE, judge.trust());
    assertEquals(Cause.VAGUE, judge.cause());
  }

  @Test
  void aWideBoundIsDoubtfulAtOnceAndSureAgainOnlyAfterATime() {
    after(200);
    signs.wide = true;
    after(1);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    assertEquals(Cause.WIDE, judge.cause());
    assertTrue(judge.sound(), "nothing is wrong with the signal");
    signs.wide = false;
    after(59);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    signs.wide = true;
    after(1);
    signs.wide = false;
    after(59);
    assertEquals(Trust.DOUBTFUL, judge.trust(), "it does not flutter");
    after(1);
    assertEquals(Trust.SURE, judge.trust());
    last.hopeless = true;
    signs.wide = true;
    after(1);
    assertEquals(Trust.NONE, judge.trust());
    assertEquals(Cause.WIDE, judge.cause());
    assertFalse(judge.sound());
  }

  @Test
  void aCauseInTheSignalIsNamedBeforeAWideBound() {
    after(200);
    signs.wide = true;
    last.leaking = true;
    after(31);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    assertEquals(Cause.LEAKING, judge.cause());
    assertFalse(judge.sound());
  }

  @Test
  void aHopelessDistanceInACanalThatLeaksIsLostByTheLeak() {
    after(200);
    last.leaking = true;
    after(31);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    last.vague = true;
    last.hopeless = true;
    after(31);
    assertEquals(Trust.NONE, judge.trust());
    assertEquals(Cause.LEAKING, judge.cause());
  }

  @Test
  void trustRisesByOneStepAtATime() {
    after(60);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    after(59);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    after(1);
    assertEquals(Trust.SURE, judge.trust());
    assertEquals(Cause.NO_CAUSE, judge.cause());
  }

  /**
   * A file broke 1 mm from the foramen: what was left of it read far and certain, while the
   * distance was still that of before, and it was called sure for 30 ms.
   */
  @Test
  void trustDoesNotRiseWhileEveryFourthSampleJumps() {
    last.vague = true;
    after(200);
    assertEquals(Trust.DOUBTFUL, judge.trust());
    last.vague = false;
    for (int i = 0; i < 5; i++) {
      signs.jumpy = true;
      after(5);
      signs.jumpy = false;
      after(15);
    }
    assertEquals(Trust.DOUBTFUL, judge.trust());
    after(100);
    assertEquals(Trust.SURE, judge.trust());
  }
}
