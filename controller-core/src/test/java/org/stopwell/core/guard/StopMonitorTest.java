package org.stopwell.core.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;

/** The second opinion, to the last milliohm: it stops 0.3 mm beyond the standoff of 0.5 mm. */
class StopMonitorTest {
  /** 6.5 kΩ at the foramen, 2 kΩ more per millimetre, known from -0.5 to 3 mm. */
  private static final Calibration RESISTANCE =
      new Calibration(
          List.of(
              new Calibration.Point(5_500_000, -500),
              new Calibration.Point(6_500_000, 0),
              new Calibration.Point(12_500_000, 3_000)));

  private static final Calibration RATIO =
      new Calibration(
          List.of(new Calibration.Point(400_000, -1_000), new Calibration.Point(800_000, 3_000)));

  private final ControllerInput in = new ControllerInput();

  @Test
  void aLocatorIsStoppedAtTwoTenthsAndNotBefore() throws Exception {
    StopMonitor monitor = monitor("locator", Calibration.NONE, "0.5");
    assertEquals(Reaction.NONE, after(monitor, distance(201)));
    assertEquals(Reaction.HOLD, after(monitor, distance(200)));
    assertEquals(2, monitor.disagreements());
  }

  @Test
  void oneSampleIsNotEnough() throws Exception {
    StopMonitor monitor = monitor("locator", Calibration.NONE, "0.5");
    distance(200);
    monitor.update(in, Stage.LENGTH, false, 0);
    monitor.update(in, Stage.LENGTH, false, 0); // the same sample again
    assertEquals(Reaction.NONE, asked(monitor, true));
  }

  @Test
  void aMotorAtRestIsNotStopped() throws Exception {
    StopMonitor monitor = monitor("locator", Calibration.NONE, "0.5");
    after(monitor, distance(200));
    assertEquals(Reaction.NONE, asked(monitor, false));
  }

  @Test
  void aResistanceIsStoppedByBothOfItsParts() throws Exception {
    StopMonitor monitor = monitor("resistance", RESISTANCE, "0.5");
    // 6.5 kΩ + 0.2 mm · 2 kΩ/mm = 6.9 kΩ; as 3-4-5 triangle 4.14 and 5.52 kΩ.
    assertEquals(Reaction.NONE, after(monitor, impedance(4_140_001, 5_520_000, 0)));
    assertEquals(Reaction.HOLD, after(monitor, impedance(4_140_000, -5_520_000, 0)));
  }

  @Test
  void deeperThanTheCurveGoesItsDeepEndHolds() throws Exception {
    StopMonitor monitor = monitor("resistance", RESISTANCE, "-0.4");
    assertEquals(Reaction.NONE, after(monitor, impedance(5_500_001, 0, 0)));
    assertEquals(Reaction.HOLD, after(monitor, impedance(5_500_000, 0, 0)));
  }

  @Test
  void aRatioIsStoppedWhereItsCurveSays() throws Exception {
    StopMonitor monitor = monitor("ratio", RATIO, "0.5");
    // 0.4 + 1.2 mm · 0.1/mm = 0.52
    assertEquals(Reaction.NONE, after(monitor, impedance(10_000_000, 0, 5_200_001)));
    assertEquals(Reaction.HOLD, after(monitor, impedance(10_000_000, 0, 5_200_000)));
  }

  @Test
  void aSignalWithoutItsFrequencyIsNotJudged() throws Exception {
    StopMonitor monitor = monitor("ratio", RATIO, "0.5");
    impedance(10_000_000, 0, 1);
    in.frequencyHz[1] = 7_001;
    assertEquals(Reaction.NONE, after(monitor, in));
    in.frequencyHz[0] = 701;
    in.frequencyHz[1] = 7_000;
    assertEquals(Reaction.NONE, after(monitor, in));
    assertEquals(
        Reaction.NONE, after(monitor("locator", Calibration.NONE, "0.5"), impedance(1, 0, 1)));
  }

  private static StopMonitor monitor(String policy, Calibration curve, String standoff)
      throws Exception {
    Map<String, Map<String, Object>> written = new LinkedHashMap<>();
    written.put("file", Map.of());
    written.put(
        "sense",
        policy.equals("locator")
            ? Map.of("policy", policy, "locator_step_mm", "0.001", "locator_rate_hz", 200)
            : Map.of("policy", policy));
    written.put("stages.length", Map.of("standoff_mm", standoff));
    return new StopMonitor(ControllerSettings.of(written, curve));
  }

  /** The signal comes three times; what the monitor asks for after the third. */
  private Reaction after(StopMonitor monitor, ControllerInput signal) {
    Reaction last = Reaction.NONE;
    for (int i = 0; i < 3; i++) {
      signal.sampleSequence++;
      monitor.update(signal, Stage.LENGTH, false, 0);
      last = asked(monitor, true);
    }
    return last;
  }

  private static Reaction asked(StopMonitor monitor, boolean driving) {
    Arbiter arbiter = new Arbiter();
    arbiter.clear();
    monitor.ask(driving, arbiter);
    return arbiter.reaction();
  }

  private ControllerInput distance(int microns) {
    in.positionKind = PositionKind.DISTANCE;
    in.distanceMicrons = microns;
    in.sampleSequence++;
    return in;
  }

  private ControllerInput impedance(int lowReal, int lowImaginary, int highReal) {
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 2;
    in.frequencyHz[0] = 700;
    in.frequencyHz[1] = 7_000;
    in.zRealMilliOhms[0] = lowReal;
    in.zImagMilliOhms[0] = lowImaginary;
    in.zRealMilliOhms[1] = highReal;
    return in;
  }
}
