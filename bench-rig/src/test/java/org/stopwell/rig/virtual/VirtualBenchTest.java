package org.stopwell.rig.virtual;

import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.RepeatableBenchContractTest;

class VirtualBenchTest extends RepeatableBenchContractTest {
  @Override
  protected Bench newBench() {
    return new VirtualBench(1_000_000);
  }
}
