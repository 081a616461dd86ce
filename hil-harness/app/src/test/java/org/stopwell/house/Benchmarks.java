package org.stopwell.house;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.profile.GCProfiler;
import org.openjdk.jmh.results.Result;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.util.Statistics;

/**
 * Runs every benchmark of the three modules and writes docs/benchmarks.md; with names as arguments,
 * runs only those and prints the table instead. The picture of the cost is drawn whenever what it
 * needs has been run: names Solver, Sweep and Trials.
 */
final class Benchmarks {
  private Benchmarks() {}

  public static void main(String[] names) throws RunnerException, IOException {
    ChainedOptionsBuilder options =
        new OptionsBuilder().addProfiler(GCProfiler.class).shouldFailOnError(true);
    for (String name : names) {
      options.include(name);
    }
    Collection<RunResult> results = new Runner(options.build()).run();
    String picture = CostPicture.of(results);
    if (!picture.isEmpty()) {
      Files.writeString(Tree.root().resolve("docs/pictures/cost.svg"), picture);
    }
    String page = page(results);
    if (names.length > 0) {
      System.out.println(page);
    } else {
      Files.writeString(Tree.root().resolve("docs/benchmarks.md"), page);
    }
  }

  /** Two scores of one run that belong beside each other. */
  private record Ratio(String what, String reference, String ours) {}

  private static final List<Ratio> RATIOS =
      List.of(
          new Ratio(
              "canal, long sweep: ladder solver against ngspice",
              "SolverBenchmark.ngspice",
              "SolverBenchmark.ladderInASweep"),
          new Ratio(
              "canal, two frequencies: ladder solver against complex LU of a library",
              "SolverBenchmark.generalSolver",
              "SolverBenchmark.ladderInPairs"),
          new Ratio(
              "position filter: scalar filter against matrices of a library",
              "PositionFilterBenchmark.matrixFilter",
              "PositionFilterBenchmark.scalarFilter"),
          // Throughputs: the faster one stands first.
          new Ratio(
              "trial of scale.yaml: without a recording against with one",
              "ScaleBenchmark.trials",
              "ScaleBenchmark.recordedTrials"));

  private static String ratios(Collection<RunResult> results) {
    StringBuilder table = new StringBuilder();
    for (Ratio ratio : RATIOS) {
      double reference = score(results, ratio.reference);
      double ours = score(results, ratio.ours);
      if (reference > 0 && ours > 0) {
        table.append("| %s | %s × |%n".formatted(ratio.what, number(reference / ours)));
      }
    }
    CostPicture.growth(results)
        .ifPresent(
            exponent ->
                table.append(
                    "| trials in a row: exponent of time over number | %s |%n"
                        .formatted(number(exponent))));
    return table.isEmpty() ? "" : "\n| comparison | factor |\n|---|---:|\n" + table;
  }

  /** The score of a benchmark with its first parameters, NaN when it has not been run. */
  private static double score(Collection<RunResult> results, String benchmark) {
    return results.stream()
        .filter(result -> result.getParams().getBenchmark().endsWith(benchmark))
        .mapToDouble(result -> result.getPrimaryResult().getScore())
        .findFirst()
        .orElse(Double.NaN);
  }

  private static String page(Collection<RunResult> results) throws IOException {
    StringBuilder page = new StringBuilder();
    page.append("# Benchmarks\n\n")
        .append("    ./stopwell bench\n\n")
        .append("runs every JMH benchmark of the build and writes this page. Date: ")
        .append(LocalDate.now(ZoneOffset.UTC))
        .append(".  \nMachine: ")
        .append(machine())
        .append(
            ".\n\nA score is the mean ± half of the 99.9 % interval; a sampled time is p50 / p99. ")
        .append("`B/op` is the memory that one operation allocates, in bytes.\n\n")
        .append("![Cost against nodes, frequencies and trials](pictures/cost.svg)\n")
        .append(ratios(results));
    String home = "";
    for (RunResult result : results) {
      String benchmark = result.getParams().getBenchmark();
      int methodDot = benchmark.lastIndexOf('.');
      int classDot = benchmark.lastIndexOf('.', methodDot - 1);
      String type = benchmark.substring(classDot + 1, methodDot);
      if (!type.equals(home)) {
        home = type;
        page.append("\n## ").append(words(type.replaceFirst("Benchmark$", ""))).append("\n\n");
        page.append("`").append(benchmark, 0, methodDot).append("`\n\n");
        page.append("| benchmark | score | unit | B/op |\n|---|---:|---|---:|\n");
      }
      String what = words(benchmark.substring(methodDot + 1)) + parameters(result);
      page.append(row(what, result));
      result
          .getSecondaryResults()
          .forEach(
              (label, counted) -> {
                if (!label.matches(".*(gc\\.|p[01]\\.).*")) {
                  page.append(
                      row(
                          what + ": " + words(label),
                          number(counted.getScore()),
                          counted.getScoreUnit(),
                          ""));
                }
              });
    }
    return page.toString();
  }

  private static String row(String what, RunResult result) {
    Result<?> primary = result.getPrimaryResult();
    Statistics statistics = primary.getStatistics();
    String score =
        result.getParams().getMode() == Mode.SampleTime
            ? number(statistics.getPercentile(50)) + " / " + number(statistics.getPercentile(99))
            : number(primary.getScore())
                + (Double.isNaN(primary.getScoreError())
                    ? ""
                    : " ± " + number(primary.getScoreError()));
    Result<?> allocated = result.getSecondaryResults().get("gc.alloc.rate.norm");
    if (allocated == null) {
      allocated = result.getSecondaryResults().get("·gc.alloc.rate.norm");
    }
    String bytes =
        allocated == null ? "-" : String.format(Locale.ROOT, "%,.0f", allocated.getScore());
    return row(what, score, primary.getScoreUnit(), bytes);
  }

  private static String row(String what, String score, String unit, String bytes) {
    return "| %s | %s | %s | %s |%n".formatted(what, score, unit, bytes);
  }

  private static String parameters(RunResult result) {
    String given =
        result.getParams().getParamsKeys().stream()
            .map(key -> words(key) + " " + result.getParams().getParam(key))
            .collect(Collectors.joining(", "));
    return given.isEmpty() ? "" : ", " + given;
  }

  private static String number(double value) {
    int decimals =
        Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 4;
    return String.format(Locale.ROOT, "%,." + decimals + "f", value);
  }

  /** "ticksPerSecond" as "ticks per second". */
  private static String words(String camelCase) {
    String spaced =
        camelCase
            .replaceAll("(?<=[a-z0-9])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])", " ")
            .toLowerCase(Locale.ROOT);
    return Character.toUpperCase(spaced.charAt(0)) + spaced.substring(1);
  }

  private static String machine() throws IOException {
    String processor =
        Files.readAllLines(Path.of("/proc/cpuinfo")).stream()
            .filter(line -> line.startsWith("model name") || line.startsWith("Model"))
            .map(line -> line.substring(line.indexOf(':') + 1).strip())
            .findFirst()
            .orElse(System.getProperty("os.arch"));
    return "%s, %d cores, %s, Java %s"
        .formatted(
            processor,
            Runtime.getRuntime().availableProcessors(),
            System.getProperty("os.name") + " " + System.getProperty("os.arch"),
            System.getProperty("java.vm.version"));
  }
}
