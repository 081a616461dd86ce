package org.stopwell.core;

import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;

/**
 * Steps a controller through the recording and prints what became of it; runs on a JVM and as
 * compiled C.
 */
final class WorkingLife {
  private WorkingLife() {}

  public static void main(String[] arguments) throws SettingsException {
    System.out.println(outcome());
  }

  /** The number of steps, and a hash over the state after each of them. */
  static String outcome() throws SettingsException {
    StopController controller =
        new StopController(ControllerSettings.of(Recording.settings(), TestBench.curve()));
    ControllerOutput out = new ControllerOutput();
    long hash = 0;
    int steps = 0;
    for (Recording.Step step : Recording.ofAWorkingLife()) {
      controller.step(step.nowNs(), step.in(), out);
      hash = 31 * hash + controller.stateHash();
      steps++;
    }
    return steps + " steps, " + Long.toHexString(hash);
  }
}
