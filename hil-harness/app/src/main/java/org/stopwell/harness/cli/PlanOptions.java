package org.stopwell.harness.cli;

import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** The plan of a command, and the options that replace its numbers. */
final class PlanOptions {
  @Parameters(paramLabel = "PLAN", description = "The plan, a YAML file.")
  Path file = Path.of("");

  @Option(
      names = "--trials",
      paramLabel = "N",
      description = "Trials in each condition. Default: as in the plan.")
  @Nullable Integer trials;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Campaign seed. Default: as in the plan.")
  @Nullable Long seed;

  @Spec(Spec.Target.MIXEE)
  @Nullable CommandSpec mixee;

  /** The checked plan. */
  Plan read() throws UsageException, PlanException {
    Plan plan = Plan.read(Source.of(file), Main.policies(mixee));
    Range.check("--trials", trials, 1, Math.min(1_000_000, plan.mostTrials()));
    if (seed != null && seed < 0) {
      throw new UsageException("--seed " + seed + " is below 0");
    }
    return plan.with(
        seed == null ? plan.head().seed() : seed, trials == null ? plan.head().trials() : trials);
  }

  /** Refuses a plan without models of canals. */
  static void onModels(Plan plan, String command) throws UsageException {
    if (!plan.teeth().isEmpty()) {
      throw new UsageException(
          plan.head().name()
              + ": a plan on extracted teeth; "
              + command
              + " needs the virtual bench");
    }
  }

  /** Refuses a plan in which a device decides and no controller of this program runs. */
  static void ownController(Plan plan, String command) throws UsageException {
    if (plan.isExternal()) {
      throw new UsageException(
          plan.head().name()
              + ": a plan with controller: external; "
              + command
              + " needs controller: own");
    }
  }
}
