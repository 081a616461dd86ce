package org.stopwell.rig.adversary;

import java.util.List;

/** The invariants, by name. */
final class Checks {
  private Checks() {}

  /** All of them, new for a run. */
  static List<Check> of(Setup setup, Scenario scenario) {
    return List.of(
        new RestartCheck(setup),
        new RestCheck(setup, scenario),
        new ToggleCheck(setup),
        new TorqueCheck(setup),
        new ForbiddenCheck(setup));
  }
}
