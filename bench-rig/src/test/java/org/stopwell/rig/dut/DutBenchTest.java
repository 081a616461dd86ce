package org.stopwell.rig.dut;

import java.util.Map;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.RepeatableBenchContractTest;
import org.stopwell.rig.dut.PlayedDut.Trouble;
import org.stopwell.rig.virtual.VirtualBench;

/** A bench with a board under test is a bench like any other. */
class DutBenchTest extends RepeatableBenchContractTest {
  private static final long MS = 1_000_000;

  @Override
  protected Bench newBench() {
    try {
      ControllerSettings settings =
          ControllerSettings.of(
              Map.of(
                  "file", Map.of("size", 25, "taper", "0.06"),
                  "sense",
                      Map.of(
                          "policy", "locator", "locator_step_mm", "0.001", "locator_rate_hz", 200),
                  "stages.length", Map.of("speed_rpm", 300, "torque_ncm", "0.6")),
              Calibration.NONE);
      return PlayedDut.bench(
          new VirtualBench(MS), new PlayedDut(settings, Trouble.NONE, 0), PlayedDut.BUILD);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }
}
