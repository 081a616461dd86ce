package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.export.CsvFile;
import org.stopwell.harness.export.DataDictionary;
import org.stopwell.harness.export.NumpyFile;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TrialResult;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes the trials of a run for other programs. */
@Command(
    name = "export",
    description = "Writes the trials of a run for Python and R, with a dictionary of the columns.",
    footer = {
      "",
      "Examples:",
      "  stopwell export runs/first-stop-001 --to csv",
      "  stopwell export runs/first-stop-001 --to numpy --out /tmp/data"
    },
    mixinStandardHelpOptions = true)
final class ExportCommand implements Callable<Integer> {
  enum Format {
    CSV,
    NUMPY
  }

  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Option(
      names = "--to",
      paramLabel = "FORMAT",
      required = true,
      description = "csv: trials.csv. numpy: trials.npy. Both come with trials.json.")
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
      List<TrialResult> trials = run.results();
      Path target = Files.createDirectories(out == null ? directory : out);
      Path table =
          switch (format) {
            case CSV ->
                Files.write(
                    target.resolve("trials.csv"),
                    CsvFile.of(trials).getBytes(StandardCharsets.UTF_8));
            case NUMPY -> Files.write(target.resolve("trials.npy"), NumpyFile.of(trials));
          };
      screen.println(table);
      screen.println(
          Files.writeString(
              target.resolve("trials.json"), DataDictionary.of(run.header(), trials)));
    }
    return 0;
  }
}
