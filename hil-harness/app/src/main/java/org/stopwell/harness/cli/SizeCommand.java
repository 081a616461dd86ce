package org.stopwell.harness.cli;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalInt;
import java.util.function.IntToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.report.TextTable;
import org.stopwell.harness.stats.Anytime;
import org.stopwell.harness.stats.GroupSequential;
import org.stopwell.harness.stats.SampleSize;
import org.stopwell.harness.stats.Sprt;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Computes how many trials a claim needs. */
@Command(
    name = "size",
    description =
        "Computes how many trials a claim needs, and the probability that a true claim is"
            + " shown.",
    footer = {
      "",
      "Examples:",
      "  stopwell size --share 0.95                      at least 95 %% within, by misses allowed",
      "  stopwell size --share 0.95 --true-share 0.99    and how many for a power of 0.9",
      "  stopwell size --margin-mm 0.1 --sd-mm 0.15      mean within ±0.1 mm",
      "  stopwell size --shift-mm 0.05 --sd-mm 0.05      difference between two builds,"
          + " trials per build",
      "  stopwell size --share 0.95 --per-canal 5 --icc 0.3 --lost 0.02",
      "  stopwell size --band-mm 0.5 --sd-mm 0.15        tolerance interval within ±0.5 mm",
      "  stopwell size --limit-mm 0.05 --sd-mm 0.1       limits of agreement to ±0.05 mm",
      "  stopwell size --shift-mm 0.05 --sd-mm 0.05 --looks 5       looking five times",
      "  stopwell size --good 0.01 --bad 0.05 --cap 300  sequential test of a share of misses",
      "  stopwell size --share 0.95 --true-share 0.99 --cap 1000    looking after every trial",
      "  stopwell size --share 0.95 --true-share 0.99 --trials 150  the power of 150 trials",
      "",
      "All lengths must have the same unit. Repeats in one canal count less than separate"
          + " canals; --per-canal and --icc set by how much. --lost is the share of trials that"
          + " the rig spoils."
    },
    mixinStandardHelpOptions = true)
final class SizeCommand extends StopwellCommand {
  @Option(names = "--share", paramLabel = "P", description = "Claimed share, 0 to 1.")
  @Nullable Double share;

  @Option(names = "--true-share", paramLabel = "P", description = "Expected true share, 0 to 1.")
  @Nullable Double trueShare;

  @Option(names = "--margin-mm", paramLabel = "M", description = "Margin of the mean, mm.")
  @Nullable Double margin;

  @Option(names = "--shift-mm", paramLabel = "D", description = "Difference of two means, mm.")
  @Nullable Double shift;

  @Option(names = "--sd-mm", paramLabel = "S", description = "Expected standard deviation, mm.")
  @Nullable Double deviation;

  @Option(names = "--bias-mm", paramLabel = "B", description = "Expected mean, mm. Default: 0.")
  double bias;

  @Option(
      names = "--band-mm",
      paramLabel = "B",
      description =
          "Band, ± mm around the standoff (set distance short of the foramen), for a"
              + " tolerance interval of --share. Default of --share: 0.95.")
  @Nullable Double band;

  @Option(
      names = "--limit-mm",
      paramLabel = "W",
      description = "Half width of the interval of a limit of agreement, mm.")
  @Nullable Double limit;

  @Option(
      names = "--good",
      paramLabel = "P",
      description = "Share of misses that a sequential test must accept; needs --bad.")
  @Nullable Double good;

  @Option(
      names = "--bad",
      paramLabel = "P",
      description = "Share of misses that a sequential test must reject; needs --good.")
  @Nullable Double bad;

  @Option(
      names = "--looks",
      paramLabel = "K",
      description =
          "Number of looks for --shift-mm, limits of O'Brien and Fleming. Default:"
              + " ${DEFAULT-VALUE}.",
      defaultValue = "1")
  int looks = 1;

  @Option(
      names = "--cap",
      paramLabel = "N",
      description = "Largest number of trials of a campaign that is judged after every trial.")
  @Nullable Integer cap;

  @Option(
      names = "--trials",
      paramLabel = "N",
      description = "Also print the power of this number of trials (per build for --shift-mm).")
  @Nullable Integer trials;

  @Option(
      names = "--confidence",
      paramLabel = "C",
      description = "One-sided confidence. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.95")
  double confidence = 0.95;

  @Option(
      names = "--power",
      paramLabel = "P",
      description = "Probability of showing a true claim. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.9")
  double power = 0.9;

  @Option(
      names = "--per-canal",
      paramLabel = "N",
      description = "Trials in each canal. Default: ${DEFAULT-VALUE}.",
      defaultValue = "1")
  int perCanal = 1;

  @Option(
      names = "--icc",
      paramLabel = "R",
      description = "Intraclass correlation of one canal, 0 to 1. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0")
  double correlation;

  @Option(
      names = "--lost",
      paramLabel = "P",
      description = "Share of trials that the rig spoils, 0 to 1. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0")
  double lost;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    check();
    Map<String, Object> sizes = new LinkedHashMap<>();
    if (share != null && band == null) {
      share(sizes, share);
    }
    double spread = deviation == null ? 1 : deviation;
    if (band != null) {
      double part = share == null ? 0.95 : share;
      add(
          sizes,
          "tolerance interval within band with power " + power,
          SampleSize.trialsForTolerance(part, confidence, band, spread, bias, power));
      double width = band;
      power(sizes, n -> SampleSize.powerOfTolerance(n, part, confidence, width, spread, bias));
    }
    if (margin != null) {
      double width = margin;
      add(
          sizes,
          "mean within margin with power " + power,
          SampleSize.trialsForBias(width, spread, bias, confidence, power));
      power(sizes, n -> SampleSize.powerOfBias(n, width, spread, bias, confidence));
    }
    if (limit != null) {
      add(
          sizes,
          "pairs for limits of agreement",
          SampleSize.pairsForLimits(limit, spread, confidence));
    }
    if (shift != null) {
      shift(sizes, shift, spread);
    }
    if (good != null && bad != null) {
      sequential(sizes, good, bad);
    }
    TextTable table = new TextTable("lr");
    sizes.forEach((what, n) -> table.row(what, String.valueOf(n)));
    json.print(out(), sizes, table::print);
    return 0;
  }

  private void share(Map<String, Object> sizes, double claimed) {
    for (int misses = 0; misses <= 3; misses++) {
      add(
          sizes,
          "share with " + misses + (misses == 1 ? " miss" : " misses"),
          SampleSize.trialsForShare(claimed, confidence, misses));
    }
    if (trueShare == null) {
      return;
    }
    double truth = trueShare;
    add(
        sizes,
        "share with power " + power,
        SampleSize.trialsForShare(claimed, confidence, truth, power));
    power(sizes, n -> SampleSize.powerOfShare(n, claimed, confidence, truth));
    if (cap != null) {
      Sprt.Behaviour anytime = Anytime.behaviour(claimed, confidence, truth, cap);
      sizes.put("looking after every trial, mean trials", rounded(anytime.meanTrials(), 1));
      sizes.put("looking after every trial, power", rounded(anytime.accept(), 4));
    }
  }

  private void shift(Map<String, Object> sizes, double difference, double spread) {
    double alpha = 2 * (1 - confidence);
    OptionalInt fixed = SampleSize.trialsForShift(difference, spread, alpha, power);
    add(sizes, "shift per arm with power " + power, fixed);
    if (looks > 1) {
      double most = SampleSize.inflation(GroupSequential.of(looks, alpha, 0), power);
      add(
          sizes,
          "shift per arm, at most, in " + looks + " looks",
          fixed.isEmpty() ? fixed : OptionalInt.of((int) Math.ceil(fixed.getAsInt() * most)));
    }
    power(sizes, n -> SampleSize.powerOfShift(n, difference, spread, alpha));
  }

  private void sequential(Map<String, Object> sizes, double accept, double reject) {
    double error = 1 - confidence;
    Sprt test = new Sprt(accept, reject, error, error, cap == null ? 1000 : cap);
    for (double truth : new double[] {accept, reject}) {
      Sprt.Behaviour found = test.behaviour(truth);
      String of = "sequential test at " + truth + " misses: ";
      sizes.put(of + "mean trials", rounded(found.meanTrials(), 1));
      sizes.put(of + "accepts", rounded(found.accept(), 4));
      sizes.put(of + "undecided at the cap", rounded(found.undecided(), 4));
    }
  }

  private void power(Map<String, Object> sizes, IntToDoubleFunction of) {
    if (trials != null) {
      sizes.put("power of " + trials + " independent trials", rounded(of.applyAsDouble(trials), 4));
    }
  }

  private static BigDecimal rounded(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
  }

  private void add(Map<String, Object> sizes, String what, OptionalInt independent) {
    sizes.put(
        what,
        independent.isPresent()
            ? SampleSize.planned(independent.getAsInt(), perCanal, correlation, lost)
            : "above the largest number that can be planned");
  }

  private void check() throws UsageException {
    if (share == null
        && margin == null
        && shift == null
        && band == null
        && limit == null
        && good == null) {
      throw new UsageException(
          "a claim is missing: give --share, --margin-mm, --band-mm, --shift-mm,"
              + " --limit-mm, or --good and --bad");
    }
    boolean lengths = margin != null || shift != null || band != null || limit != null;
    if (lengths && deviation == null) {
      throw new UsageException("--margin-mm, --shift-mm, --band-mm and --limit-mm need --sd-mm");
    }
    if ((good == null) != (bad == null)) {
      throw new UsageException("--good and --bad need each other");
    }
    if (good != null && bad != null && !(good < bad)) {
      throw new UsageException("--good " + good + " must be below --bad " + bad);
    }
    if (looks != 1 && shift == null) {
      throw new UsageException("--looks goes with --shift-mm");
    }
    if (trueShare != null && share == null) {
      throw new UsageException("--true-share goes with --share");
    }
    Range.check("--share", share, 0.01, 0.9999);
    Range.check("--true-share", trueShare, 0, 1);
    Range.check("--margin-mm", margin, 1e-6, 1000.0);
    Range.check("--shift-mm", shift, 1e-6, 1000.0);
    Range.check("--sd-mm", deviation, 1e-6, 1000.0);
    Range.check("--bias-mm", bias, -1000, 1000);
    Range.check("--confidence", confidence, 0.51, 0.9999);
    Range.check("--power", power, 0.05, 0.9999);
    Range.check("--icc", correlation, 0, 1);
    Range.check("--lost", lost, 0, 0.9);
    Range.check("--per-canal", perCanal, 1, 1_000_000);
    Range.check("--band-mm", band, 1e-6, 1000.0);
    Range.check("--limit-mm", limit, 1e-6, 1000.0);
    Range.check("--good", good, 1e-6, 0.999);
    Range.check("--bad", bad, 1e-6, 0.999);
    Range.check("--looks", looks, 1, 20);
    Range.check("--cap", cap, 1, 5000);
    Range.check("--trials", trials, 2, 1_000_000);
  }
}
