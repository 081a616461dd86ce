package org.stopwell.harness.report;

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
public final class BenchSection {
  private final Markup out = new Markup();
  private final RunHeader header;
  private final List<TrialResult> trials;
  private final String label;

  private BenchSection(RunHeader header, List<TrialResult> trials) {
    this.header = header;
    this.trials = trials;
    this.label = header.bench().simulated() ? " (simulated)" : "";
  }

  /**
   * A report with this section in it, before the limits of validity; the report as it was when the
   * run file says nothing of the bench's fitness.
   *
   * @param page the report
   * @param header what the campaign was
   * @param trials every trial that was run
   * @param notes the notes of the run file
   * @return the page with the section
   */
  static String added(String page, RunHeader header, List<TrialResult> trials, List<Note> notes) {
    Optional<String> section = new BenchSection(header, trials).html(notes);
    int validity = page.indexOf("<section id=\"validity-section\"");
    int at = validity >= 0 ? validity : page.indexOf("</main>");
    return section.map(s -> page.substring(0, at) + s + page.substring(at)).orElse(page);
  }

  private Optional<String> html(List<Note> notes) {
    Optional<String> calibration = BenchNotes.newest(notes, BenchNotes.CALIBRATION);
    Optional<String> proof = BenchNotes.newest(notes, BenchNotes.PROOF);
    Optional<String> withheld = BenchNotes.newest(notes, BenchNotes.WITHHELD);
    boolean timed = !header.bench().lockstep() && !trials.isEmpty();
    if (calibration.isEmpty() && proof.isEmpty() && withheld.isEmpty() && !timed) {
      return Optional.empty();
    }
    ReportPage.section(out, "bench-section", "May the bench decide?");
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
        calibrations(calibrations);
        budget(calibrations, proven);
      }
    } catch (PlanException e) {
      out.element("p", "The notes on the bench cannot be read: " + e.getMessage());
    }
    return Optional.of(out.end().toString());
  }

  /** What was in force at the start may not be what was in force at the end. */
  private void changed(List<Note> notes) throws PlanException {
    BenchNotes.newest(notes, BenchNotes.UNREADABLE)
        .ifPresent(why -> out.element("p", "The records of the bench " + why));
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
      out.element(
          "p",
          "Deviation: what is on record of the bench changed between the first and the last trial;"
              + " the last version is shown below.");
      ProtocolSection.table(
          out, "Changed while the campaign ran" + label, "what", "at first", "later");
      changes.forEach(c -> ProtocolSection.row(out, c.what(), c.planned(), c.found()));
      ProtocolSection.close(out);
    }
    long reasons = notes.stream().filter(n -> n.kind().equals(BenchNotes.WITHHELD)).count();
    if (reasons > 1) {
      out.element(
          "p",
          "While the campaign ran, the reasons to withhold verdicts changed: "
              + reasons
              + " versions are in the run file; the last is shown.");
    }
  }

  private void lateness() {
    long[] worst = trials.stream().mapToLong(TrialResult::worstLatenessNs).sorted().toArray();
    long late = trials.stream().filter(t -> t.worstLatenessNs() > TrialRunner.LATE_NS).count();
    out.start("dl", "class", "pairs");
    pair(
        "Latest step of each trial",
        text(
            "half of the trials within %.3f ms, 95 %% within %.3f ms, worst %.3f ms; %d of %d"
                + " beyond the %d ms that make a trial the rig's fault",
            worst[(worst.length - 1) / 2] / 1e6,
            worst[(int) Math.ceil(0.95 * worst.length) - 1] / 1e6,
            worst[worst.length - 1] / 1e6,
            late,
            worst.length,
            TrialRunner.LATE_NS / 1_000_000));
    out.end();
  }

  private void withheld(String reasons) {
    if (header.bench().simulated()) {
      out.element(
          "p",
          "The bench is simulated: its truth is exact and it needs no proof. What follows"
              + " is a rehearsal of what a physical bench must show.");
    } else if (reasons.isEmpty()) {
      out.element("p", "The bench was proven and calibrated when the campaign began.");
    } else {
      out.element("p", "Verdicts are withheld, and every number is kept:");
      out.start("ul");
      reasons.lines().forEach(reason -> out.element("li", reason));
      out.end();
    }
  }

  private void proof(ProofRecord proof) {
    out.element("h3", "Proof" + label);
    out.start("dl", "class", "pairs");
    pair("Proven", proof.date() + ", good until the end of " + proof.due());
    for (Finding f : proof.findings()) {
      pair(
          f.check(),
          f.outcome().name().toLowerCase(Locale.ROOT).replace('_', ' ')
              + (f.measured().isEmpty() ? "" : ": " + f.measured())
              + (f.limit().isEmpty() ? "" : " (allowed: " + f.limit() + ")"));
    }
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
                BenchStanding.WORST_GAUGE_NANOMETRES / 1_000));
    ProofRecord.Lateness late = proof.lateness();
    pair(
        "Loop lateness",
        text(
            "%d steps: half within %.3f ms, 99 %% within %.3f ms, 99.9 %% within %.3f ms, worst"
                + " %.3f ms",
            late.steps(),
            late.medianNs() / 1e6,
            late.p99Ns() / 1e6,
            late.p999Ns() / 1e6,
            late.worstNs() / 1e6));
    out.end();
  }

  private void pair(String name, String value) {
    out.element("dt", name).element("dd", value);
  }

  private void calibrations(Calibrations calibrations) {
    table(
        "Calibrations in force" + label + ".",
        "Quantity",
        "Mean",
        "Spread",
        "Reference",
        "U (k)",
        "Done, due",
        "At, by");
    for (Quantity quantity : Quantity.values()) {
      calibrations.inForce(quantity).ifPresent(this::calibration);
    }
    out.end().end().end();
  }

  private void calibration(CalibrationRecord r) {
    String unit = r.quantity().sign();
    out.start("tr").element("th", r.quantity().key(), "scope", "row");
    out.element("td", text("%+.3f %s", r.mean(), unit));
    out.element("td", text("%.3f %s of %d", r.spread(), unit, r.readingsThousandths().size()));
    out.element("td", r.instrument() + ", certificate " + r.certificate());
    out.element(
        "td",
        text(
            "%.3f %s (%.3g)",
            r.uncertaintyThousandths() / 1e3, unit, r.coverageThousandths() / 1e3));
    out.element("td", r.date() + ", " + r.due());
    out.element("td", text("%.1f °C, %s", r.temperatureMilliCelsius() / 1e3, r.operator()));
    out.end();
  }

  private void budget(Calibrations calibrations, @Nullable ProofRecord proof) {
    Optional<StopBudget.Basis> basis = header.design().budget();
    if (basis.isEmpty()) {
      out.element("p", "The plan of this run cannot be read, so there is no budget.");
      return;
    }
    UncertaintyBudget budget = StopBudget.of(calibrations, proof, basis.get());
    table(
        "Uncertainty of one stop error" + label + ", with the file at rest.",
        "Line",
        "From",
        "Distribution",
        "u",
        "ν",
        "c",
        "|c| u");
    for (Input input : budget.inputs()) {
      out.start("tr").element("th", input.name(), "scope", "row");
      out.element("td", input.source());
      out.element("td", input.distribution().name().toLowerCase(Locale.ROOT));
      out.element("td", text("%.3f %s", input.uncertainty(), input.unit()));
      out.element("td", Double.isInfinite(input.freedom()) ? "∞" : text("%.0f", input.freedom()));
      out.element("td", text("%.3g", input.sensitivity()));
      out.element("td", text("%.3f µm", input.contribution()));
      out.end();
    }
    out.end().end().end();
    MonteCarlo drawn =
        budget.monteCarlo(header.campaignSeed(), MonteCarlo.TRIALS, UncertaintyBudget.COVERAGE);
    double expanded = budget.expanded(UncertaintyBudget.COVERAGE);
    out.start("dl", "class", "pairs");
    pair(
        "By propagation (JCGM 100)",
        text(
            "u %.2f µm, effective freedom %s, k %.2f, U95 %.1f µm",
            budget.combined(),
            Double.isInfinite(budget.effectiveFreedom())
                ? "∞"
                : text("%.1f", budget.effectiveFreedom()),
            budget.coverageFactor(UncertaintyBudget.COVERAGE),
            expanded));
    pair(
        "By drawing (JCGM 101)",
        text(
            "u %.2f µm, 95 %% from %+.1f to %+.1f µm; %d draws, seed %d",
            drawn.deviation(),
            drawn.interval().low(),
            drawn.interval().high(),
            drawn.trials(),
            drawn.seed()));
    pair(
        "Do both agree?",
        budget.agreesWith(drawn, UncertaintyBudget.COVERAGE)
            ? "Yes, to two digits of u."
            : "No, not to two digits of u. The larger of the two counts.");
    conformity(budget.stated(drawn));
    shares(calibrations);
    out.end();
  }

  /** How many stops lie in each zone; what the rig spoiled is no stop of the controller's. */
  static long[] zones(RunHeader header, List<TrialResult> trials, int uncertainty) {
    long[] zones = new long[GuardBand.Zone.values().length];
    for (TrialResult trial : trials) {
      if (trial.stopped() && trial.verdict() != Verdict.RIG_FAULT) {
        Condition condition = ReportPage.condition(header, trial);
        GuardBand band = new GuardBand(condition.toleranceMicrons(), uncertainty);
        zones[band.of(trial.stopErrorMicrons()).ordinal()]++;
      }
    }
    return zones;
  }

  private void conformity(int uncertainty) {
    long[] zones = zones(header, trials, uncertainty);
    pair(
        "Conformity, guard band ±(tolerance − U95)",
        text(
            "U95 %d µm on every stop error: %d stops conform, %d cannot be decided, %d do not"
                + " conform; those of trials that the rig spoiled are not counted",
            uncertainty,
            zones[GuardBand.Zone.CONFORMS.ordinal()],
            zones[GuardBand.Zone.UNDECIDED.ordinal()],
            zones[GuardBand.Zone.DOES_NOT_CONFORM.ordinal()]));
  }

  private void shares(Calibrations calibrations) {
    Optional<Double> link = StopBudget.linkShare(calibrations, 1_000);
    Optional<Double> coast = StopBudget.coastShare(calibrations, 1_000);
    if (link.isPresent() && coast.isPresent()) {
      pair(
          "Shares of the error chain, at a feed of 1 mm/s",
          text("link: u %.2f µm; coast: u %.2f µm", link.get(), coast.get()));
    }
  }

  private void table(String caption, String... heads) {
    out.start("div", "class", "scroll", "tabindex", "0", "role", "region", "aria-label", caption);
    out.start("table", "class", "wide").element("caption", caption);
    out.start("thead").start("tr");
    for (String head : heads) {
      out.element("th", head, "scope", "col");
    }
    out.end().end().start("tbody");
  }

  private static String text(String format, Object... values) {
    return Objects.requireNonNull(String.format(Locale.ROOT, format, values));
  }
}
