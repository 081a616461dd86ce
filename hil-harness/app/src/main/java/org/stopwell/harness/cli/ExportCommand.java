package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.export.CsvFile;
import org.stopwell.harness.export.DataDictionary;
import org.stopwell.harness.export.NumpyFile;
import org.stopwell.harness.export.VectorFile;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.TrialResult;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes the trials of a run for other programs. */
@Command(
    name = "export",
    description = {
      "Writes the trials of a run as files for other programs: a table for Python and R with a"
          + " dictionary of its columns, golden vectors for a port of the controller, or traces of the"
          + " approaches in extracted teeth, which learn reads.",
      "Without a run it writes the shipped golden vectors, which cover every transition of the"
          + " controller. export firmware writes the controller itself, as C."
    },
    subcommands = ExportFirmwareCommand.class,
    footer = {
      "",
      "Examples:",
      "  stopwell export runs/first-stop-001 --to csv",
      "  stopwell export runs/first-stop-001 --to numpy --out data",
      "  stopwell export runs/first-stop-001 --to vectors --out vectors",
      "  stopwell export runs/tooth-survey-001 --to traces --out traces",
      "  stopwell export --to vectors --out vectors",
      "  stopwell export firmware --settings docs/settings/reference-canal.yaml --out board"
    },
    mixinStandardHelpOptions = true)
final class ExportCommand extends StopwellCommand {
  enum Format {
    CSV,
    NUMPY,
    TRACES,
    VECTORS
  }

  @Parameters(
      paramLabel = "DIR",
      arity = "0..1",
      description = "Run directory. Only the shipped vectors need none.")
  @Nullable Path directory;

  @Option(
      names = "--to",
      paramLabel = "FORMAT",
      description =
          "csv: trials.csv. numpy: trials.npy. With each comes trials.json, which explains the"
              + " columns. traces: one CSV file for each recorded approach in an extracted tooth, and"
              + " manifest.csv; learn and replay read them. vectors: one .swv file for each trial with"
              + " a trace. It has the input, output and state hash of each step and checks a port of"
              + " the controller to another language. Without DIR: the vectors that ship.")
  @Nullable Format chosen;

  private Format format = Format.CSV;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description =
          "Output directory. Default: the run directory, for traces its directory traces;"
              + " without a run, the current directory.")
  @Nullable Path out;

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    if (chosen == null) {
      throw new UsageException("--to: missing; give csv, numpy, traces or vectors");
    }
    format = chosen;
    if (directory == null) {
      return shippedVectors(screen);
    }
    try (RunFile run = RunFile.load(directory)) {
      Evidence evidence = Evidence.of(run, directory);
      boolean coded = evidence.header().isCoded();
      if (coded && format == Format.VECTORS) {
        throw new UsageException(
            directory
                + ": the run is blinded, and vectors show the settings of every trial; unblind it"
                + " first: stopwell unblind "
                + directory);
      }
      if (format == Format.TRACES) {
        return traces(run, directory, coded, screen);
      }
      List<TrialResult> trials =
          evidence.rows(ConditionNames.shown(run.header(), directory).of(run.results()));
      List<TrialColumn> columns = TrialColumn.exported(coded);
      Path target = Files.createDirectories(out == null ? directory : out);
      String dictionary = DataDictionary.of(evidence.header(), run.results(), run.headHash());
      switch (format) {
        case CSV -> table(screen, target, "csv", utf8(CsvFile.of(trials, columns)), dictionary);
        case NUMPY -> table(screen, target, "npy", NumpyFile.of(trials, columns), dictionary);
        case VECTORS -> vectors(run, screen, target);
        case TRACES -> throw new IllegalStateException("written above");
      }
    }
    return 0;
  }

  private int traces(RunFile run, Path of, boolean coded, PrintWriter screen) throws Exception {
    if (coded) {
      throw new UsageException(
          of
              + ": the run is blinded, and traces name the condition of every trial; unblind it"
              + " first: stopwell unblind "
              + of);
    }
    Plan plan = ReplayCommand.plan(run, of, false, extensions());
    ToothTraces traces = ToothTraces.of(run, plan);
    if (traces.files().isEmpty()) {
      throw new UsageException(
          of
              + ": no approach in an extracted tooth is recorded; the plan must name teeth, as"
              + " docs/plans/tooth-survey.yaml does");
    }
    Path target = Files.createDirectories(out == null ? of.resolve("traces") : out);
    for (Map.Entry<String, String> file : traces.files().entrySet()) {
      screen.println(Files.writeString(target.resolve(file.getKey()), file.getValue()));
    }
    traces.left().forEach(screen::println);
    if (run.header().bench().simulated()) {
      screen.println("Every trace is simulated; manifest.csv says so.");
    }
    screen.println("Next: stopwell learn " + target + " --out my.weights");
    return 0;
  }

  private int shippedVectors(PrintWriter screen) throws Exception {
    if (format != Format.VECTORS) {
      throw new UsageException(
          "DIR: missing; give the run directory for --to "
              + format.name().toLowerCase(Locale.ROOT));
    }
    Path target = Files.createDirectories(out == null ? Path.of("") : out);
    for (Map.Entry<String, byte[]> vector : VectorFile.shipped().entrySet()) {
      Path file = target.resolve(vector.getKey());
      Files.createDirectories(file.toAbsolutePath().getParent());
      screen.println(Files.write(file, vector.getValue()));
    }
    screen.println(
        "They cover every transition of the controller. A port must refuse the files in"
            + " refuse/. run_vectors.c, which export firmware writes, runs them.");
    return 0;
  }

  private static void table(
      PrintWriter screen, Path target, String ending, byte[] content, String dictionary)
      throws Exception {
    screen.println(Files.write(target.resolve("trials." + ending), content));
    screen.println(Files.writeString(target.resolve("trials.json"), dictionary));
  }

  private static byte[] utf8(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private void vectors(RunFile run, PrintWriter screen, Path target) throws Exception {
    Plan plan = ReplayCommand.plan(run, Objects.requireNonNull(directory), false, extensions());
    List<Integer> traced = run.tracedTrials();
    for (int index : traced) {
      String name = String.format(Locale.ROOT, "trial-%05d.swv", index + 1);
      byte[] vector =
          VectorFile.of(run.readableTrace(index).orElseThrow(), plan.controller(plan.trial(index)));
      screen.println(Files.write(target.resolve(name), vector));
    }
    screen.println(traced.size() + " of " + run.results().size() + " trials have a trace");
  }
}
