package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;

class SensingTest {

  /** Sunada, J Dent Res 1962;41:375-387: 6.5 kΩ at the foramen; 2 kΩ more per mm is assumed. */
  private static final Calibration NETWORK =
      new Calibration(
          List.of(
              new Calibration.Point(5_500_000, -500, 0, 200),
              new Calibration.Point(6_500_000, 0, 0, 200),
              new Calibration.Point(12_500_000, 3_000, 0, 200)));

  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private long nowNs;

  @Test
  void aPureResistanceIsReadFromItsMagnitude() throws Exception {
    StopController controller = controller("resistance", NETWORK);
    resistance(controller, 8_500_000, 400);
    assertEquals(Trust.SURE, out.trust);
    assertEquals(1_000, out.remainingMicrons, 2);
    resistance(controller, 6_500_000, 400);
    assertEquals(0, out.remainingMicrons, 2);
  }

  @Test
  void aResistanceBelowHalfOfTheCurveLeaks() throws Exception {
    StopController controller = controller("resistance", NETWORK);
    resistance(controller, 2_600_000, 400);
    assertEquals(Cause.LEAKING, out.cause);
  }

  @Test
  void dryAndOpenAreToldApart() throws Exception {
    StopController controller = controller("resistance", NETWORK);
    resistance(controller, 300_000_000, 400);
    assertEquals(Cause.UNWETTED, out.cause);
    resistance(controller, 1_500_000_000, 400);
    assertEquals(Cause.OPEN, out.cause);
    assertFalse(out.readingPresent);
  }

  @Test
  void beyondTheCurveNothingIsGuessed() throws Exception {
    StopController controller = controller("resistance", NETWORK);
    resistance(controller, 1_500_000_000, 300);
    resistance(controller, 20_000_000, 400);
    assertEquals(Trust.DOUBTFUL, out.trust);
    assertEquals(Cause.WIDE, out.cause);
    assertFalse(out.readingPresent);
    assertEquals(State.TURNING, out.state, "far from the standoff nothing eases");
  }

  @Test
  void aLocatorDistanceIsTakenAsItIs() throws Exception {
    StopController controller = controller("locator", Calibration.NONE);
    distance(controller, 20_000, 400);
    assertEquals(State.PARKED, out.state);
    for (int microns = 15_000; microns > 14_000 || out.drive.turns(); microns -= 5) {
      distance(controller, microns, 5);
    }
    assertEquals(State.HOLDING, out.state);
    assertEquals(Reason.STANDOFF_REACHED, out.reason);
    // the stop allows for 1 mm/s over the 150 ms of reaction, whatever the file does
    assertEquals(650, out.remainingMicrons, 20);
    assertTrue(out.readingPresent);
  }

  @Test
  void anotherKindOfSignalThanTheSettingsNameIsBadInput() throws Exception {
    StopController controller = controller("resistance", NETWORK);
    resistance(controller, 20_000_000, 400);
    distance(controller, 900, 10);
    assertEquals(State.PARKED, out.state);
    StopController turning = controller("resistance", NETWORK);
    resistance(turning, 1_500_000_000, 300);
    resistance(turning, 11_000_000, 400);
    assertEquals(State.TURNING, out.state);
    distance(turning, 900, 10);
    assertEquals(Reason.BAD_INPUT, out.reason);
    assertEquals(State.HOLDING, out.state);
  }

  private void resistance(StopController controller, int milliOhms, int ms) {
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 1;
    in.frequencyHz[0] = 700;
    for (int i = 0; i < ms; i++) {
      in.zRealMilliOhms[0] = milliOhms + i % 2;
      step(controller);
    }
  }

  private void distance(StopController controller, int microns, int ms) {
    in.positionKind = PositionKind.DISTANCE;
    for (int i = 0; i < ms; i++) {
      in.distanceMicrons = microns + i % 2;
      step(controller);
    }
  }

  private void step(StopController controller) {
    nowNs += TestBench.MS;
    in.sampleSequence++;
    in.sampleTimeNs = nowNs;
    controller.step(nowNs, in, out);
    in.speedMilliRpm = out.speedMilliRpm;
  }

  private static StopController controller(String policy, Calibration curve) throws Exception {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    Map<String, Object> sense = new LinkedHashMap<>();
    sense.put("policy", policy);
    sense.put("distance_noise_mm", "0.001");
    if (policy.equals("locator")) {
      sense.put("locator_step_mm", "0.001");
      sense.put("locator_rate_hz", 200);
      sense.put("locator_error_mm", "0.2");
    }
    settings.put("sense", sense);
    return new StopController(ControllerSettings.of(settings, curve));
  }
}
