package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.budget.GuardBand;
import org.stopwell.harness.budget.Input;
import org.stopwell.harness.budget.MonteCarlo;
import org.stopwell.harness.budget.StopBudget;
import org.stopwell.harness.budget.UncertaintyBudget;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.record.RunFile.Note;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.BenchNotes;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;

/**
 * The section of the report that says whether the bench may decide: proof, calibrations,
 * uncertainty budget and conformity. It is made from the notes of the run file alone.
 */
final class BenchSection {
  private final Report report;
  private final List<Content> parts = new ArrayList<>();

  private BenchSection(Report report) {
    this.report = report;
  }

  /** The section; empty when the run file says nothing of the bench's fitness. */
  static Optional<Content> of(Report report) {
    return new BenchSection(report).section(report.notes());
  }

  private Optional<Content> section(List<Note> notes) {
    Optional<String> calibration = BenchNotes.newest(notes, BenchNotes.CALIBRATION);
    Optional<String> proof = BenchNotes.newest(notes, BenchNotes.PROOF);
    Optional<String> withheld = BenchNotes.newest(notes, BenchNotes.WITHHELD);
    boolean timed =
        !report.header().origin().imported()
            && !report.header().bench().lockstep()
            && !report.trials().isEmpty();
    if (calibration.isEmpty() && proof.isEmpty() && withheld.isEmpty() && !timed) {
      return Optional.empty();
    }
    try {
      withheld(withheld.orElse(""));
      changed(notes);
      if (timed) {
        lateness();
      }
      ProofRecord proven =
          proof.isEmpty() ? null : ProofFile.read(new Source(BenchNotes.PROOF, proof.get()));
      if (proven != null) {
        proof(proven);
      }
      if (calibration.isPresent()) {
        Calibrations calibrations =
            CalibrationFile.read(new Source(BenchNotes.CALIBRATION, calibration.get()));
        parts.add(Html.table(calibrations(calibrations)));
        budget(calibrations, proven);
      }
    } catch (PlanException e) {
      parts.add(Html.paragraph("The notes on the bench cannot be read: " + e.getMessage()));
    }
    return Html.section("bench-section", "May the bench decide?", Html.all(parts));
  }

  /** What was in force at the start may not be what was in force at the end. */
  private void changed(List<Note> notes) throws PlanException {
    BenchNotes.newest(notes, BenchNotes.UNREADABLE)
        .ifPresent(why -> parts.add(Html.paragraph("The records of the bench " + why)));
    List<Deviation> changes = new ArrayList<>();
    for (String kind : List.of(BenchNotes.CALIBRATION, BenchNotes.PROOF)) {
      List<String> versions =
          notes.stream().filter(n -> n.kind().equals(kind)).map(Note::text).toList();
      for (int i = 1; i < versions.size(); i++) {
        changes.addAll(
            Deviation.between(
                BenchNotes.items(kind, versions.get(i - 1)),
                BenchNotes.items(kind, versions.get(i))));
      }
    }
    if (!changes.isEmpty()) {
      parts.add(
          Html.paragraph(
              "Deviation: the records of the bench changed between the first and the last trial. The"
                  + " last version is shown below."));
      Table table =
          new Table("Changed while the campaign ran" + report.label())
              .columns(Table.LEFT, "what", "at first", "later");
      changes.forEach(c -> table.row(c.what(), c.planned(), c.found()));
      parts.add(Html.table(table));
    }
    long reasons = notes.stream().filter(n -> n.kind().equals(BenchNotes.WITHHELD)).count();
    if (reasons > 1) {
      parts.add(
          Html.paragraph(
              "The reasons to withhold verdicts changed while the campaign ran: the run file holds "
                  + reasons
                  + " versions, and the last is shown."));
    }
  }

  private void lateness() {
    List<TrialResult> trials = report.trials();
    long[] worst = trials.stream().mapToLong(TrialResult::worstLatenessNs).sorted().toArray();
    long late = trials.stream().filter(t -> t.worstLatenessNs() > TrialRunner.LATE_NS).count();
    parts.add(
        Html.pairs(
            List.of(
                pair(
                    "Latest step of each trial",
                    text(
                        "half of the trials within %.3f ms, 95 %% within %.3f ms, worst %.3f ms; %d of"
                            + " %d later than %d ms, which makes a trial a fault of the rig",
                        worst[(worst.length - 1) / 2] / 1e6,
                        worst[(int) Math.ceil(0.95 * worst.length) - 1] / 1e6,
                        worst[worst.length - 1] / 1e6,
                        late,
                        worst.length,
                        TrialRunner.LATE_NS / 1_000_000)))));
  }

  private void withheld(String reasons) {
    if (report.header().bench().simulated()) {
      parts.add(
          Html.paragraph(
              "The bench is simulated: its truth is exact and it needs no proof. The records below"
                  + " rehearse what a physical bench must show."));
    } else if (reasons.isEmpty()) {
      parts.add(Html.paragraph("The bench was proven and calibrated when the campaign began."));
    } else {
      parts.add(Html.paragraph("Verdicts are withheld, and every number is kept:"));
      parts.add(Html.list(reasons.lines().toList()));
    }
  }

  private void proof(ProofRecord proof) {
    parts.add(Html.heading("Proof" + report.label()));
    List<Html.Pair> pairs = new ArrayList<>();
    pairs.add(pair("Proven", proof.date() + ", valid until the end of " + proof.due()));
    for (Finding f : proof.findings()) {
      pairs.add(
          pair(
              f.check(),
              f.outcome().name().toLowerCase(Locale.ROOT).replace('_', ' ')
                  + (f.measured().isEmpty() ? "" : ": " + f.measured())
                  + (f.limit().isEmpty() ? "" : " (allowed: " + f.limit() + ")")));
    }
    pairs.add(
        pair(
            "Gauge study",
            proof.gaugeNanometres() < 0
                ? "not done"
                : text(
                    "σ %.1f µm with %d degrees of freedom; allowed %d µm for 10 %%, %d µm for 30 %% of"
                        + " ±0.5 mm",
                    proof.gaugeNanometres() / 1e3,
                    proof.gaugeFreedom(),
                    BenchStanding.GOOD_GAUGE_NANOMETRES / 1_000,
                    BenchStanding.WORST_GAUGE_NANOMETRES / 1_000)));
    ProofRecord.Lateness late = proof.lateness();
    pairs.add(
        pair(
            "Loop lateness",
            text(
                "%d steps: half within %.3f ms, 99 %% within %.3f ms, 99.9 %% within %.3f ms, worst"
                    + " %.3f ms",
                late.steps(),
                late.medianNs() / 1e6,
                late.p99Ns() / 1e6,
                late.p999Ns() / 1e6,
                late.worstNs() / 1e6)));
    parts.add(Html.pairs(pairs));
  }

  private static Html.Pair pair(String name, String value) {
    return Html.Pair.of(name, value);
  }

  private Table calibrations(Calibrations calibrations) {
    Table table =
        new Table("Calibrations in force" + report.label() + ".")
            .columns(Table.LEFT, "Quantity")
            .columns(Table.NUMBER, "Mean", "Spread")
            .columns(Table.LEFT, "Reference")
            .columns(Table.NUMBER, "U (k)")
            .columns(Table.LEFT, "Done, due", "At, by");
    for (Quantity quantity : Quantity.values()) {
      calibrations.inForce(quantity).ifPresent(r -> calibration(table, r));
    }
    return table;
  }

  private static void calibration(Table table, CalibrationRecord r) {
    String unit = r.quantity().sign();
    String limit = r.quantity().limit().words(unit);
    table.row(
        r.quantity().key() + (limit.isEmpty() ? "" : " (" + limit + ")"),
        text("%+.3f %s", r.mean(), unit),
        text("%.3f %s of %d", r.spread(), unit, r.readingsThousandths().size()),
        r.instrument() + ", certificate " + r.certificate(),
        text(
            "%.3f %s (%.3g)",
            r.uncertaintyThousandths() / 1e3, unit, r.coverageThousandths() / 1e3),
        r.date() + ", " + r.due(),
        text("%.1f °C, %s", r.temperatureMilliCelsius() / 1e3, r.operator()));
  }

  private void budget(Calibrations calibrations, @Nullable ProofRecord proof) {
    Optional<StopBudget.Basis> basis = report.header().design().budget();
    if (basis.isEmpty()) {
      parts.add(Html.paragraph("The plan of this run cannot be read, so there is no budget."));
      return;
    }
    UncertaintyBudget budget =
        StopBudget.of(
            calibrations, proof, basis.get().with(BenchNotes.zeroMicrons(report.notes())));
    Table table =
        new Table("Uncertainty of one stop error" + report.label() + ", with the file at rest.")
            .columns(Table.LEFT, "Line", "From", "Distribution")
            .columns(Table.NUMBER, "u", "ν", "c", "|c| u");
    for (Input input : budget.inputs()) {
      table.row(
          input.name(),
          input.source(),
          input.distribution().name().toLowerCase(Locale.ROOT),
          text("%.3f %s", input.uncertainty(), input.unit()),
          Double.isInfinite(input.freedom()) ? "∞" : text("%.0f", input.freedom()),
          text("%.3g", input.sensitivity()),
          text("%.3f µm", input.contribution()));
    }
    parts.add(Html.table(table));
    MonteCarlo drawn =
        budget.monteCarlo(
            report.header().campaignSeed(), MonteCarlo.TRIALS, UncertaintyBudget.COVERAGE);
    List<Html.Pair> pairs = new ArrayList<>();
    pairs.add(
        pair(
            "By propagation (JCGM 100)",
            text(
                "u %.2f µm, effective freedom %s, k %.2f, U95 %.1f µm",
                budget.combined(),
                Double.isInfinite(budget.effectiveFreedom())
                    ? "∞"
                    : text("%.1f", budget.effectiveFreedom()),
                budget.coverageFactor(UncertaintyBudget.COVERAGE),
                budget.expanded(UncertaintyBudget.COVERAGE))));
    pairs.add(
        pair(
            "By drawing (JCGM 101)",
            text(
                "u %.2f µm, 95 %% from %+.1f to %+.1f µm; %d draws, seed %d",
                drawn.deviation(),
                drawn.interval().low(),
                drawn.interval().high(),
                drawn.trials(),
                drawn.seed())));
    pairs.add(
        pair(
            "Do both agree?",
            budget.agreesWith(drawn, UncertaintyBudget.COVERAGE)
                ? "Yes, to two digits of u."
                : "No, not to two digits of u. The larger of the two counts."));
    pairs.add(conformity(budget.stated(drawn)));
    shares(calibrations).ifPresent(pairs::add);
    parts.add(Html.pairs(pairs));
  }

  /** How many stops lie in each zone; what the rig spoiled is no stop of the controller's. */
  static long[] zones(RunHeader header, List<TrialResult> trials, int uncertainty) {
    long[] zones = new long[GuardBand.Zone.values().length];
    for (TrialResult trial : trials) {
      if (trial.stopped() && trial.verdict() != Verdict.RIG_FAULT) {
        Condition condition = Report.condition(header, trial);
        GuardBand band = new GuardBand(condition.toleranceMicrons(), uncertainty);
        zones[band.of(trial.stopErrorMicrons()).ordinal()]++;
      }
    }
    return zones;
  }

  private Html.Pair conformity(int uncertainty) {
    long[] zones = zones(report.header(), report.trials(), uncertainty);
    return pair(
        "Conformity, guard band ±(tolerance − U95)",
        text(
            "U95 %d µm on every stop error: %d stops conform, %d cannot be decided, %d do not"
                + " conform; stops that the rig spoiled are not counted",
            uncertainty,
            zones[GuardBand.Zone.CONFORMS.ordinal()],
            zones[GuardBand.Zone.UNDECIDED.ordinal()],
            zones[GuardBand.Zone.DOES_NOT_CONFORM.ordinal()]));
  }

  private static Optional<Html.Pair> shares(Calibrations calibrations) {
    Optional<Double> link = StopBudget.linkShare(calibrations, 1_000);
    Optional<Double> coast = StopBudget.coastShare(calibrations, 1_000);
    return link.isPresent() && coast.isPresent()
        ? Optional.of(
            pair(
                "Shares of the error chain, at a feed of 1 mm/s",
                text("link: u %.2f µm; coast: u %.2f µm", link.get(), coast.get())))
        : Optional.empty();
  }

  private static String text(String format, Object... values) {
    return Objects.requireNonNull(String.format(Locale.ROOT, format, values));
  }
}
