package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.trace.FrameCodec;

/** Facts that hold whatever a bench sends. */
class PropertiesTest {

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
  void noiseFromTheWireNeverThrowsAndNeverTurnsTheMotor(long seed) {
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    StopController controller = controller();
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    byte[] bytes = new byte[FrameCodec.INPUT_BYTES];
    for (int i = 0; i < 50_000; i++) {
      random.nextBytes(bytes);
      FrameCodec.get(ByteBuffer.wrap(bytes), in);
      controller.step(random.nextLong(), in, out);
      assertFalse(out.drive.turns());
      check(out);
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {11, 12, 13, 14})
  void aBenchThatMisbehavesNowAndThenNeverGetsAnOutputOutOfRange(long seed) {
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    TestBench bench = new TestBench(Recording.settings());
    TestBench twin = new TestBench(Recording.settings());
    bench.inCanal = true;
    for (int i = 0; i < 60_000; i++) {
      disturb(bench, random);
      bench.step();
      twin.controller.step(bench.nowNs, bench.lastInput, twin.out);
      check(bench.out);
      assertEquals(bench.controller.stateHash(), twin.controller.stateHash(), "step " + i);
    }
    assertTrue(bench.states.size() > 30, "visited " + bench.states.size());
  }

  private static void disturb(TestBench bench, Random random) {
    switch (random.nextInt(400)) {
      case 0 -> bench.in.torqueMicroNewtonMetres = random.nextInt(8_000);
      case 1 -> bench.in.torqueMicroNewtonMetres = 0;
      case 2 -> bench.inCanal = random.nextInt(4) > 0;
      case 3 -> bench.leakOhms = random.nextInt(4) == 0 ? 1_000 : Double.POSITIVE_INFINITY;
      case 4 -> bench.in.railed = random.nextInt(8) == 0;
      case 5 -> bench.sampling = random.nextInt(8) > 0;
      case 6 -> bench.in.demand = random.nextInt(4) > 0;
      case 7 -> bench.in.stopLine = random.nextInt(8) == 0;
      case 8 -> bench.in.reset = random.nextBoolean();
      case 9 -> bench.in.linkAgeNs = random.nextInt(8) == 0 ? 80 * TestBench.MS : 0;
      case 10 -> bench.nowNs += random.nextInt(20) == 0 ? -TestBench.MS : 0;
      case 11 -> bench.nowNs += random.nextInt(20) == 0 ? 3_000 * TestBench.MS : 0;
      case 12, 13, 14, 15 -> bench.feedMicronsPerSecond = random.nextInt(4_000) - 2_000;
      case 16 -> bench.remainingMicrons = random.nextInt(9_000) - 1_000;
      default -> bench.remainingMicrons = Math.max(-1_500, Math.min(9_000, bench.remainingMicrons));
    }
  }

  static void check(ControllerOutput out) {
    assertTrue(out.speedMilliRpm >= 0 && out.speedMilliRpm <= 300_000);
    assertTrue(out.torqueLimitMicroNewtonMetres >= 0 && out.torqueLimitMicroNewtonMetres <= 6_000);
    assertTrue(out.remainingMicrons >= -3_000 && out.remainingMicrons <= 6_000);
    if (out.drive.turns()) {
      assertTrue(
          out.trust == Trust.SURE || (out.trust == Trust.DOUBTFUL && out.cause == Cause.WIDE),
          "turns with " + out.trust + " " + out.cause);
      assertTrue(
          out.state == State.TURNING
              || out.state == State.EASING
              || out.state == State.BACKING
              || out.state == State.ROCKING);
    } else {
      assertEquals(0, out.speedMilliRpm);
    }
  }

  private static StopController controller() {
    try {
      return new StopController(ControllerSettings.of(Recording.settings(), TestBench.curve()));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }
}
