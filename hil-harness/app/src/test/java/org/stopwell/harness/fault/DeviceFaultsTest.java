package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.advice.BenchNeeds;
import org.stopwell.harness.cli.Main;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.virtual.VirtualBench;

/** The shipped plan plays every fault of a device and finds its cause. Simulated. */
class DeviceFaultsTest {
  private static final Path PLAN = TestPlans.file("device-faults");

  @Test
  void everyFaultOfTheShippedPlanIsAttributedToItsCause(@TempDir Path dir) throws Exception {
    StringWriter err = new StringWriter();
    PrintWriter out = new PrintWriter(new StringWriter());
    String run = dir.resolve("run").toString();
    int code =
        Main.run(
            new String[] {"run", PLAN.toString(), "--out", run}, out, new PrintWriter(err, true));
    try (RunFile file = RunFile.load(Path.of(run))) {
      List<TrialResult> faulted =
          file.results().stream().filter(t -> !t.condition().equals("none")).toList();
      assertEquals(DeviceFault.values().length, faulted.size());
      assertEquals(
          List.of(),
          faulted.stream()
              .filter(t -> !t.code().equals(FaultOutcome.AS_EXPECTED))
              .map(t -> t.condition() + ": " + t.message())
              .toList());
    }
    assertEquals(0, code, err.toString());
    String page = Files.readString(Path.of(run, "report.html"));
    assertTrue(page.contains("Injected faults and results"), "the section of the faults");
  }

  /** No two kinds are the same fault, and the shipped plan leaves none out. */
  @Test
  void theShippedPlanHasEveryFaultOfADevice() throws Exception {
    Set<DeviceFault> planned =
        plan().plannedConditions().stream()
            .flatMap(condition -> condition.faults().stream())
            .flatMap(f -> f.injection().kind().ofDevice().stream())
            .collect(Collectors.toCollection(() -> EnumSet.noneOf(DeviceFault.class)));
    assertEquals(EnumSet.allOf(DeviceFault.class), planned);
    assertEquals(
        DeviceFault.values().length,
        Arrays.stream(FaultKind.values()).filter(k -> k.ofDevice().isPresent()).count());
  }

  /** Only a simulated device can play a fault; the stall of the host needs none. */
  @Test
  void aBenchThatCannotPlayAFaultIsRefused() throws Exception {
    try (VirtualBench bench = new VirtualBench(1_000_000)) {
      bench.open();
      assertEquals(List.of(), BenchNeeds.missing(plan(), bench));
      DeviceWatch hardware = into -> {};
      ForwardingBench held =
          new ForwardingBench(bench) {
            @Override
            public java.util.Optional<DeviceWatch> deviceWatch() {
              return java.util.Optional.of(hardware);
            }
          };
      List<String> missing = BenchNeeds.missing(plan(), held);
      assertEquals(DeviceFault.values().length - 1, missing.size());
      assertEquals(
          "faults: device_never_started needs a simulated device; the bench virtual cannot play"
              + " it. Use --bench virtual or --bench emulated",
          missing.get(0));
    }
  }

  private static Plan plan() throws Exception {
    return Plan.read(Source.of(PLAN));
  }
}
