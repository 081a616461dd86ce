package org.stopwell.harness.cli;

import java.io.Console;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import org.stopwell.harness.console.CalibrationDesk;
import org.stopwell.harness.report.TextTable;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.harness.standing.Proving;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.GaugeRun;
import org.stopwell.rig.proof.Operator;
import org.stopwell.rig.proof.ProofRecord;
import org.stopwell.rig.time.LatenessHistogram;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Proves a bench before a campaign uses it. */
@Command(
    name = "prove",
    description = {
      "Proves a bench by tests: the motor rests when it must, turns at the commanded speed,"
          + " and loses power on a safe stop, on a silent host and on the emergency stop. The"
          + " ladder measures itself. A gauge study compares the two scales of the bench, ladder"
          + " and stage. The motor turns at 300 rpm: keep the file in the air.",
      "",
      "A device board (controller: external) is proven by checks of its own: the chain floats, the"
          + " samples have one time base, and rotation, stop, scale and second witness show what"
          + " the motor of the bench does in place of a device.",
      "",
      "The result is stored, and run reads it. Without a valid proof a physical bench runs,"
          + " but its verdicts are UNDECIDED.",
      "",
      "Exit codes: 0 everything is proven; 3 a check failed; 5 a check was not done,"
          + " because an action was not confirmed or this computer missed its own deadline."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig prove --bench emulated",
      "  stopwell rig prove --bench serial --port /dev/ttyUSB0 --console",
      "  stopwell rig prove --bench boards --port board:C-0001 --drive-port board:D-0001"
          + " --operator OP-1 --operator OP-2 --operator OP-3",
      "  stopwell rig prove --bench boards --port board:W-0001 --drive-port board:D-0001",
      "  stopwell rig prove --bench emulated --device"
    },
    mixinStandardHelpOptions = true)
final class ProveCommand extends StopwellCommand {
  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin RecordsOption records = new RecordsOption();

  @Option(
      names = "--days",
      paramLabel = "N",
      description =
          "Validity of the proof, days. Default: ${DEFAULT-VALUE}. Prove again after every"
              + " change of the wiring.",
      defaultValue = "30")
  int days = 30;

  @Option(
      names = "--operator",
      paramLabel = "CODE",
      description =
          "Code of a person in the gauge study; give the option twice or more. Each person mounts"
              + " the file again for each reading. Without it the study compares mounts. On a"
              + " simulated bench the persons are simulated remounts.")
  List<String> operators = new ArrayList<>();

  @Mixin DeviceBoardOption board = new DeviceBoardOption();

  @Mixin OperatorPage page = new OperatorPage();

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Range.check("--days", days, 1, 366);
    if (operators.size() == 1 || operators.stream().distinct().count() != operators.size()) {
      throw new UsageException(
          "--operator "
              + String.join(", ", operators)
              + ": give two or more different codes, or none");
    }
    boolean atPage = page.isWanted();
    try (Bench bench = benches.maker().open()) {
      BenchDescription described = bench.describe();
      String title =
          described.kind()
              + ", "
              + described.serialNumber()
              + ", "
              + described.firmware()
              + (described.simulated() ? ", simulated" : "");
      out.println(title);
      BenchRecords kept = records.of(described, benches.at.station);
      return atPage
          ? page.ask(
              "Proof of " + title,
              out,
              "",
              desk -> prove(bench, kept, desk, finding -> tell(desk, finding)))
          : prove(bench, kept, operator(), finding -> {}).code();
    }
  }

  private static void tell(CalibrationDesk desk, Finding finding) {
    desk.tell(
        finding.outcome().name().replace('_', ' ')
            + ", "
            + finding.check()
            + ": "
            + finding.text());
  }

  private OperatorPage.Ended prove(
      Bench bench, BenchRecords kept, Operator operator, Consumer<Finding> told) throws Exception {
    PrintWriter out = out();
    Proving proving = new Proving(bench, operator, operators, kept);
    if (board.isMeant(bench)) {
      proving.deviceChecks();
      proving.findings().forEach(told.andThen(finding -> print(out, finding)));
    } else {
      controller(bench, proving, told);
    }
    ProofRecord proof = proving.record(Utc.today(), days);
    String end = "Interrupted: nothing is kept.";
    int code = Verdict.UNDECIDED.exitCode();
    if (!Interruption.requested()) {
      kept.keep(proof);
      end = "Kept in " + kept.proofFile() + ", good until the end of " + proof.due() + ".";
      code = verdict(proof).exitCode();
    }
    out.println(end);
    return new OperatorPage.Ended(code, end);
  }

  /** The checks of a bench that turns the file, and its gauge study. */
  private void controller(Bench bench, Proving proving, Consumer<Finding> told) throws Exception {
    PrintWriter out = out();
    BenchDescription described = bench.describe();
    boolean clear = proving.checks();
    int before = proving.findings().size();
    proving.findings().forEach(told.andThen(finding -> print(out, finding)));
    if (clear && !described.lockstep()) {
      out.println("Gauge study: some seconds per reading, several minutes in all.");
      out.flush();
    }
    try (Progress progress = clear ? progress(bench) : Progress.none()) {
      proving.gauge(() -> progress.add(1));
    }
    proving.findings().stream().skip(before).forEach(told.andThen(finding -> print(out, finding)));
    lateness(out, described, proving.lateness());
  }

  /** Shows the progress with each question. */
  private Progress progress(Bench bench) throws BenchException {
    return operators.isEmpty() && bench.drivenStage().isPresent()
        ? Progress.of("readings", GaugeRun.readings(0), 0)
        : Progress.none();
  }

  private static void lateness(
      PrintWriter out, BenchDescription described, LatenessHistogram lateness) {
    if (described.lockstep()) {
      out.println("Loop lateness: none, the bench waits for its host.");
      return;
    }
    out.println("Loop lateness of " + lateness.steps() + " steps:");
    TextTable table = new TextTable("rrr");
    long seen = 0;
    for (int at = 0; at < LatenessHistogram.CLASSES && seen < lateness.steps(); at++) {
      seen += lateness.count(at);
      if (lateness.count(at) > 0) {
        table.row(
            String.format(
                Locale.ROOT,
                "up to %.3f ms",
                Math.min(LatenessHistogram.edgeNs(at), lateness.worstNs()) / 1e6),
            String.valueOf(lateness.count(at)),
            String.format(Locale.ROOT, "%.3f %%", 100.0 * seen / lateness.steps()));
      }
    }
    table.print(out::println);
  }

  private static void print(PrintWriter out, Finding finding) {
    out.println(
        String.format(
                Locale.ROOT,
                "%-9s  %-14s  %s%s",
                finding.outcome().name().replace('_', ' '),
                finding.check(),
                finding.measured(),
                finding.limit().isEmpty() ? "" : " (allowed: " + finding.limit() + ")")
            .stripTrailing());
    out.println("           " + finding.text());
  }

  private static Verdict verdict(ProofRecord proof) {
    if (proof.failed()) {
      return Verdict.RIG_FAULT;
    }
    return proof.complete() ? Verdict.PASS : Verdict.UNDECIDED;
  }

  @SuppressWarnings("SystemConsoleNull") // from JDK 22 on nobody answers, which is the same
  private static Operator operator() {
    Console console = System.console();
    return console == null
        ? Operator.NOBODY
        : request -> "y".equalsIgnoreCase(console.readLine("%s Done? [y/N] ", request));
  }
}
