package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.core.trace.GoldenVectors;

/** Vectors for a port to C, read by the C runner that stands beside the code. */
class GoldenVectorsTest {
  private static final Path PORT = Path.of("port-c");

  @TempDir Path dir;

  @Test
  void aPortThatIsRightPassesAndOneMicrometreIsFound() throws Exception {
    Path runner = compile(dir);
    Path vector = dir.resolve("locator.swv");
    byte[] bytes = locatorVector(4_000);
    Files.write(vector, bytes);
    assertEquals(new Outcome(0, "locator.swv: 4000 steps, followed"), run(dir, runner, vector));

    Path wrong = dir.resolve("wrong.swv");
    Files.write(wrong, withOneMicrometreMore(bytes, 4_000, 2_500));
    Outcome refused = run(dir, runner, wrong);
    assertEquals(1, refused.code());
    assertTrue(refused.text().startsWith("wrong.swv: step 2500: remaining is"), refused.text());
  }

  @Test
  void aDamagedAndACutVectorAreRefused() throws Exception {
    Path runner = compile(dir);
    byte[] bytes = locatorVector(4_000);
    Path damaged = dir.resolve("damaged.swv");
    byte[] flipped = bytes.clone();
    flipped[flipped.length / 2] ^= 1;
    Files.write(damaged, flipped);
    assertEquals(new Outcome(1, "damaged.swv: damaged"), run(dir, runner, damaged));

    Path cut = dir.resolve("cut.swv");
    byte[] shorter = Arrays.copyOf(bytes, bytes.length - 134);
    seal(shorter);
    Files.write(cut, shorter);
    assertEquals(new Outcome(1, "cut.swv: cut off"), run(dir, runner, cut));
  }

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
  static byte[] locatorVector(int steps) throws Exception {
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
    int stepBytes = 8 + FrameCodec.INPUT_BYTES + FrameCodec.OUTPUT_BYTES + 8;
    ByteBuffer buffer = ByteBuffer.wrap(wrong).order(ByteOrder.LITTLE_ENDIAN);
    int first = wrong.length - 8 - steps * stepBytes;
    int at = first + step * stepBytes + 8 + FrameCodec.INPUT_BYTES + 8;
    buffer.putInt(at, buffer.getInt(at) + 1);
    seal(wrong);
    return wrong;
  }

  private static void seal(byte[] bytes) {
    int at = bytes.length - 8;
    ByteBuffer.wrap(bytes)
        .order(ByteOrder.LITTLE_ENDIAN)
        .putLong(at, GoldenVectors.checksum(bytes, at));
  }

  record Outcome(int code, String text) {}

  static Path compile(Path dir) throws IOException, InterruptedException {
    Path runner = dir.resolve("run_vectors");
    List<String> command =
        List.of(
            "gcc",
            "-std=c99",
            "-O2",
            "-Wall",
            "-Wextra",
            "-Werror",
            "-pedantic",
            "-ffp-contract=off",
            "-o",
            runner.toString(),
            PORT.resolve("run_vectors.c").toString(),
            PORT.resolve("position_filter.c").toString(),
            "-lm");
    assertEquals(new Outcome(0, ""), start(command));
    return runner;
  }

  static Outcome run(Path dir, Path runner, Path... vectors)
      throws IOException, InterruptedException {
    List<String> command = new ArrayList<>(List.of(runner.toString()));
    for (Path vector : vectors) {
      command.add(vector.toString());
    }
    Outcome outcome = start(command);
    return new Outcome(outcome.code(), outcome.text().replace(dir + "/", ""));
  }

  private static Outcome start(List<String> command) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    String text = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    return new Outcome(process.waitFor(), text.strip());
  }
}
