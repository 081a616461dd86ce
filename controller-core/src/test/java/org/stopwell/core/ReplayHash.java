package org.stopwell.core;

import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;

/** Prints one number for a whole recording: the hashes of all states, folded in their order. */
final class ReplayHash {
  private ReplayHash() {}

  public static void main(String[] args) throws SettingsException {
    System.out.println(of());
  }

  static long of() throws SettingsException {
    StopController controller =
        new StopController(ControllerSettings.of(Recording.settings(), TestBench.curve()));
    ControllerOutput out = new ControllerOutput();
    long all = 0;
    for (Recording.Step step : Recording.ofAWorkingLife()) {
      controller.step(step.nowNs(), step.in(), out);
      all = all * 31 + controller.stateHash();
    }
    return all;
  }
}
