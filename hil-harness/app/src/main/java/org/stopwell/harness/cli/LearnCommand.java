package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.harness.learn.LearnChoice;
import org.stopwell.harness.learn.LearnResult;
import org.stopwell.harness.learn.Learning;
import org.stopwell.harness.report.LearnPage;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.rig.weights.ShippedWeights;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Teaches the depth estimate with measured teeth. */
@Command(
    name = "learn",
    description = {
      "Teaches the depth estimate with measured teeth and writes a weights file.",
      "DIR holds one CSV trace per approach, with the columns of replay and true_remaining_mm, and"
          + " manifest.csv with the columns file,tooth,fluid. Without a manifest the tooth is the"
          + " file name up to the first underscore. The optional column length_u_mm is the standard"
          + " uncertainty of the measured length.",
      "At least 10 teeth are needed. From 19 teeth on the weights state a bound.",
      "Settings name the result: sense.weights: my.weights."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell learn traces --out my.weights",
      "  stopwell learn traces --file-size 15 --file-taper 0.02 --out my.weights",
      "  stopwell learn traces --out my.weights --page my.html --json",
      "  stopwell learn traces --out my.weights --ratio-curve curve.yaml"
    },
    mixinStandardHelpOptions = true)
final class LearnCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Directory of traces.")
  Path directory = Path.of("");

  @Option(
      names = "--out",
      paramLabel = "FILE",
      required = true,
      description = "The weights file to write.")
  Path out = Path.of("");

  @Option(
      names = "--page",
      paramLabel = "FILE",
      description = "The page to write. Default: the weights file with .html at its end.")
  @Nullable Path page;

  @Option(
      names = "--ratio-curve",
      paramLabel = "FILE",
      description =
          "Also measure the curve of policy ratio (lowest and third frequency) with its spread over"
              + " the teeth, and write it as the section calibration of a settings file.")
  @Nullable Path ratioCurve;

  @Option(
      names = "--file-size",
      paramLabel = "N",
      description =
          "Size of the file that measured, 1/100 mm. Without size and taper the taught estimate does"
              + " not depend on them.")
  @Nullable Integer size;

  @Option(
      names = "--file-taper",
      paramLabel = "T",
      description = "Taper of the file that measured, such as 0.02.")
  @Nullable Double taper;

  @Option(
      names = "--confident",
      description =
          "State a wider bound that holds with 90 %% confidence over the draw of the taught teeth;"
              + " needs 45 teeth. Without it the bound holds on average over that draw.")
  boolean confident;

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    PrintWriter err = err();
    Range.check("--file-size", size, 6, 140, "(1/100 mm)");
    Range.check("--file-taper", taper, 0, 0.12);
    Range.check("--jobs", jobs.asked, 1, 1024);
    if ((size == null) != (taper == null)) {
      throw new UsageException(
          "--file-size and --file-taper belong together; give both or neither");
    }
    TraceDirectory traces = TraceDirectory.read(directory);
    LearnChoice choice =
        new LearnChoice(
            traces,
            ShippedWeights.get(),
            size == null || taper == null
                ? Optional.empty()
                : Optional.of(new LearnChoice.MeasuringFile(size, 100 * taper)),
            confident,
            Build.version(),
            jobs.asked == null ? Runtime.getRuntime().availableProcessors() : jobs.asked);
    LearnResult result;
    try (Progress progress = Progress.of("traces", traces.approaches().size(), 0)) {
      result = new Learning(choice, step -> progress.say(step, err)).run(() -> progress.add(1));
    }
    Files.writeString(out, DepthWeightsText.encode(result.weights()), StandardCharsets.UTF_8);
    Path shown = page == null ? Path.of(out + ".html") : page;
    LearnPage.write(result, shown);
    if (ratioCurve != null) {
      Files.writeString(
          ratioCurve, result.ratioCurve().yaml(traces.frequencies()), StandardCharsets.UTF_8);
    }
    json.print(
        out(),
        result.values(),
        line -> {
          line.accept(result.text().strip());
          line.accept("");
          line.accept("Weights: " + out + " (" + result.weights().fingerprintText() + ")");
          line.accept("Page: " + shown);
        });
    return 0;
  }
}
