package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.EnumSet;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.State;
import org.stopwell.core.settings.ControllerSettings;

class ReplayTest {

  @Test
  void theSameInputsGiveTheSameBytesAndTheSameHashAtEveryStep() throws Exception {
    List<Recording.Step> steps = Recording.ofAWorkingLife();
    ControllerSettings settings = ControllerSettings.of(Recording.settings(), TestBench.curve());
    StopController a = new StopController(settings);
    StopController b = new StopController(settings);
    ControllerOutput outA = new ControllerOutput();
    ControllerOutput outB = new ControllerOutput();
    EnumSet<State> seen = EnumSet.noneOf(State.class);
    for (Recording.Step step : steps) {
      a.step(step.nowNs(), step.in(), outA);
      b.step(step.nowNs(), step.in(), outB);
      assertEquals(a.stateHash(), b.stateHash());
      assertEquals(outA.remainingMicrons, outB.remainingMicrons);
      assertEquals(outA.speedMilliRpm, outB.speedMilliRpm);
      seen.add(outA.state);
    }
    assertEquals(EnumSet.allOf(State.class), seen, "the recording shows every state");
  }

  @Test
  void theHashIsOfTheStateHoweverOftenItWasAskedFor() throws Exception {
    ControllerSettings settings = ControllerSettings.of(Recording.settings(), TestBench.curve());
    StopController often = new StopController(settings);
    StopController seldom = new StopController(settings);
    ControllerOutput out = new ControllerOutput();
    int steps = 0;
    for (Recording.Step step : Recording.ofAWorkingLife()) {
      often.step(step.nowNs(), step.in(), out);
      seldom.step(step.nowNs(), step.in(), out);
      long hash = often.stateHash();
      if (++steps % 97 == 0) {
        assertEquals(hash, seldom.stateHash(), "after " + steps + " steps");
      }
    }
  }

  @Test
  void aChangedInputChangesTheHash() throws Exception {
    List<Recording.Step> steps = Recording.ofAWorkingLife();
    ControllerSettings settings = ControllerSettings.of(Recording.settings(), TestBench.curve());
    StopController a = new StopController(settings);
    StopController b = new StopController(settings);
    ControllerOutput out = new ControllerOutput();
    for (int i = 0; i < 1_000; i++) {
      Recording.Step step = steps.get(i);
      a.step(step.nowNs(), step.in(), out);
      if (i == 500) {
        step.in().zRealMilliOhms[0]++;
        step.in().sampleSequence++;
        step.in().sampleTimeNs = step.nowNs();
      }
      b.step(step.nowNs(), step.in(), out);
    }
    assertTrue(a.stateHash() != b.stateHash());
  }
}
