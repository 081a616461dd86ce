package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import java.util.stream.IntStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.CanalBench.Policy;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.trace.Event;

/** A depth axis adds to the readings: they average along it, and it is dropped when it is wrong. */
class DepthAxisTest {
  private static final int SEEDS = 60;

  private static CanalBench started(Policy policy, int seed, boolean axis) {
    CanalBench bench = new CanalBench(policy, Map.of("learn_coast", false));
    bench.random.setSeed(seed);
    bench.noise = 3;
    bench.axis = axis;
    bench.open = true;
    bench.remainingMicrons = 3_500;
    bench.run(300);
    bench.open = false;
    bench.run(600);
    return bench;
  }

  /** How much the place of the decision varies, µm². */
  private static double variance(Policy policy, boolean axis) {
    double[] places =
        IntStream.range(0, SEEDS)
            .mapToDouble(
                seed -> {
                  CanalBench bench = started(policy, seed, axis);
                  bench.feedMicronsPerSecond = 800;
                  while (bench.out.drive.turns()) {
                    bench.step();
                  }
                  assertEquals(Reason.STANDOFF_REACHED, bench.out.reason);
                  return bench.remainingMicrons;
                })
            .toArray();
    double mean = IntStream.range(0, SEEDS).mapToDouble(i -> places[i]).average().orElseThrow();
    return IntStream.range(0, SEEDS)
        .mapToDouble(i -> (places[i] - mean) * (places[i] - mean))
        .average()
        .orElseThrow();
  }

  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE"})
  void theStopVariesLessWithAnAxis(Policy policy) {
    double without = variance(policy, false);
    double with = variance(policy, true);

    assertTrue(with < 0.9 * without, policy + ": " + with + " of " + without + " um²");
  }

  /** The axis stands still while the file is fed. */
  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE"})
  void anAxisThatContradictsTheReadingsIsDroppedAndSaid(Policy policy) {
    CanalBench bench = started(policy, 1, false);
    bench.in.insertionPresent = true;
    bench.in.insertionMicrons = 12_500;
    bench.run(500);
    bench.feedMicronsPerSecond = 800;
    while (bench.out.drive.turns()) {
      bench.step();
    }
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.STANDOFF_REACHED, bench.out.reason);
    assertEquals(500 + 120, bench.remainingMicrons, 120);
    Event event = new Event();
    boolean said = false;
    for (long i = bench.controller.events().oldest(); i < bench.controller.events().count(); i++) {
      bench.controller.events().get(i, event);
      said |= event.reason == Reason.AXIS_DROPPED;
    }
    assertTrue(said);
  }
}
