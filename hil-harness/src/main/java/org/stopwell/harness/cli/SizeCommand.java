package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.stats.SampleSize;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import tools.jackson.jr.ob.JSON;

/** How many trials a claim needs. */
@Command(
    name = "size",
    description = "Says how many trials a claim needs, and how likely a true claim is to be shown.",
    footer = {
      "",
      "Examples:",
      "  stopwell size --share 0.95                      at least 95 %% within, by misses allowed",
      "  stopwell size --share 0.95 --true-share 0.99    and how many for a power of 0.9",
      "  stopwell size --margin-mm 0.1 --sd-mm 0.15      mean within ±0.1 mm",
      "  stopwell size --shift-mm 0.05 --sd-mm 0.05      difference between two builds, per arm",
      "  stopwell size --share 0.95 --per-canal 5 --icc 0.3 --lost 0.02",
      "",
      "Lengths need only share a unit. Repeats in one canal are worth less than so many canals:"
          + " --per-canal and --icc say how much; --lost is the share the rig will spoil."
    },
    mixinStandardHelpOptions = true)
final class SizeCommand implements Callable<Integer> {
  @Option(names = "--share", paramLabel = "P", description = "Claimed share, 0 to 1.")
  @Nullable Double share;

  @Option(names = "--true-share", paramLabel = "P", description = "The true share you expect.")
  @Nullable Double trueShare;

  @Option(names = "--margin-mm", paramLabel = "M", description = "Margin of the mean.")
  @Nullable Double margin;

  @Option(names = "--shift-mm", paramLabel = "D", description = "Difference of two means.")
  @Nullable Double shift;

  @Option(names = "--sd-mm", paramLabel = "S", description = "Standard deviation you expect.")
  @Nullable Double deviation;

  @Option(names = "--bias-mm", paramLabel = "B", description = "Mean you expect; 0 unless told.")
  double bias;

  @Option(
      names = "--confidence",
      paramLabel = "C",
      description = "One-sided confidence; ${DEFAULT-VALUE}.",
      defaultValue = "0.95")
  double confidence = 0.95;

  @Option(
      names = "--power",
      paramLabel = "P",
      description = "Wanted chance of showing a true claim; ${DEFAULT-VALUE}.",
      defaultValue = "0.9")
  double power = 0.9;

  @Option(
      names = "--per-canal",
      paramLabel = "N",
      description = "Trials in each canal; ${DEFAULT-VALUE}.",
      defaultValue = "1")
  int perCanal = 1;

  @Option(
      names = "--icc",
      paramLabel = "R",
      description = "Intraclass correlation of one canal, 0 to 1; ${DEFAULT-VALUE}.",
      defaultValue = "0")
  double correlation;

  @Option(
      names = "--lost",
      paramLabel = "P",
      description = "Share of trials the rig will spoil; ${DEFAULT-VALUE}.",
      defaultValue = "0")
  double lost;

  @Option(names = "--json", description = "Print the result as JSON.")
  boolean json;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    check();
    Map<String, Object> sizes = new LinkedHashMap<>();
    if (share != null) {
      for (int misses = 0; misses <= 3; misses++) {
        add(
            sizes,
            "share with " + misses + (misses == 1 ? " miss" : " misses"),
            SampleSize.trialsForShare(share, confidence, misses));
      }
      if (trueShare != null) {
        add(
            sizes,
            "share with power " + power,
            SampleSize.trialsForShare(share, confidence, trueShare, power));
      }
    }
    if (margin != null) {
      add(
          sizes,
          "mean within margin with power " + power,
          SampleSize.trialsForBias(
              margin, Objects.requireNonNull(deviation), bias, confidence, power));
    }
    if (shift != null) {
      add(
          sizes,
          "shift per arm with power " + power,
          SampleSize.trialsForShift(
              shift, Objects.requireNonNull(deviation), 2 * (1 - confidence), power));
    }
    if (json) {
      out.println(JSON.std.with(JSON.Feature.PRETTY_PRINT_OUTPUT).asString(sizes));
    } else {
      sizes.forEach((what, n) -> out.printf(Locale.ROOT, "%-36s %s%n", what, n));
    }
    return 0;
  }

  private void add(Map<String, Object> sizes, String what, OptionalInt independent) {
    sizes.put(
        what,
        independent.isPresent()
            ? SampleSize.planned(independent.getAsInt(), perCanal, correlation, lost)
            : "more than can be planned");
  }

  private void check() throws UsageException {
    if (share == null && margin == null && shift == null) {
      throw new UsageException("which claim? --share, --margin-mm or --shift-mm");
    }
    if ((margin != null || shift != null) && deviation == null) {
      throw new UsageException("--margin-mm and --shift-mm need --sd-mm");
    }
    if (trueShare != null && share == null) {
      throw new UsageException("--true-share goes with --share");
    }
    between("--share", share, 0.01, 0.9999);
    between("--true-share", trueShare, 0, 1);
    between("--margin-mm", margin, 1e-6, 1000.0);
    between("--shift-mm", shift, 1e-6, 1000.0);
    between("--sd-mm", deviation, 1e-6, 1000.0);
    between("--bias-mm", bias, -1000, 1000);
    between("--confidence", confidence, 0.51, 0.9999);
    between("--power", power, 0.05, 0.9999);
    between("--icc", correlation, 0, 1);
    between("--lost", lost, 0, 0.9);
    between("--per-canal", (double) perCanal, 1, 1e6);
  }

  private static void between(String option, @Nullable Double value, double low, double high)
      throws UsageException {
    if (value != null && !(value >= low && value <= high)) {
      throw new UsageException(option + " " + value + " is outside " + low + " to " + high);
    }
  }
}
