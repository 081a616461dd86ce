package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.rare.Estimate;
import org.stopwell.harness.rare.RareResult;
import org.stopwell.harness.rare.RareSearch;
import org.stopwell.harness.rare.Ways;
import org.stopwell.harness.report.TextTable;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Estimates how rare over-travel is. */
@Command(
    name = "rare",
    description = {
      "Estimates the probability that a trial of a plan goes past the foramen, even where counting"
          + " would need millions of trials. The search approaches the foramen level by level. At each"
          + " level it keeps the trials that came nearest and changes their random numbers a little."
          + " The probability is the product of the kept shares (subset simulation, Au and Beck 2001).",
      "",
      "Virtual bench only. Every result is simulated: it describes this model of canal, hand and"
          + " noise, not patients. Values that the plan fixes do not vary. The interval comes from"
          + " independent runs. Exit code 5: the search did not reach the foramen, or fewer than two runs"
          + " finished."
    },
    footer = {
      Questions.HELP,
      "",
      "Examples:",
      "  stopwell rare docs/plans/first-stop.yaml --condition half-wet/estimate",
      "  stopwell rare PLAN --runs 20 --samples 200 --out ways      traces of typical trials"
    },
    mixinStandardHelpOptions = true)
final class RareCommand extends StopwellCommand {
  @Mixin PlanOptions plans = new PlanOptions();

  @Option(
      names = "--condition",
      paramLabel = "NAME",
      description = "The condition whose trials count. Default: the only one.")
  @Nullable String condition;

  @Option(
      names = "--runs",
      paramLabel = "N",
      description = "Independent runs. Default: ${DEFAULT-VALUE}.",
      defaultValue = "10")
  int runs = 10;

  @Option(
      names = "--samples",
      paramLabel = "N",
      description = "Trials of a level. Default: ${DEFAULT-VALUE}.",
      defaultValue = "100")
  int samples = 100;

  @Option(
      names = "--steps",
      paramLabel = "N",
      description = "Moves of each trial at each level. Default: ${DEFAULT-VALUE}.",
      defaultValue = "3")
  int steps = 3;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "New directory for traces (CSV) of typical trials past the foramen.")
  @Nullable Path out;

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    Range.check("--runs", runs, 2, 1_000);
    Range.check("--samples", samples, 20, 100_000);
    Range.check("--steps", steps, 1, 1_000);
    if (out != null && Files.exists(out)) {
      throw new UsageException("--out " + out + " exists; name a new directory");
    }
    Plan plan = plans.read();
    PlanOptions.onModels(plan, "rare");
    PlanOptions.ownController(plan, "rare");
    if (plans.trials != null) {
      throw new UsageException("--trials has no effect here; --samples and --runs set the work");
    }
    String wanted = ConditionOption.of(plan, condition);
    if (out != null) {
      create(out);
    }
    RareResult result = search(plan, wanted);
    json.print(out(), values(result), lines -> print(result, lines));
    if (out != null) {
      write(out, result.ways());
    }
    return (result.estimate().isPresent() ? Verdict.PASS : Verdict.UNDECIDED).exitCode();
  }

  private RareResult search(Plan plan, String wanted) throws UsageException {
    RareSearch.Work work =
        new RareSearch.Work(runs, samples, steps, new BenchOptions().jobs(jobs.asked));
    Interruption.watch();
    try (Progress progress = Progress.of("runs, after the pilot", runs, 0);
        RareSearch search =
            new RareSearch(
                plan,
                wanted,
                work,
                BenchOptions.PERIOD_NS,
                Interruption::requested,
                trials -> {})) {
      return search.search(finished -> progress.add(finished > 0 ? 1 : 0));
    }
  }

  /** Before the search: what takes long must not end at a directory that cannot be made. */
  private static void create(Path directory) throws UsageException {
    try {
      Files.createDirectories(directory);
    } catch (IOException e) {
      throw new UsageException("--out " + directory + ": cannot be made: " + InputFile.reason(e));
    }
  }

  private static void write(Path directory, List<RareResult.Way> ways) throws UsageException {
    for (int i = 0; i < ways.size(); i++) {
      String csv = ways.get(i).csv();
      TextFile.write(
          "--out", directory.resolve("way-" + (i + 1) + ".csv"), writer -> writer.write(csv));
    }
  }

  private void print(RareResult result, Consumer<String> lines) {
    lines.accept(result.plan() + ", " + result.condition() + ", simulated");
    if (!result.complete()) {
      lines.accept("Interrupted: the runs that were finished count.");
    }
    result
        .estimate()
        .ifPresentOrElse(e -> estimate(e, result.trials(), lines), () -> undecided(result, lines));
    if (result.estimate().isPresent()) {
      lines.accept("");
      levels(result, lines);
    }
    if (!result.differences().isEmpty()) {
      lines.accept("");
      lines.accept(
          "What differs in trials that go past the foramen, in standard deviations of all trials:");
      differences(result, lines);
    }
    if (out != null && !result.ways().isEmpty()) {
      lines.accept("");
      lines.accept("Traces of typical trials: " + out + " (stopwell replay " + out + "/way-1.csv)");
    }
  }

  private static void estimate(Estimate e, long trials, Consumer<String> lines) {
    lines.accept(
        text(
            "A trial goes past the foramen with probability %.2g (95 %% interval %.2g to %.2g),"
                + " from %d runs with %,d trials in all.",
            e.probability(), e.low(), e.high(), e.runs(), trials));
    if (e.probability() > 0) {
      lines.accept(text("Plain counting sees one such trial in %,.0f.", 1 / e.probability()));
    }
  }

  private void undecided(RareResult result, Consumer<String> lines) {
    lines.accept(
        !result.complete()
            ? "Not estimable: fewer than two runs were finished."
            : text(
                "Not estimable: the nearest quarter of the trials comes to %.3f mm short of the"
                    + " foramen, and no search came nearer. More --samples or --steps can help; or no"
                    + " trial of this plan can pass the foramen.",
                result.levels().get(result.levels().size() - 1) / 1e3));
    lines.accept(text("%,d trials were simulated; none counts as evidence.", result.trials()));
  }

  private static void levels(RareResult result, Consumer<String> lines) {
    TextTable table = new TextTable("rrr");
    table.row("least distance", "share of the level before", "probability");
    double product = 1;
    for (int j = 0; j < result.levels().size(); j++) {
      product *= result.shares().get(j);
      table.row(
          text("%.3f mm", result.levels().get(j) / 1e3),
          text("%.3f", result.shares().get(j)),
          text("%.2g", product));
    }
    table.print(lines);
  }

  private static void differences(RareResult result, Consumer<String> lines) {
    TextTable table = new TextTable("lrrr");
    table.row("value", "all trials", "past the foramen", "difference");
    result.differences().stream()
        .limit(8)
        .forEach(
            d ->
                table.row(
                    d.key(),
                    text("%.3g", d.usual()),
                    text("%.3g", d.here()),
                    text("%+.1f", d.shift())));
    table.print(lines);
  }

  private Map<String, Object> values(RareResult result) {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("plan", result.plan());
    all.put("condition", result.condition());
    all.put("simulated", true);
    all.put("complete", result.complete());
    all.put("trials", result.trials());
    result
        .estimate()
        .ifPresent(
            e -> {
              all.put("probability", e.probability());
              all.put("low", e.low());
              all.put("high", e.high());
              all.put("confidence", Estimate.CONFIDENCE);
            });
    all.put("runs", result.runs());
    all.put(
        "levels",
        IntStream.range(0, result.levels().size())
            .mapToObj(
                j ->
                    Map.of(
                        "least_mm", result.levels().get(j) / 1e3, "share", result.shares().get(j)))
            .toList());
    List<Object> differences = new ArrayList<>();
    for (Ways.Difference d : result.differences()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("value", d.key());
      one.put("all_trials", d.usual());
      one.put("past_the_foramen", d.here());
      one.put("standard_deviations", d.shift());
      differences.add(one);
    }
    all.put("differences", differences);
    return all;
  }

  private static String text(String format, Object... args) {
    return String.format(Locale.ROOT, format, args);
  }
}
