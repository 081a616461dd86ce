package org.stopwell.rig.board;

import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.RepeatableBenchContractTest;

class EmulatedBenchTest extends RepeatableBenchContractTest {
  @Override
  protected Bench newBench() {
    return EmulatedBench.lockstep(1_000_000);
  }
}
