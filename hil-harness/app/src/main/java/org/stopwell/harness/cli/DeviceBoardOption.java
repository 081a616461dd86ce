package org.stopwell.harness.cli;

import org.stopwell.rig.bench.Bench;
import picocli.CommandLine.Option;

/** Which board is meant: that of the controller, or that of a device. */
final class DeviceBoardOption {
  @Option(
      names = "--device",
      description =
          "The board that plays a canal to a device with a motor of its own and watches it. A"
              + " physical device board needs no option; a simulated bench has both boards.")
  boolean device;

  /** A physical board is one or the other; a simulated bench is both. */
  boolean isMeant(Bench bench) {
    return device || (!bench.describe().simulated() && bench.deviceWatch().isPresent());
  }
}
