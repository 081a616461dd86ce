package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.harness.length.DepthBy;
import org.stopwell.harness.length.LengthFile;
import org.stopwell.harness.length.LengthMethod;
import org.stopwell.harness.length.LengthRecord;
import org.stopwell.harness.length.Radiograph;
import org.stopwell.harness.length.Radiograph.Finding;
import org.stopwell.harness.length.Recheck;
import org.stopwell.harness.length.ReferencePoint;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Measures a length record for the chart from length readings. */
@Command(
    name = "length",
    description = {
      "Measures the length of one canal: moves the file in and out, takes a length reading"
          + " at every stop, and writes the mean of the readings as a length record with its"
          + " uncertainty. The bench must measure depth (hand.depth_axis: present) or a person"
          + " reads a rubber stop, and the hand must repeat (hand.after_stop: repeat).",
      "",
      "Exit codes: 0 at least three readings agree and, with --recheck, the length is"
          + " unchanged; 1 the length has changed; 2 the earlier record cannot be compared,"
          + " nothing moved; 5 too few readings agree, or the radiograph contradicts the length."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell length docs/plans/length-readings.yaml --out length.json",
      "  stopwell length docs/plans/length-readings.yaml --recheck length.json",
      "  stopwell length docs/plans/length-readings.yaml --reference \"MB cusp\""
          + " --reference-to-orifice-mm 5.5 --rubber-stop"
    },
    mixinStandardHelpOptions = true)
final class LengthCommand extends StopwellCommand {
  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin MeasureOptions measure = new MeasureOptions();

  @Parameters(
      paramLabel = "PLAN",
      description = "A plan. The first condition that expects a stop is used.")
  Path planFile = Path.of("");

  @Option(
      names = "--canal",
      paramLabel = "NAME",
      description = "Name of the canal, such as MB. Default: not stated.",
      defaultValue = "")
  String canal = "";

  @Option(
      names = "--reference",
      paramLabel = "TEXT",
      description = "The reference point on the tooth. Default: ${DEFAULT-VALUE}.",
      defaultValue = ReferencePoint.ORIFICE)
  String reference = ReferencePoint.ORIFICE;

  @Option(
      names = "--reference-to-orifice-mm",
      paramLabel = "MM",
      description =
          "Distance from the reference point to the orifice along the file, mm. A depth axis counts"
              + " from the orifice.")
  @Nullable Double toOrificeMm;

  @Option(
      names = "--reference-error-mm",
      paramLabel = "MM",
      description =
          "Largest error of the reference point, either way, mm; part of the uncertainty."
              + " Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.1")
  double referenceErrorMm = 0.1;

  @Option(
      names = "--radiograph",
      paramLabel = "FINDING",
      description =
          "Finding of a radiograph: not_taken, confirms or contradicts. Default: by"
              + " --tip-to-apex-mm, else not_taken.")
  @Nullable Finding finding;

  @Option(
      names = "--tip-to-apex-mm",
      paramLabel = "MM",
      description =
          "Distance on the radiograph from the tip of the file to the radiographic apex, mm;"
              + " negative past it.")
  @Nullable Double tipToApexMm;

  @Option(
      names = "--limit-mm",
      paramLabel = "MM",
      description =
          "A greater distance contradicts the length, mm. Default: ${DEFAULT-VALUE}, common"
              + " practice, from memory.",
      defaultValue = "3")
  double limitMm = 3;

  @Option(
      names = "--recheck",
      paramLabel = "FILE",
      description =
          "An earlier length record to compare with: same canal, standoff and reference point, and"
              + " not contradicted by a radiograph.")
  @Nullable Path recheck;

  @Option(names = "--out", paramLabel = "FILE", description = "File for the length record, JSON.")
  @Nullable Path out;

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    LengthLines lines = new LengthLines(screen);
    measure.check();
    LengthRecord before = recheck == null ? null : LengthFile.read(recheck);
    LengthMethod method = measure.method(canal, reference());
    Plan plan = Plan.read(Source.of(planFile), extensions().policies());
    PlanOptions.ownController(plan, "length");
    LengthSession session = new LengthSession(benches, measure, attendant(), screen);
    TrialSpec trial = session.trial(plan);
    Radiograph radiograph = radiograph(trial.standoffMicrons());
    if (before != null) {
      List<String> obstacles =
          Recheck.obstacles(before, method, trial.standoffMicrons(), radiograph);
      if (!obstacles.isEmpty()) {
        throw new UsageException(recheck + " cannot be compared: " + String.join("; ", obstacles));
      }
    }
    Optional<LengthRecord> measured =
        session.measure(plan, trial, method, plan).length().map(l -> l.with(radiograph));
    if (measured.isEmpty()) {
      return Verdict.UNDECIDED.exitCode();
    }
    LengthRecord length = measured.get();
    lines.length(length);
    Verdict verdict = lines.radiograph(radiograph);
    if (out != null) {
      screen.println(LengthFile.write(out, length));
    }
    if (before != null) {
      verdict =
          lines.recheck(
              new Recheck(before, length),
              plan.controller(trial).file(trial.stage()).choice(FileParameters.ALLOY));
    }
    return verdict.exitCode();
  }

  private ReferencePoint reference() throws UsageException {
    Range.check("--reference-to-orifice-mm", toOrificeMm, 0, 60, "mm");
    Range.check("--reference-error-mm", referenceErrorMm, 0, 10, "mm");
    boolean atOrifice = reference.equals(ReferencePoint.ORIFICE);
    if (atOrifice && toOrificeMm != null && toOrificeMm != 0) {
      throw new UsageException(
          "--reference-to-orifice-mm " + toOrificeMm + " mm: name the point with --reference");
    }
    boolean typed = measure.depthBy() == DepthBy.RUBBER_STOP && benches.kind().physical();
    if (!atOrifice && toOrificeMm == null && !typed) {
      throw new UsageException(
          "--reference "
              + reference
              + " needs --reference-to-orifice-mm: the depth counts from the orifice");
    }
    return new ReferencePoint(
        reference,
        toOrificeMm == null ? 0 : MeasureOptions.microns(toOrificeMm),
        MeasureOptions.microns(referenceErrorMm));
  }

  private Radiograph radiograph(int standoffMicrons) throws UsageException {
    if (tipToApexMm == null) {
      return Radiograph.of(finding == null ? Finding.NOT_TAKEN : finding);
    }
    Radiograph measured = MeasureOptions.radiograph(tipToApexMm, limitMm, standoffMicrons);
    if (finding != null && finding != measured.finding()) {
      throw new UsageException(
          "--radiograph "
              + finding.word()
              + ": --tip-to-apex-mm "
              + tipToApexMm
              + " mm with --limit-mm "
              + limitMm
              + " mm "
              + measured.finding().word());
    }
    return measured;
  }
}
