package org.stopwell.rig.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What every bench keeps, and what one whose time is that of its host keeps beyond it. */
public abstract class RepeatableBenchContractTest extends BenchContractTest {
  private static final long MS = 1_000_000;

  @Test
  void equal_scenes_and_commands_give_equal_readings() throws Exception {
    List<Long> first = fingerprint(7);
    bench.close();
    bench = newBench();

    assertEquals(first, fingerprint(7));
  }

  private List<Long> fingerprint(long seed) throws Exception {
    mounted(seed);
    List<Long> seen = new ArrayList<>();
    for (int i = 0; i < 100; i++) {
      run(i < 50 ? forward : off, 5 * MS);
      seen.add(reading.sampleSequence);
      seen.add((long) reading.zRealMilliOhms[0]);
      seen.add((long) reading.zImagMilliOhms[1]);
      seen.add((long) reading.speedMilliRpm);
      seen.add((long) bench.truth().remainingMicrons);
    }
    return seen;
  }
}
