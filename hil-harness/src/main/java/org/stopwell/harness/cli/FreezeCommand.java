package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Spec;

/** Fixes a plan before its first trial. */
@Command(
    name = "freeze",
    description = {
      "Fixes a plan before its first trial: every value of plan, settings and station, the bench and"
          + " the build go into a file beside the plan, under one SHA-256. Nothing moves.",
      "Give the hash to whoever shall believe it; then run. Every run of the plan is held against the"
          + " freeze, and its report prints the hash and every deviation. A plan that is frozen already"
          + " stays as it is."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell freeze docs/plans/signed-claim.yaml",
      "  stopwell freeze PLAN --bench serial --port /dev/ttyUSB0"
    },
    mixinStandardHelpOptions = true)
final class FreezeCommand implements Callable<Integer> {
  @Mixin PlanOptions plans = new PlanOptions();

  @Mixin BenchOptions benches = new BenchOptions();

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    // Options that contradict each other are found as they would be by run.
    benches.maker();
    out.println(new Freezing(plans.file, plans.read(), benches).freeze());
    return 0;
  }
}
