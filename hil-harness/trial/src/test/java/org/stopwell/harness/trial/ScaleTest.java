package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.HexFormat;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** Benchmarks compare builds by scale.yaml: a faster build must still give the same trials. */
class ScaleTest {
  private static final long PERIOD_NS = 1_000_000;

  /** One trial of each condition under both policies. */
  private static final int TRIALS = 4;

  /**
   * Every input, output and truth of every step, and every result. The state hashes are left out: a
   * new layout of the state may change them. A change of model or controller that is meant changes
   * these digests, and says so.
   */
  @ParameterizedTest
  @CsvSource({
    "ratio,    fcd7fb3707b7385d",
    "approach, a75dead54507109a",
  })
  void everyStepStaysAsItWas(String policy, String expected) throws Exception {
    Plan plan = TestPlans.scale(policy);
    MessageDigest digest = MessageDigest.getInstance("SHA-256");
    TraceRecorder trace = new TraceRecorder();
    for (int i = 0; i < TRIALS; i++) {
      trace.clear();
      TrialResult recorded = run(plan, i, trace);
      assertEquals(recorded, run(plan, i, null), "a recording changes nothing");
      digest.update(withoutHashes(trace.bytes()));
      digest.update(numbers(recorded).getBytes(StandardCharsets.UTF_8));
    }
    assertEquals(expected, HexFormat.of().formatHex(digest.digest(), 0, 8));
  }

  @Test
  void theFirstTrialsHoldEveryCondition() throws Exception {
    Plan plan = TestPlans.scale("ratio");
    assertEquals(1_000_000, plan.trials());
    for (int i = 1; i < TRIALS; i++) {
      for (int j = 0; j < i; j++) {
        assertNotEquals(plan.trial(j).condition(), plan.trial(i).condition());
      }
    }
  }

  private static TrialResult run(Plan plan, int index, @Nullable TraceRecorder trace) {
    TrialSpec spec = plan.trial(index);
    VirtualBench bench = new VirtualBench(PERIOD_NS);
    bench.open();
    return Trials.run(
            bench,
            plan.controller(spec),
            plan.policies(),
            spec,
            trace,
            () -> Pace.lockstep(PERIOD_NS),
            () -> false)
        .orElseThrow();
  }

  private static String numbers(TrialResult r) {
    return r.condition()
        + " "
        + r.verdict()
        + " "
        + r.code()
        + " "
        + r.remainingMicrons()
        + " "
        + r.deepestMicrons()
        + " "
        + r.readingMicrons()
        + " "
        + r.boundMicrons()
        + " "
        + r.chain();
  }

  /** The hash of a step stands before 17 bytes of truth. */
  private static byte[] withoutHashes(byte[] trace) {
    int row = TraceRecorder.ROW_BYTES;
    ByteBuffer rows = ByteBuffer.wrap(trace).order(ByteOrder.LITTLE_ENDIAN);
    for (int end = TraceRecorder.HEAD_BYTES + row; end <= trace.length; end += row) {
      rows.putLong(end - 17 - 8, 0);
    }
    return trace;
  }
}
