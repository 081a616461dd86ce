package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Map;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.plan.Plan;
import org.stopwell.rig.bench.Bench;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Fixes a plan before its first trial. */
@Command(
    name = "freeze",
    description = {
      "Fixes a plan before its first trial. Writes every value of plan, settings and"
          + " station, the bench and the build into a file beside the plan (my-plan.yaml:"
          + " my-plan.frozen), under one SHA-256. Nothing moves.",
      "On a physical bench the file also holds its serial number, calibrations and proof,"
          + " unless you give --away.",
      "Give the hash to the person who must verify the order of events, then run. Every run"
          + " of the plan is compared with the frozen file; its report prints the hash and every"
          + " deviation. A plan that is already frozen stays unchanged."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell freeze docs/plans/signed-claim.yaml",
      "  stopwell freeze PLAN --bench serial --port /dev/ttyUSB0",
      "  stopwell freeze PLAN --bench serial --port /dev/ttyUSB0 --away"
    },
    mixinStandardHelpOptions = true)
final class FreezeCommand extends StopwellCommand {
  @Mixin PlanOptions plans = new PlanOptions();

  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin RecordsOption records = new RecordsOption();

  @Option(
      names = "--away",
      description =
          "Freeze without the bench: do not fix its serial number, calibrations and proof.")
  boolean away;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Plan plan = plans.read();
    // Options that contradict each other are found as they would be by run.
    BenchMaker maker = benches.maker();
    out.println(benches.freezing(plans.file, plan, away ? Map.of() : bench(maker)).freeze());
    return 0;
  }

  private Map<String, String> bench(BenchMaker maker) throws Exception {
    if (!benches.kind().physical() && records.directory == null) {
      return Map.of();
    }
    try (Bench bench = maker.open()) {
      return records.of(bench.describe(), benches.at.station).items();
    }
  }
}
