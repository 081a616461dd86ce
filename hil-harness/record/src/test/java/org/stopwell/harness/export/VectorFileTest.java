package org.stopwell.harness.export;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.firmware.Firmware;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** A recorded trial as a golden vector, repeated by the exported controller in C. */
class VectorFileTest {
  private static final long PERIOD_NS = 1_000_000;

  @TempDir Path dir;

  @Test
  void theControllerInCRepeatsARecordedTrialAndRefusesADamagedOne() throws Exception {
    Plan plan = TestPlans.quick(1);
    TraceRecorder trace = new TraceRecorder();
    try (VirtualBench bench = new VirtualBench(PERIOD_NS)) {
      bench.open();
      new TrialRunner(bench, plan.settings().controller())
          .run(plan.trial(0), trace, () -> Pace.lockstep(PERIOD_NS), () -> false);
    }
    byte[] vector = VectorFile.of(trace.bytes(), plan.settings().controller());
    Files.write(dir.resolve("whole.swv"), vector);
    vector[vector.length / 2] ^= 1;
    Files.write(dir.resolve("damaged.swv"), vector);

    Map<String, String> sources = Firmware.of(plan.settings().controller()).files();
    for (Map.Entry<String, String> file : sources.entrySet()) {
      Files.writeString(dir.resolve(file.getKey()), file.getValue());
    }
    String runner = dir.resolve("run_vectors").toString();
    assertEquals(
        0,
        run(
            "gcc",
            "-std=c99",
            "-ffp-contract=off",
            "-o",
            runner,
            "run_vectors.c",
            "stopwell.c",
            "stopwell_settings.c"));
    assertEquals(0, run(runner, "whole.swv"));
    assertNotEquals(0, run(runner, "damaged.swv"));
  }

  private int run(String... command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command).directory(dir.toFile()).redirectErrorStream(true).start();
    System.out.print(new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8));
    return process.waitFor();
  }
}
