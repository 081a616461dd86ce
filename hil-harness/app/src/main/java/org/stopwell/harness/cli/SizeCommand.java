package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.report.SizePage;
import org.stopwell.harness.report.TextTable;
import org.stopwell.harness.stats.TrialSizes;
import org.stopwell.rig.random.RandomStream;
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
      "  stopwell size --share 0.95 --true-share 0.99 --page power.html",
      "  stopwell size --margin-mm 0.1 --sd-mm 0.15      mean within ±0.1 mm",
      "  stopwell size --shift-mm 0.05 --sd-mm 0.05      difference between two builds,"
          + " trials per build",
      "  stopwell size --share 0.95 --true-share 0.99 --per-canal 5 --icc 0.3    repeats in canals",
      "  stopwell size --share 0.95 --true-share 0.99 --looks 3     three looks",
      "  stopwell size --band-mm 0.5 --sd-mm 0.15        tolerance interval within ±0.5 mm",
      "  stopwell size --limit-mm 0.05 --sd-mm 0.1       limits of agreement to ±0.05 mm",
      "  stopwell size --shift-mm 0.05 --sd-mm 0.05 --looks 5       looking five times",
      "  stopwell size --good 0.01 --bad 0.05 --cap 300  sequential test of a share of misses",
      "  stopwell size --share 0.95 --true-share 0.99 --cap 1000    looking after every trial",
      "  stopwell size --share 0.95 --true-share 0.99 --trials 150  the power of 150 trials",
      "",
      "All lengths must have the same unit. With --per-canal each canal counts as one number, as"
          + " in a claim; campaigns with the correlation --icc are simulated and decided by the"
          + " rule of the claim. --lost is the share of trials that the rig spoils: for --share,"
          + " --good and --margin-mm a spoiled trial counts against the claim, as in a campaign."
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
          "Number of looks for --share and --shift-mm, limits of O'Brien and Fleming. Default:"
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

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of simulated campaigns. Default: ${DEFAULT-VALUE}.",
      defaultValue = "1")
  long seed = 1;

  @Option(
      names = "--page",
      paramLabel = "HTML",
      description = "Write a page with a picture: the power over the number of trials.")
  @Nullable Path page;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    check();
    TrialSizes of =
        new TrialSizes(
            confidence,
            power,
            perCanal,
            correlation,
            lost,
            trials,
            () -> RandomStream.of(seed, "size")::nextDouble);
    if (share != null && band == null) {
      of.share(share, trueShare, confidences(), cap);
    }
    double spread = deviation == null ? 1 : deviation;
    if (band != null) {
      of.tolerance(share == null ? 0.95 : share, band, spread, bias);
    }
    if (margin != null) {
      of.mean(margin, spread, bias);
    }
    if (limit != null) {
      of.limits(limit, spread);
    }
    if (shift != null) {
      of.shift(shift, spread, looks);
    }
    if (good != null && bad != null) {
      of.sequential(good, bad, cap == null ? 1000 : cap);
    }
    Map<String, Object> sizes = of.values();
    TextTable table = new TextTable("lr");
    sizes.forEach((what, n) -> table.row(what, String.valueOf(n)));
    if (page != null) {
      String html = SizePage.html(sizes, of.curves(), String.join(" ", words()));
      TextFile.write("--page", page, writer -> writer.write(html));
    }
    json.print(out(), sizes, table::print);
    return 0;
  }

  /** The confidence of each look, with the limits of O'Brien and Fleming. */
  private List<Double> confidences() {
    return looks == 1
        ? List.of(confidence)
        : new StoppingRule(
                StoppingRule.Kind.GROUP_SEQUENTIAL, Claim.Endpoint.WITHIN, 0, 0.9, looks, 0)
            .confidences(confidence);
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
    if (looks != 1 && shift == null && share == null) {
      throw new UsageException("--looks goes with --share and --shift-mm");
    }
    if (perCanal > 1 && (shift != null || band != null || limit != null || good != null)) {
      throw new UsageException(
          "--per-canal goes with --share and --margin-mm: the other methods need a canal for each"
              + " trial");
    }
    if (perCanal > 1 && cap != null) {
      throw new UsageException("--cap needs --per-canal 1: a rule that looks after every trial");
    }
    if (good != null && power <= 0.5) {
      throw new UsageException("--power " + power + " must be above 0.5 for --good and --bad");
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
