package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.advice.SentinelAdvice;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.harness.protocol.Freeze;
import org.stopwell.harness.sign.DetachedSignature.Subject;
import org.stopwell.harness.sign.SigningKey;
import org.stopwell.harness.standing.Freezing;
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
          + " my-plan.frozen), under one SHA-256 that also covers the date. Nothing moves.",
      "On a physical bench the file also holds its serial number, calibrations and proof,"
          + " unless you give --away.",
      "Give the hash to the person who must verify the order of events, then run. Every run"
          + " of the plan is compared with the frozen file; its report prints the hash and every"
          + " deviation. A plan that is already frozen stays unchanged.",
      "With --key the file is signed too (my-plan.frozen.sig). Your own key proves no date: only"
          + " a person who receives the hash before the first trial can confirm it."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell freeze docs/plans/signed-claim.yaml",
      "  stopwell freeze PLAN --key lab.key",
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

  @Option(
      names = "--key",
      paramLabel = "FILE",
      description = "Sign the frozen plan with this private key, made with: stopwell key FILE.")
  @Nullable Path keyFile;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    SigningKey key = keyFile == null ? null : SigningKey.read(keyFile);
    Source source = Source.of(plans.file);
    if (source.isStopPlan()) {
      StopPlan stops = StopPlan.read(source);
      return sealed(new Freezing(plans.file, stops, Build.identity()).freeze(), key);
    }
    Plan plan = plans.read();
    // Options that contradict each other are found as they would be by run.
    BenchMaker maker = benches.maker();
    int code =
        sealed(benches.freezing(plans.file, plan, away ? Map.of() : bench(maker)).freeze(), key);
    SentinelAdvice.of(plan).forEach(out::println);
    return code;
  }

  private int sealed(String frozen, @Nullable SigningKey key) throws Exception {
    out().println(frozen);
    if (key != null) {
      out().println(sign(Freeze.fileOf(plans.file), key));
    }
    return 0;
  }

  private static String sign(Path file, SigningKey key) throws Exception {
    Freeze freeze = Freeze.read(file);
    if (!freeze.dated()) {
      throw new UsageException(
          file
              + ": an older version wrote it, and its hash does not cover the date; save the plan"
              + " under a new name, freeze and sign that");
    }
    return SignCommand.sign(file, Subject.FROZEN_PLAN, freeze.sha256(), key);
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
