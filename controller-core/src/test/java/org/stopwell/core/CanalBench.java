package org.stopwell.core;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.State;
import org.stopwell.core.settings.Calibration;

/** A bench with a simulated half-wet canal, a noisy signal, and what goes wrong with the signal. */
final class CanalBench extends TestBench {
  /** What tells the place. */
  enum Policy {
    RATIO,
    RESISTANCE,
    LOCATOR,
    APPROACH
  }

  final Policy policy;
  final Random random = new Random(20261129);
  double seriesOhms;
  double driftOhmsPerSecond;
  double offsetMicrons;
  double driftMicronsPerSecond;
  double noise = 1;
  boolean open;

  /** The tip has lost the fluid where it is. */
  boolean dry;

  /** How often the motor has started from rest. */
  int starts;

  CanalBench(Policy policy, Map<String, Object> length) {
    this(policy, length, Map.of());
  }

  CanalBench(Policy policy, Map<String, Object> length, Map<String, Object> guard) {
    super(
        settingsOf(policy, length, guard),
        policy == Policy.RATIO
            ? LengthCanal.ratio()
            : policy == Policy.RESISTANCE ? LengthCanal.resistance() : Calibration.NONE);
    this.policy = policy;
    inCanal = true;
  }

  private static Map<String, Map<String, Object>> settingsOf(
      Policy policy, Map<String, Object> length, Map<String, Object> guard) {
    Map<String, Map<String, Object>> all = TestBench.settings();
    Map<String, Object> sense = new LinkedHashMap<>();
    sense.put("policy", policy.name().toLowerCase(Locale.ROOT));
    if (policy == Policy.RATIO || policy == Policy.RESISTANCE) {
      sense.put("low_hz", 630);
      sense.put("enter_kohm", 22);
      sense.put("unwetted_kohm", 28);
    }
    if (policy == Policy.RATIO) {
      sense.put("high_hz", 6300);
    }
    if (policy == Policy.LOCATOR) {
      sense.put("locator_step_mm", "0.001");
      sense.put("locator_rate_hz", 200);
      sense.put("locator_feed_mm_s", 1);
      sense.put("locator_slow_mm_s", "0.1");
      sense.put("locator_error_mm", "0.2");
    }
    if (policy == Policy.APPROACH) {
      all.put("file", Map.of("size", 15, "taper", "0.02"));
    }
    all.put("sense", sense);
    all.put("guard", guard);
    Map<String, Object> stage = new LinkedHashMap<>(length);
    if (policy == Policy.APPROACH) {
      stage.put("torque_ncm", "0.1");
      stage.put("tolerance_mm", "0.6");
      stage.put("on_wide", "hold");
    }
    all.put("stages.length", stage);
    return all;
  }

  @Override
  void step() {
    seriesOhms += driftOhmsPerSecond / 1_000;
    offsetMicrons += driftMicronsPerSecond / 1_000;
    State before = out.state;
    super.step();
    boolean rested = before == State.PARKED || before == State.HOLDING;
    starts += rested && out.state == State.TURNING ? 1 : 0;
  }

  @Override
  void sample() {
    in.sampleSequence++;
    in.sampleTimeNs = nowNs;
    boolean distance = policy == Policy.LOCATOR;
    in.positionKind = distance ? PositionKind.DISTANCE : PositionKind.IMPEDANCE;
    double read = remainingMicrons + offsetMicrons;
    if (distance) {
      double shown = read + noise * 20 * random.nextGaussian();
      in.distanceMicrons = (int) (open ? 20_000 + shown / 100 : shown);
      return;
    }
    boolean approach = policy == Policy.APPROACH;
    int[] hertz = approach ? new int[] {300, 1500, 7000, 20_000} : new int[] {630, 6300};
    in.frequencyCount = hertz.length;
    for (int i = 0; i < hertz.length; i++) {
      in.frequencyHz[i] = hertz[i];
      double re = approach ? ApproachCanal.ohms(read, 2 * i) : LengthCanal.ohms(read, 2 * i);
      double im =
          approach ? ApproachCanal.ohms(read, 2 * i + 1) : LengthCanal.ohms(read, 2 * i + 1);
      double by = open ? 100 : 1;
      double factor = by * 1e3 * (1 + noise * (approach ? 1e-4 : 1e-3) * random.nextGaussian());
      in.zRealMilliOhms[i] = (int) Math.min(2e9, (re + seriesOhms + (dry ? 100_000 : 0)) * factor);
      in.zImagMilliOhms[i] = (int) Math.max(-2e9, im * factor);
    }
  }
}
