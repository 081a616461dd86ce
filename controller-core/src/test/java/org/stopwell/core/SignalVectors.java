package org.stopwell.core;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.core.trace.GoldenVectors;

/** Golden vectors of one signal: an approach under each policy that the transitions do not use. */
final class SignalVectors {
  private static final int STEP_BYTES =
      8 + FrameCodec.INPUT_BYTES + FrameCodec.OUTPUT_BYTES + Long.BYTES;
  private static final int[] HERTZ = {300, 1500, 7000, 20_000};

  private SignalVectors() {}

  static byte[] vector(ControllerSettings settings, List<Recording.Step> steps) {
    GoldenVectors vectors = GoldenVectors.begin(settings, steps.size());
    StopController controller = new StopController(settings);
    ControllerOutput out = new ControllerOutput();
    for (Recording.Step step : steps) {
      controller.step(step.nowNs(), step.in(), out);
      vectors.step(step.nowNs(), step.in(), out, controller.stateHash());
    }
    return vectors.close();
  }

  /** A noisy, pecking feed from 15 mm down to the standoff, as a locator would see it. */
  static byte[] locator(int steps) throws Exception {
    Map<String, Map<String, Object>> written = new LinkedHashMap<>(TestBench.settings());
    written.put(
        "sense", Map.of("policy", "locator", "locator_step_mm", "0.001", "locator_rate_hz", 200));
    ControllerSettings settings = ControllerSettings.of(written, Calibration.NONE);
    long seed = 7;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    List<Recording.Step> recording = new ArrayList<>();
    for (int ms = 1; ms <= steps; ms++) {
      ControllerInput in = new ControllerInput();
      long sample = ms / 5;
      in.positionKind = PositionKind.DISTANCE;
      in.sampleSequence = sample;
      in.sampleTimeNs = sample * (5 * TestBench.MS);
      double pecking = 300 * StrictMath.sin(sample * 0.03);
      random.setSeed(seed + sample);
      in.distanceMicrons = (int) (15_000 - 18 * sample + pecking + 20 * random.nextGaussian());
      recording.add(new Recording.Step(ms * TestBench.MS, in));
    }
    return vector(settings, recording);
  }

  static byte[] withOneMicrometreMore(byte[] bytes, int steps, int step) {
    byte[] wrong = bytes.clone();
    ByteBuffer buffer = ByteBuffer.wrap(wrong).order(ByteOrder.LITTLE_ENDIAN);
    int first = wrong.length - 8 - steps * STEP_BYTES;
    int at = first + step * STEP_BYTES + 8 + FrameCodec.INPUT_BYTES + 8;
    buffer.putInt(at, buffer.getInt(at) + 1);
    seal(wrong);
    return wrong;
  }

  /** The same with another state hash after one step: every output is right. */
  static byte[] withAnotherHash(byte[] bytes, int steps, int step) {
    byte[] wrong = bytes.clone();
    wrong[wrong.length - Long.BYTES - (steps - step - 1) * STEP_BYTES - Long.BYTES] ^= 1;
    seal(wrong);
    return wrong;
  }

  private static void seal(byte[] bytes) {
    int at = bytes.length - Long.BYTES;
    ByteBuffer.wrap(bytes)
        .order(ByteOrder.LITTLE_ENDIAN)
        .putLong(at, GoldenVectors.checksum(bytes, at));
  }

  /** In, down to the stop, out and in again, by the magnitude at one frequency. */
  static byte[] resistance() throws SettingsException {
    Map<String, Map<String, Object>> written = TestBench.length("apical", "hold");
    written.put("sense", Map.of("policy", "resistance"));
    List<Calibration.Point> points = new ArrayList<>();
    for (int mm = -1; mm <= 4; mm++) {
      points.add(new Calibration.Point(20_000_000 + mm * 2_000_000L, mm * 1_000, 0, 100));
    }
    Calibration curve = new Calibration(points);
    List<Recording.Step> steps = new ArrayList<>();
    TestBench bench =
        new TestBench(written, curve) {
          @Override
          void step() {
            super.step();
            steps.add(copy(nowNs, lastInput));
          }
        };
    bench.started();
    bench.feedUntilStateChanges(1_000);
    bench.feedUntilStateChanges(1_000);
    bench.leadTo(3_500);
    bench.run(200);
    bench.feedUntilStateChanges(2_000);
    return vector(ControllerSettings.of(written, curve), steps);
  }

  /**
   * Down a simulated canal in the length stage, out, and down again in the next stage, which goes
   * by the record of the first.
   */
  static byte[] approach() throws SettingsException {
    Map<String, Map<String, Object>> written = new LinkedHashMap<>();
    written.put("file", Map.of("size", 15, "taper", "0.02"));
    written.put("sense", Map.of("policy", "approach"));
    written.put("stages.length", Map.of("torque_ncm", "0.1"));
    written.put("stages.shape", Map.of("torque_ncm", "0.1"));
    ControllerSettings settings = TestWeights.settings(written, Calibration.NONE);
    StopController controller = new StopController(settings);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    List<Recording.Step> steps = new ArrayList<>();
    double place = 9_000;
    for (int ms = 1; ms <= 5_600; ms++) {
      boolean again = ms > 3_600;
      in.stage = again ? Stage.SHAPE : Stage.LENGTH;
      place += ms <= 2_600 || again ? (place > 300 ? -4 : 0) : 10;
      if (ms % 5 == 0) {
        sample(ms, place, in);
      }
      in.speedMilliRpm = out.drive == Drive.FORWARD ? out.speedMilliRpm : 0;
      Recording.Step step = copy(ms * TestBench.MS, in);
      steps.add(step);
      controller.step(step.nowNs(), step.in(), out);
    }
    return vector(settings, steps);
  }

  private static void sample(int ms, double place, ControllerInput in) {
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = HERTZ.length;
    in.sampleSequence++;
    in.sampleTimeNs = ms * TestBench.MS;
    boolean inCanal = place <= 7_500;
    for (int i = 0; i < HERTZ.length; i++) {
      in.frequencyHz[i] = HERTZ[i];
      // one milliohm of life, so that no two samples are alike
      int life = (int) (in.sampleSequence % 2);
      in.zRealMilliOhms[i] =
          life + (inCanal ? (int) (1000 * ApproachCanal.ohms(place, 2 * i)) : 1_000_000_000);
      in.zImagMilliOhms[i] = inCanal ? (int) (1000 * ApproachCanal.ohms(place, 2 * i + 1)) : 0;
    }
  }

  private static Recording.Step copy(long nowNs, ControllerInput in) {
    ControllerInput copy = new ControllerInput();
    copy.copyFrom(in);
    return new Recording.Step(nowNs, copy);
  }
}
