package org.stopwell.rig.pi;

import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.RepeatableBenchContractTest;
import org.stopwell.rig.virtual.VirtualBench;

/** The motor on model pins, the canal in the virtual bench: what every bench must keep. */
class PiBenchContractTest extends RepeatableBenchContractTest {
  @Override
  protected Bench newBench() {
    return new PiRig(new VirtualBench(1_000_000));
  }
}
