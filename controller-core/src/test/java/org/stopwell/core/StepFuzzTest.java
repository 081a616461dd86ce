package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.trace.FrameCodec;

/**
 * Any bytes as any inputs at any times; the first byte chooses the settings. The test run tries the
 * bytes that are kept beside this class; with {@code JAZZER_FUZZ=1 mvn -pl controller-core test
 * -Dtest=StepFuzzTest} new ones are looked for.
 */
class StepFuzzTest {
  private static final Path SEEDS =
      Path.of("src/test/resources/org/stopwell/core/StepFuzzTestInputs/anyBytesAreSurvived");

  /** The recorded life, and one of every sensing policy. */
  private static final List<Map<String, Map<String, Object>>> SETTINGS =
      Stream.concat(Stream.of(Recording.settings()), Scenario.all().stream().map(s -> s.settings))
          .toList();

  private static final int SEED_STEPS = 600;
  private static final int STEP_BYTES = Integer.BYTES + FrameCodec.INPUT_BYTES;

  /** With -Dstopwell.write=true the recording becomes the seed from which the fuzzer sets out. */
  @Test
  void aRecordedWorkingLifeIsSurvived() throws SettingsException, IOException {
    List<Recording.Step> steps = Recording.ofAWorkingLife();
    ByteBuffer to =
        ByteBuffer.allocate(1 + steps.size() * STEP_BYTES).order(ByteOrder.LITTLE_ENDIAN);
    to.put((byte) 0);
    long before = 0;
    for (Recording.Step step : steps) {
      to.putInt((int) (step.nowNs() - before));
      FrameCodec.put(step.in(), to);
      before = step.nowNs();
    }
    anyBytesAreSurvived(to.array());
    if (Boolean.getBoolean("stopwell.write")) {
      Files.createDirectories(SEEDS);
      Files.write(SEEDS.resolve("start"), Arrays.copyOf(to.array(), 1 + SEED_STEPS * STEP_BYTES));
    }
  }

  @FuzzTest(maxDuration = "5m")
  void anyBytesAreSurvived(byte[] bytes) throws SettingsException {
    ByteBuffer from = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
    int chosen = from.hasRemaining() ? Math.floorMod(from.get(), SETTINGS.size()) : 0;
    ControllerSettings settings = TestWeights.settings(SETTINGS.get(chosen), TestBench.curve());
    StopController controller = new StopController(settings);
    StopController twin = new StopController(settings);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    long nowNs = 0;
    while (from.remaining() >= STEP_BYTES) {
      nowNs += from.getInt();
      FrameCodec.get(from, in);
      controller.step(nowNs, in, out);
      twin.step(nowNs, in, out);
      assertEquals(controller.stateHash(), twin.stateHash());
      assertFalse(out.drive.turns() && in.stopLine);
      assertFalse(out.drive.turns() && in.linkAgeNs > 50 * TestBench.MS);
      if (chosen == 0) {
        PropertiesTest.check(out);
      }
    }
  }
}
