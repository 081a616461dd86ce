package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.SettingsException;

/** The estimate over the whole approach, in the hands of the controller. */
class ApproachControllerTest {
  private static final int[] HERTZ = {300, 1500, 7000, 20_000};
  private static final Map<String, Map<String, Object>> LENGTH =
      Map.of("stages.length", Map.of("torque_ncm", "0.1"));

  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final StopController controller = controller(LENGTH);
  private long nowNs;

  private static StopController controller() {
    return controller(LENGTH);
  }

  private static StopController controller(Map<String, Map<String, Object>> stages) {
    Map<String, Map<String, Object>> all = new HashMap<>(stages);
    all.put("file", Map.of("size", 15, "taper", "0.02"));
    all.put("sense", Map.of("policy", "approach"));
    try {
      return new StopController(TestWeights.settings(all, Calibration.NONE));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  /** One step of 1 ms, with a sample, at a place of the simulated canal. */
  private void at(int microns) {
    sample(microns);
    controller.step(nowNs, in, out);
  }

  private void sample(int microns) {
    nowNs += TestBench.MS;
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = HERTZ.length;
    in.sampleSequence++;
    in.sampleTimeNs = nowNs;
    for (int i = 0; i < HERTZ.length; i++) {
      in.frequencyHz[i] = HERTZ[i];
      in.zRealMilliOhms[i] = (int) (1000 * ApproachCanal.ohms(microns, 2 * i));
      in.zImagMilliOhms[i] = (int) (1000 * ApproachCanal.ohms(microns, 2 * i + 1));
    }
  }

  private void goDownTo(int last) {
    for (int microns = 7_500; microns >= last; microns--) {
      at(microns);
    }
  }

  @Test
  void whatTheLengthStageLearnsCanBeKeptAndGivenToAnotherController() {
    assertTrue(controller.learned().isEmpty());
    goDownTo(-400);
    LearnedCanal canal = controller.learned().orElseThrow();
    StopController other = controller();
    assertTrue(other.recall(canal));
    assertArrayEquals(canal.numbers(), other.learned().orElseThrow().numbers());
    assertFalse(controller().recall(new LearnedCanal(1, canal.numbers())), "other weights");
  }

  @Test
  void theEstimateGoesByTheFileOfTheStage() {
    Map<String, Map<String, Object>> stages = new HashMap<>(LENGTH);
    stages.put("stages.recheck", Map.of("torque_ncm", "0.1"));
    stages.put("stages.recheck.file", Map.of("size", 20, "taper", "0.04"));
    goDownTo(1_000);
    int with15 = out.remainingMicrons;
    int[] read = new int[2];
    Stage[] of = {Stage.LENGTH, Stage.RECHECK};
    for (int i = 0; i < of.length; i++) {
      StopController both = controller(stages);
      in.stage = of[i];
      in.sampleTimeNs = 0;
      nowNs = 0;
      for (int microns = 7_500; microns >= 1_000; microns--) {
        sample(microns);
        both.step(nowNs, in, out);
      }
      read[i] = out.remainingMicrons;
    }
    assertEquals(with15, read[0]);
    assertNotEquals(with15, read[1], "a wider file in the same canal");
  }

  @Test
  void aFileThatTheWeightsDoNotKnowGetsNoDistance() {
    Map<String, Object> blind =
        Map.of("apical", "none", "on_doubtful", "none", "on_none", "none", "torque_ncm", "0.5");
    Map<String, Map<String, Object>> stages = new HashMap<>(LENGTH);
    stages.put("stages.shape", blind);
    stages.put("stages.shape.file", Map.of("size", 25, "taper", "0.06"));
    StopController shaping = controller(stages);
    in.stage = Stage.SHAPE;
    in.demand = false;
    for (int microns = 7_500; microns >= 500; microns--) {
      sample(microns);
      shaping.step(nowNs, in, out);
      in.demand = true;
      in.speedMilliRpm = out.speedMilliRpm;
      assertFalse(out.readingPresent);
    }
    assertEquals(State.TURNING, out.state, "the stage does not act on the reading");
    assertEquals(Trust.DOUBTFUL, out.trust);
    assertEquals(Cause.VAGUE, out.cause);
  }

  @Test
  void oneFrequencyOfFourThatFreezesIsFrozen() {
    goDownTo(1_000);
    assertNotEquals(Trust.NONE, out.trust);
    in.speedMilliRpm = 300_000;
    int real = in.zRealMilliOhms[2];
    int imaginary = in.zImagMilliOhms[2];
    for (int microns = 999; microns > 740; microns--) {
      sample(microns);
      in.zRealMilliOhms[2] = real;
      in.zImagMilliOhms[2] = imaginary;
      controller.step(nowNs, in, out);
    }
    assertEquals(Cause.FROZEN, out.cause);
    assertEquals(Trust.NONE, out.trust);
  }

  @Test
  void afterAFaultOfTimeTheApproachBeginsAnew() {
    goDownTo(1_000);
    int known = out.remainingMicrons;
    nowNs += 500 * TestBench.MS;
    at(1_000);
    StopController fresh = controller();
    ControllerOutput first = new ControllerOutput();
    fresh.step(nowNs, in, first);
    assertEquals(first.remainingMicrons, out.remainingMicrons, "as one that has seen one sample");
    assertTrue(Math.abs(known - out.remainingMicrons) > 50, known + " " + out.remainingMicrons);
  }
}
