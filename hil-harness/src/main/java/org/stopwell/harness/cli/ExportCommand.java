package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.export.CsvFile;
import org.stopwell.harness.export.DataDictionary;
import org.stopwell.harness.export.NumpyFile;
import org.stopwell.harness.export.VectorFile;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.trial.TrialResult;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes the trials of a run for other programs. */
@Command(
    name = "export",
    description =
        "Writes the trials of a run for Python and R, with a dictionary of the columns, or as golden"
            + " vectors for a port of the controller.",
    footer = {
      "",
      "Examples:",
      "  stopwell export runs/first-stop-001 --to csv",
      "  stopwell export runs/first-stop-001 --to numpy --out data",
      "  stopwell export runs/first-stop-001 --to parquet",
      "  stopwell export runs/first-stop-001 --to vectors --out vectors"
    },
    mixinStandardHelpOptions = true)
final class ExportCommand implements Callable<Integer> {
  enum Format {
    CSV,
    NUMPY,
    VECTORS
  }

  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Option(
      names = "--to",
      paramLabel = "FORMAT",
      required = true,
      description =
          "csv: trials.csv. numpy: trials.npy. Both come with trials.json. vectors: one .swv file for"
              + " every trial whose trace was kept, each step's input, output and state hash, to check"
              + " a port of the controller to another language.")
  Format format = Format.CSV;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Where to write; the run directory unless told.")
  @Nullable Path out;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = Objects.requireNonNull(spec).commandLine().getOut();
    try (RunFile run = RunFile.load(directory)) {
      List<TrialResult> trials =
          Evidence.of(run.header(), run.results(), Unblinding.isDone(directory))
              .rows(run.results());
      Path target = Files.createDirectories(out == null ? directory : out);
      switch (format) {
        case CSV ->
            table(
                run,
                screen,
                target.resolve("trials.csv"),
                CsvFile.of(trials).getBytes(StandardCharsets.UTF_8));
        case NUMPY -> table(run, screen, target.resolve("trials.npy"), NumpyFile.of(trials));
        case VECTORS -> vectors(run, screen, target);
      }
    }
    return 0;
  }

  private static void table(RunFile run, PrintWriter screen, Path file, byte[] content)
      throws Exception {
    screen.println(Files.write(file, content));
    screen.println(
        Files.writeString(
            file.resolveSibling("trials.json"), DataDictionary.of(run.header(), run.results())));
  }

  private static void vectors(RunFile run, PrintWriter screen, Path target) throws Exception {
    ControllerSettings settings = ReplayCommand.plan(run).settings().controller();
    List<Integer> traced = run.tracedTrials();
    for (int index : traced) {
      String name = String.format(Locale.ROOT, "trial-%05d.swv", index + 1);
      byte[] vector = VectorFile.of(run.trace(index).orElseThrow(), settings);
      screen.println(Files.write(target.resolve(name), vector));
    }
    screen.println(
        traced.size()
            + " of "
            + run.results().size()
            + " trials have a trace; the others have none");
  }
}
