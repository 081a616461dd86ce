package org.stopwell.harness.cli;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.firmware.Firmware;
import org.stopwell.harness.firmware.FirmwareException;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.dut.DutBuild;

/** Which build a board under test must hold: that of the controller exported with its settings. */
final class FirmwareBuilds implements DutBuild {
  private final Map<Long, Long> known = new ConcurrentHashMap<>();

  @Override
  public long fingerprint(ControllerSettings settings) throws BenchException {
    Long before = known.get(settings.fingerprint());
    if (before != null) {
      return before;
    }
    try {
      long build = Firmware.of(settings).buildFingerprint();
      known.put(settings.fingerprint(), build);
      return build;
    } catch (FirmwareException e) {
      throw new BenchException(RigFault.DUT_OTHER, "--bench dut: " + e.getMessage(), e);
    }
  }
}
