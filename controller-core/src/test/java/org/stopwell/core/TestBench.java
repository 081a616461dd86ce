package org.stopwell.core;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.State;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.trace.Event;

/**
 * The least bench that a controller needs: a file that moves as commanded, an obedient motor, and a
 * sample every 5 ms. The canal is a straight line: 20 kΩ at the foramen and 2 kΩ more per
 * millimetre, ratio 0.5 at the foramen and 0.1 more per millimetre up to 0.95, known from -1 to 4
 * mm with a bound of 0.1 mm.
 */
class TestBench {
  static final long MS = 1_000_000L;

  /** No test waits longer than this for something to happen. */
  private static final int MOST_STEPS = 200_000;

  final ControllerInput in = new ControllerInput();
  final ControllerInput lastInput = new ControllerInput();
  final ControllerOutput out = new ControllerOutput();
  final StopController controller;
  final List<State> states = new ArrayList<>(List.of(State.PARKED));

  long nowNs;
  private int stepsSoFar;
  double remainingMicrons = 8_000;
  double feedMicronsPerSecond;
  boolean inCanal;
  boolean sampling = true;
  double leakOhms = Double.POSITIVE_INFINITY;

  /** What the front end makes of the magnitude at the higher frequency. */
  double highGain = 1;

  /** The channel of the higher frequency gives its last value again and again. */
  boolean frozenHigh;

  /** So does the channel of the lower frequency. */
  boolean frozenLow;

  /** What the canal makes of the magnitude at both frequencies, such as by another fluid. */
  double canalShare = 1;

  /** A body path that is longer than that of the calibration, Ω; the ratio is not changed. */
  double bodyOhms;

  /** Whether an axis tells the depth. */
  boolean axis;

  TestBench(Map<String, Map<String, Object>> settings) {
    this(settings, curve());
  }

  TestBench(Map<String, Map<String, Object>> settings, Calibration calibration) {
    this(checked(settings, calibration));
  }

  TestBench(ControllerSettings settings) {
    controller = new StopController(settings);
  }

  /** Checked settings, which any number of controllers may share. */
  static ControllerSettings checked(
      Map<String, Map<String, Object>> settings, Calibration calibration) {
    try {
      // a port to another language has no resources, so weights are read only where they are used
      boolean weighs = "approach".equals(settings.getOrDefault("sense", Map.of()).get("policy"));
      return weighs
          ? TestWeights.settings(settings, calibration)
          : ControllerSettings.of(settings, calibration);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  TestBench() {
    this(settings());
  }

  static Calibration curve() {
    List<Calibration.Point> points = new ArrayList<>();
    for (int mm = -1; mm <= 4; mm++) {
      points.add(
          new Calibration.Point(
              500_000 + mm * 100_000L, mm * 1_000, 20_000_000 + mm * 2_000_000L, 100));
    }
    return new Calibration(points);
  }

  static Map<String, Map<String, Object>> settings() {
    Map<String, Map<String, Object>> all = new LinkedHashMap<>();
    all.put("file", new LinkedHashMap<>());
    all.put("sense", new LinkedHashMap<>());
    all.put("guard", new LinkedHashMap<>());
    all.put("stages.length", new LinkedHashMap<>());
    return all;
  }

  static Map<String, Map<String, Object>> length(String key, Object value) {
    Map<String, Map<String, Object>> all = settings();
    all.put("stages.length", new LinkedHashMap<>(Map.of(key, value)));
    return all;
  }

  /** One step of 1 ms. */
  void step() {
    if (++stepsSoFar > MOST_STEPS) {
      throw new AssertionError("waits for ever in " + out.state + ", " + out.reason);
    }
    nowNs += MS;
    remainingMicrons -= feedMicronsPerSecond / 1_000;
    if (sampling && nowNs % (5 * MS) == 0) {
      sample();
    }
    if (axis) {
      in.insertionPresent = true;
      in.insertionMicrons = (int) Math.round(16_000 - remainingMicrons);
    }
    lastInput.copyFrom(in);
    controller.step(nowNs, in, out);
    in.speedMilliRpm =
        switch (out.drive) {
          case FORWARD -> out.speedMilliRpm;
          case BACKWARD -> -out.speedMilliRpm;
          default -> 0;
        };
    if (states.get(states.size() - 1) != out.state) {
      states.add(out.state);
    }
  }

  void run(long ms) {
    for (long i = 0; i < ms; i++) {
      step();
    }
  }

  /** Brings the file into the canal, 3.5 mm short, and waits until it turns. */
  TestBench started() {
    run(200);
    inCanal = true;
    remainingMicrons = 3_500;
    run(400);
    if (out.state != State.TURNING) {
      throw new AssertionError("not started: " + out.state + ", " + out.trust + ", " + out.cause);
    }
    return this;
  }

  /** Feeds at a speed until the state is another one, for a second at most. */
  void feedUntilStateChanges(double micronsPerSecond) {
    State before = out.state;
    feedMicronsPerSecond = micronsPerSecond;
    for (int i = 0; i < 10_000 && out.state == before; i++) {
      step();
    }
    feedMicronsPerSecond = 0;
  }

  /** Leads the file to a place at the pace of a hand that draws it out, 4 mm/s. */
  void leadTo(double microns) {
    double micronsPerSecond = microns > remainingMicrons ? -4_000 : 4_000;
    while (Math.abs(remainingMicrons - microns) > 4) {
      feedMicronsPerSecond = micronsPerSecond;
      step();
    }
    feedMicronsPerSecond = 0;
    remainingMicrons = microns;
  }

  Event lastEvent() {
    Event event = new Event();
    controller.events().get(controller.events().count() - 1, event);
    return event;
  }

  void sample() {
    in.sampleSequence++;
    in.sampleTimeNs = nowNs;
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 2;
    in.frequencyHz[0] = 700;
    in.frequencyHz[1] = 7_000;
    double mm = remainingMicrons / 1_000;
    double low = inCanal ? canalShare * (20_000 + 2_000 * mm) + bodyOhms : 5e6;
    double high = inCanal ? low * Math.min(0.95, 0.5 + 0.1 * mm) : 5e5;
    high *= highGain;
    low = 1 / (1 / low + 1 / leakOhms);
    high = 1 / (1 / high + 1 / leakOhms);
    // One milliohm of life, so that no two samples are alike.
    long life = in.sampleSequence % 2;
    if (!frozenLow) {
      in.zRealMilliOhms[0] = (int) Math.min(Integer.MAX_VALUE, (long) (low * 1e3) + life);
    }
    if (!frozenHigh) {
      in.zRealMilliOhms[1] = (int) Math.min(Integer.MAX_VALUE, (long) (high * 1e3) + life);
    }
  }
}
