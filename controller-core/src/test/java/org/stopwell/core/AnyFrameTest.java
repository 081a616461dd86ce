package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.guard.InputCheck;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;

/**
 * Frames with any content in any field, under every sensing policy and in every stage, while a file
 * is led up and down: a step neither throws nor allocates.
 */
class AnyFrameTest {
  private static final int FRAMES = 15_000;

  /** The machine itself allocates now and then, when it compiles; not in each of these. */
  private static final int PASSES = 4;

  /** One step in so many comes at a time that cannot be. */
  private static final int TIME_FAULTS = 500;

  private final ControllerInput[] frames = new ControllerInput[FRAMES];
  private final long[] times = new long[FRAMES];

  @ParameterizedTest
  @ValueSource(longs = {21, 22})
  void noFrameOfAnyContentThrowsOrAllocates(long seed) throws SettingsException {
    System.out.println("seed " + seed);
    for (Scenario scenario : Scenario.all()) {
      ControllerSettings settings = inEveryStage(scenario.settings);
      long hash = lead(scenario, new StopController(settings), new Random(seed));
      long least = Long.MAX_VALUE;
      for (int pass = 0; pass < PASSES; pass++) {
        StopController again = new StopController(settings);
        least = Math.min(least, allocatedBytes(again));
        assertEquals(hash, again.stateHash(), scenario.name);
      }
      assertEquals(0, least, scenario.name);
    }
  }

  /** The case that was found: a distance that claims to hold five frequencies. */
  @Test
  void aDistanceWithFiveFrequenciesIsBadInput() throws SettingsException {
    for (Scenario scenario : Scenario.all()) {
      StopController controller = new StopController(inEveryStage(scenario.settings));
      ControllerInput in = new ControllerInput();
      ControllerOutput out = new ControllerOutput();
      in.positionKind = PositionKind.DISTANCE;
      in.distanceMicrons = 3_000;
      in.frequencyCount = 5;
      controller.step(0, in, out);
      assertFalse(out.drive.turns(), scenario.name);
    }
  }

  private static ControllerSettings inEveryStage(Map<String, Map<String, Object>> settings)
      throws SettingsException {
    Map<String, Map<String, Object>> all = new LinkedHashMap<>(settings);
    for (Stage stage : Stage.values()) {
      all.put(ControllerSettings.nameOf(stage), settings.get("stages.length"));
    }
    return TestWeights.settings(all, TestBench.curve());
  }

  /** Leads the file through all frames and keeps them; the state hash at the end. */
  private long lead(Scenario scenario, StopController controller, Random random) {
    AnyFrame any = new AnyFrame(random);
    boolean turned = false;
    for (int i = 0; i < FRAMES; i++) {
      scenario.lead();
      ControllerInput in = new ControllerInput();
      in.copyFrom(scenario.in);
      any.disturb(in);
      frames[i] = in;
      times[i] = random.nextInt(TIME_FAULTS) == 0 ? any.number() : scenario.nowNs;
      try {
        controller.step(times[i], in, scenario.out);
      } catch (RuntimeException e) {
        throw new AssertionError(scenario.name + ", step " + i + ": " + any, e);
      }
      check(times[i], in, scenario.out, scenario.name + ", step " + i + ": " + any);
      turned |= scenario.out.drive.turns();
      scenario.obey();
    }
    assertTrue(turned, scenario.name + " never turned");
    return controller.stateHash();
  }

  private static void check(long nowNs, ControllerInput in, ControllerOutput out, String where) {
    boolean turns = out.drive.turns();
    assertFalse(turns && in.stopLine, where);
    assertFalse(turns && in.linkAgeNs > 50 * TestBench.MS, where);
    assertFalse(turns && !InputCheck.isPlausible(nowNs, in), where);
    assertFalse(turns && (out.state == State.PARKED || out.state == State.LOCKED), where);
    assertTrue(out.speedMilliRpm >= 0 && out.speedMilliRpm <= (turns ? 300_000 : 0), where);
    assertTrue(out.torqueLimitMicroNewtonMetres >= 0, where);
  }

  private long allocatedBytes(StopController controller) {
    ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    ControllerOutput out = new ControllerOutput();
    long before = threads.getCurrentThreadAllocatedBytes();
    for (int i = 0; i < FRAMES; i++) {
      controller.step(times[i], frames[i], out);
    }
    return threads.getCurrentThreadAllocatedBytes() - before;
  }
}
