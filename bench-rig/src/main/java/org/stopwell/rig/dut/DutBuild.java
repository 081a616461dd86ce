package org.stopwell.rig.dut;

import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.rig.bench.BenchException;

/** Which build of the exported controller some settings need. */
@FunctionalInterface
public interface DutBuild {
  /**
   * The fingerprint of the code that is exported with some settings.
   *
   * @param settings checked settings
   * @return 64 bits
   * @throws BenchException when no controller with these settings can be exported
   */
  long fingerprint(ControllerSettings settings) throws BenchException;
}
