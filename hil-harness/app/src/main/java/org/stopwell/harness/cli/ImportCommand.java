package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.BlindKeyFile;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.FreeDirectory;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.report.RunSummary;
import org.stopwell.harness.standing.Freezing;
import org.stopwell.harness.standing.ImportedRun;
import org.stopwell.harness.standing.Ledger;
import org.stopwell.harness.stops.StopRow;
import org.stopwell.harness.stops.StopSchedule;
import org.stopwell.harness.stops.StopTable;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Makes a run file from stops that were measured elsewhere. */
@Command(
    name = "import",
    description = {
      "Makes a run file from a table of stops that were measured elsewhere, for example on a"
          + " handpiece with its own motor and locator. Each row is one trial.",
      "The plan states tolerance, claims and the distance that each setting claims. The run is"
          + " labelled \"not measured here\" wherever it is shown. report, compare, export, sign,"
          + " unblind and verify work on it; replay and triage refuse it.",
      "Trials on one tooth are repeats: each tooth counts as one number. Use codes only: nothing in"
          + " the table may identify a person."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell import --template plan > my-plan.yaml       a plan to begin with",
      "  stopwell import --template table > trials.csv        a table to begin with",
      "  stopwell import trials.csv --plan my-plan.yaml --out runs/devices",
      "  stopwell freeze my-plan.yaml --key lab.key           before the first trial",
      "  stopwell import --schedule lab --plan my-plan.yaml   the order of the trials",
      "",
      "Exit codes: 0 PASS, 1 FAIL, 5 UNDECIDED, as a run; 2 the table or the plan has a mistake:"
          + " every mistake is listed as file:line:column, and nothing is written."
    },
    mixinStandardHelpOptions = true)
final class ImportCommand extends StopwellCommand {
  private static final Path RUNS = Path.of("runs");

  private static final int LONGEST_KEY = 1_000_000;

  /** What a template can be of. */
  enum Template {
    PLAN("import-plan.yaml"),
    TABLE("import-table.csv");

    private final String resource;

    Template(String resource) {
      this.resource = resource;
    }
  }

  @Parameters(arity = "0..1", paramLabel = "TABLE", description = "Table of stops, a CSV file.")
  @Nullable Path table;

  @Option(names = "--plan", paramLabel = "PLAN", description = "Plan of the table, a YAML file.")
  @Nullable Path planFile;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Run directory. Default: the next free directory under runs/.")
  @Nullable Path out;

  @Option(
      names = "--blind-key",
      paramLabel = "FILE",
      description =
          "Key of a blinded table, as --schedule writes it: the table holds codes in place of"
              + " devices. Without this option, import draws the codes of a blinded plan itself.")
  @Nullable Path keyFile;

  @Option(
      names = "--template",
      paramLabel = "plan|table",
      description = "Print an example with comments: a plan, or a table.")
  @Nullable Template template;

  @Option(
      names = "--schedule",
      paramLabel = "DIR",
      description =
          "Write a table to fill in. Its rows have the devices, operators and teeth of the plan in"
              + " the order of latin squares. With blind: device the table holds codes; the key is in"
              + " DIR.")
  @Nullable Path schedule;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    if (template != null) {
      out().print(resource(template.resource));
      out().flush();
      return 0;
    }
    if (schedule != null && planFile != null && table == null) {
      return scheduled(StopPlan.read(Source.of(planFile)), schedule);
    }
    if (table == null || planFile == null) {
      throw new UsageException(
          "give the table and its plan, such as: stopwell import trials.csv --plan my-plan.yaml;"
              + " --template prints examples of both, --schedule DIR needs --plan alone");
    }
    StopPlan written = StopPlan.read(Source.of(planFile));
    Optional<BlindKey> given = key(written);
    StopPlan plan = given.map(written::coded).orElse(written);
    StopTable.Read read = StopTable.read(table, plan);
    err()
        .println(
            "stopwell: "
                + table
                + ": "
                + read.rows().size()
                + " rows, cells separated by "
                + read.separated());
    refuseTaken();
    Freezing freezing = new Freezing(planFile, written, Build.identity());
    Registration registration = freezing.registration();
    Freezing.warning(registration).forEach(err()::println);
    return made(plan, read, given, registration);
  }

  private int made(
      StopPlan plan, StopTable.Read read, Optional<BlindKey> given, Registration registration)
      throws Exception {
    PrintWriter screen = out();
    // Codes of the table stay; levels of a blinded plan get codes now.
    List<String> devices = read.rows().stream().map(StopRow::device).distinct().sorted().toList();
    boolean draw = plan.protocol().blinding().isPresent() && given.isEmpty();
    if (draw && devices.size() > BlindKey.MOST_CODES) {
      throw new UsageException(
          table
              + ": "
              + devices.size()
              + " devices, at most "
              + BlindKey.MOST_CODES
              + " can be coded");
    }
    Optional<BlindKey> drawn =
        draw ? Optional.of(BlindKey.draw(StopPlan.FACTORS.get(0), devices)) : Optional.empty();
    ImportedRun run = new ImportedRun(plan, read);
    Path directory = out == null ? FreeDirectory.claim(RUNS, plan.name()) : out;
    String now = Utc.now();
    String name = String.valueOf(Objects.requireNonNull(table).getFileName());
    RunFile.HeaderMaker header =
        () ->
            run.header(
                name,
                Build.identity(),
                now,
                "stopwell import " + table + " --plan " + planFile,
                Ledger.begin(directory, plan.name(), now, registration));
    RunHeader[] own = new RunHeader[1];
    try (RunFile file =
        RunFile.create(
            directory,
            () -> {
              own[0] = header.make();
              return drawn.isPresent() ? own[0].coded(drawn.get()) : own[0];
            })) {
      Optional<BlindKey> key = given.or(() -> drawn);
      if (key.isPresent()) {
        BlindKeyFile.write(directory, key.get());
      }
      List<TrialResult> trials = run.trials();
      if (drawn.isPresent()) {
        trials = ConditionNames.coding(own[0], drawn.get()).of(trials);
      }
      file.append(trials.stream().map(t -> new RunFile.Entry(t, null)).toList());
      Optional<String> measured = run.measured();
      if (measured.isPresent()) {
        file.note(ImportedRun.MEASURED, measured.get());
      }
      file.finish(Utc.now());
      Evidence evidence = Evidence.of(file, directory);
      RunReport.write(file, evidence, directory);
      RunSummary outcome = new RunSummary(evidence, directory);
      json.print(screen, outcome.values(), outcome::print);
      return evidence.summary().verdict().exitCode();
    }
  }

  /** The table that a laboratory fills in, and the key of its codes. */
  private int scheduled(StopPlan plan, Path directory) throws Exception {
    List<String> missing = StopSchedule.missing(plan);
    if (!missing.isEmpty()) {
      missing.forEach(m -> err().println(planFile + ": " + m));
      return Main.WRONG_INPUT;
    }
    Path file = directory.resolve("trials.csv");
    if (Files.exists(file)) {
      throw new UsageException("--schedule " + directory + ": holds trials.csv already");
    }
    Files.createDirectories(directory);
    Map<String, String> codes = Map.of();
    if (plan.protocol().blinding().isPresent()) {
      BlindKey key = BlindKey.draw(StopPlan.FACTORS.get(0), plan.devices());
      BlindKeyFile.write(directory, key);
      codes = key.codes();
      out()
          .println(
              directory.resolve(BlindKeyFile.NAME)
                  + ": which code is which device; give it to who mounts the devices, and to nobody"
                  + " who measures");
    }
    Map<String, String> shown = codes;
    List<String> rows = StopSchedule.rows(plan, device -> shown.getOrDefault(device, device));
    TextFile.write("--schedule", file, writer -> writer.write(String.join("\n", rows) + "\n"));
    out().println(file + ": " + (rows.size() - 1) + " trials in their order, to be filled in");
    return 0;
  }

  /** The key of a table whose devices go by codes. */
  private Optional<BlindKey> key(StopPlan plan) throws UsageException, RunFileException {
    if (keyFile == null) {
      return Optional.empty();
    }
    if (plan.protocol().blinding().isEmpty()) {
      throw new UsageException("--blind-key goes with a plan that has blind: device");
    }
    try {
      Optional<String> fault = InputFile.fault(keyFile, LONGEST_KEY);
      if (fault.isPresent()) {
        throw new UsageException("--blind-key " + keyFile + ": " + fault.get());
      }
      return Optional.of(BlindKey.read(Files.readString(keyFile, StandardCharsets.UTF_8)));
    } catch (IOException | IllegalArgumentException e) {
      throw new UsageException(
          "--blind-key "
              + keyFile
              + ": "
              + (e instanceof IOException disk ? InputFile.reason(disk) : e.getMessage()));
    }
  }

  private void refuseTaken() throws UsageException {
    if (out != null && Files.exists(out.resolve(RunFile.NAME))) {
      throw new UsageException(
          "--out " + out + ": the directory already holds a run; give another --out");
    }
  }

  private static String resource(String name) throws IOException {
    try (InputStream in = ImportCommand.class.getResourceAsStream(name)) {
      return new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
