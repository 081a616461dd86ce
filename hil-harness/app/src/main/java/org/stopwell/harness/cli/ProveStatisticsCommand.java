package org.stopwell.harness.cli;

import java.util.List;
import java.util.Map;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Simulates how often the methods that decide claims err. */
@Command(
    name = "prove-statistics",
    description = {
      "Simulates campaigns whose truth is known, and prints how often the methods that decide"
          + " claims err: false bounds of shares and means where trials share canals, false claims"
          + " with looks, the exact errors of Wald's test, the power of planned sizes, and false alarms"
          + " of sentinels. The long"
          + " form makes the tables of docs/statistics.md and takes about a minute.",
      "",
      "Exit codes: 0 every rate is as promised; 6 a rate is above what is promised by more"
          + " than four standard errors of the simulation."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell prove-statistics --short",
      "  stopwell prove-statistics --seed 7",
    },
    mixinStandardHelpOptions = true)
final class ProveStatisticsCommand extends StopwellCommand {
  /** Seed of the tables in the pages. */
  static final long SEED = 20261130;

  /** Simulated campaigns of each setting. */
  static final int LONG = 10_000;

  static final int SHORT = 500;

  /** The program failed; nothing is said about controller or rig. */
  private static final int PROGRAM_FAILED = 6;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of all random numbers. Default: ${DEFAULT-VALUE}.",
      defaultValue = "" + SEED)
  long seed = SEED;

  @Option(
      names = "--short",
      description = "Simulate " + SHORT + " campaigns of each setting instead of " + LONG + ".")
  boolean brief;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    ErrorRates rates = new ErrorRates(seed, brief ? SHORT : LONG);
    List<String> wrong = rates.tooHigh();
    json.print(
        out(),
        Map.of("seed", seed, "tables", rates.tables(), "too_high", wrong),
        print -> {
          print.accept(rates.tables());
          print.accept(
              wrong.isEmpty()
                  ? "Every rate is as promised. Seed " + seed + "."
                  : wrong.size() + " rates are above what is promised. Seed " + seed + ":");
          wrong.forEach(print);
        });
    return wrong.isEmpty() ? 0 : PROGRAM_FAILED;
  }
}
