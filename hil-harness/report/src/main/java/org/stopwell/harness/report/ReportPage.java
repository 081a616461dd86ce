package org.stopwell.harness.report;

import gg.jte.Content;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.Origin;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.LedgerView;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.BenchDescription;

/**
 * The report of one campaign: a single page that needs nothing beside it. The same campaign gives
 * the same bytes, today and in ten years.
 */
public final class ReportPage {
  /** Every section in the order of the page. */
  private static final List<Section> SECTIONS =
      List.of(
          ReportPage::frozen,
          Headline::of,
          ReportPage::cautions,
          Recomputation::of,
          TrustSection::of,
          RunOrderChart::section,
          DistributionChart::section,
          ExampleTrial::of,
          ChainChart::section,
          ConditionTable::of,
          DepthSection::of,
          DeviceSection::of,
          DeviceActsSection::of,
          Statistics::of,
          FlowFigure::of,
          ProtocolSection::of,
          WorstTrials::of,
          FaultSection::of,
          BenchSection::of,
          ExtensionSection::of,
          ReportPage::validity,
          ReportPage::identity);

  /** The label of the newest hash of the run file's chain. */
  static final String FINGERPRINT = "Fingerprint of this run";

  /** Characters that XML 1.0 (section 2.2) has no place for. */
  private static final Pattern NO_CHARACTER =
      Pattern.compile("[^\\t\\n\\r\\x{20}-\\x{D7FF}\\x{E000}-\\x{FFFD}\\x{10000}-\\x{10FFFF}]");

  private ReportPage() {}

  /**
   * Writes the report of a run that is blinded where its plan says so.
   *
   * @param header what the campaign was
   * @param trials every trial that was run, in any order
   * @param traces the traces at hand, by trial index
   * @return one HTML document
   */
  public static String html(
      RunHeader header, List<TrialResult> trials, Map<Integer, TraceSeries> traces) {
    return html(
        new Report(Evidence.of(header, trials), traces, List.of(), "", "", "", LedgerView.NONE));
  }

  /** Writes a report. */
  static String html(Report report) {
    List<Content> sections = new ArrayList<>();
    for (Section section : SECTIONS) {
      section.of(report).ifPresent(sections::add);
    }
    String page =
        Html.text(
            Html.template(
                t ->
                    JtepageGenerated.render(
                        t,
                        Html.NONE,
                        report,
                        sections,
                        Look.ofResults(),
                        Recomputation.policy(),
                        Recomputation.script())));
    return NO_CHARACTER.matcher(page).replaceAll("\uFFFD");
  }

  /** What stands before the verdict of a frozen plan: deviations, the ledger, the other runs. */
  private static Optional<Content> frozen(Report report) {
    List<Content> lines = new ArrayList<>();
    report
        .ledger()
        .warnings(report.header().registration())
        .forEach(warning -> lines.add(Html.caution(warning)));
    String place = report.ledger().place();
    if (!place.isEmpty()) {
      boolean alone = report.ledger().others().isEmpty() && report.ledger().elsewhere() == 0;
      lines.add(alone ? Html.paragraph(place) : Html.caution(place));
    }
    return lines.isEmpty() ? Optional.empty() : Optional.of(Html.all(lines));
  }

  /** What a reader of the verdict must know. */
  private static Optional<Content> cautions(Report report) {
    List<Content> cautions = new ArrayList<>();
    if (report.coded()) {
      cautions.add(
          Html.caution(
              "Blinded: the levels of "
                  + report.header().protocol().blinding().orElseThrow().factor()
                  + " go by codes. Error chains, readings, times, traces and settings by condition"
                  + " differ between levels by design, so this page hides them until the run is"
                  + " unblinded."
                  + (report.header().bench().simulated()
                      ? " The bench is simulated, and plan and seed are known: whoever simulates the"
                          + " trials again unblinds the run."
                      : "")));
    }
    List<String> groups = report.choice().groups();
    if (report.evidence().repeats().any()) {
      cautions.add(
          Html.caution(
              (groups.isEmpty()
                      ? report.header().origin().imported()
                          ? "Trials on one tooth are repeats"
                          : "Trials share canals"
                      : "Trials repeat levels of " + String.join(" and ", groups))
                  + ". In each interval, every "
                  + report.evidence().repeats().one()
                  + " counts as one number."));
    }
    int injected = report.header().design().faults().size();
    if (injected > 0 && !report.coded()) {
      cautions.add(
          Html.caution(
              injected
                  + " of "
                  + Words.count(report.header().conditions().size(), "condition")
                  + " inject faults on purpose. These four numbers include their trials; a trial"
                  + " passes when its fault gets the name and the reaction that the plan expects."));
    }
    long unstarted = report.trials().stream().filter(TrialResult::neverStarted).count();
    report.trials().stream()
        .filter(TrialResult::neverStarted)
        .findFirst()
        .ifPresent(
            first ->
                cautions.add(
                    Html.caution(
                        Words.count(unstarted, "trial")
                            + " never started; the first is trial "
                            + (first.index() + 1)
                            + ". "
                            + first.message())));
    long near = report.trials().stream().filter(Withheld.GUARD_BAND::holds).count();
    if (near > 0) {
      cautions.add(
          Html.caution(
              Words.count(near, "trial")
                  + " came to rest nearer to the limit than the uncertainty "
                  + (report.header().origin().imported() ? "of a distance" : "of the bench")
                  + ". They count"
                  + " in the four numbers by their value, and never as a hit for a claim."));
    }
    // A run file before version 3 holds the plan as text; another version may not read it.
    Design design = report.header().design();
    if (!design.unread().isEmpty()) {
      cautions.add(
          Html.caution(
              "This program cannot read the plan of this run: "
                  + design.unread()
                  + ". The page leaves out the settings by condition, the faults and"
                  + " the uncertainty budget"
                  + (design.analysis().isEmpty() ? ", and the statistics" : "")
                  + "."));
    }
    return Optional.of(Html.all(cautions));
  }

  private static Optional<Content> validity(Report report) {
    boolean simulated = report.header().bench().simulated();
    boolean elsewhere = report.header().origin().imported();
    boolean several = report.summary().claims().size() > 1;
    return Html.section(
        "validity-section",
        "Limits of validity",
        Html.template(
            t -> JtevalidityGenerated.render(t, Html.NONE, simulated, elsewhere, several)));
  }

  private static Optional<Content> identity(Report report) {
    RunHeader header = report.header();
    List<Html.Pair> pairs = new ArrayList<>();
    pairs.add(Html.Pair.of("Build", header.build()));
    Origin origin = header.origin();
    if (origin.imported()) {
      pairs.add(Html.Pair.of("Measured", "elsewhere, " + Origin.NOT_HERE));
      if (!origin.place().isEmpty()) {
        pairs.add(Html.Pair.of("By", origin.place()));
      }
      pairs.add(Html.Pair.of("Table", origin.table() + ", SHA-256 " + origin.sha256()));
    } else {
      bench(pairs, header);
    }
    pairs.addAll(
        List.of(
            Html.Pair.of(origin.imported() ? "Read" : "Started", header.startedAt()),
            Html.Pair.of("Command", header.command())));
    for (Design.Weights weights : header.design().weights()) {
      pairs.add(Html.Pair.of("Weights of the depth estimate", weights.words()));
    }
    if (!report.fingerprint().isEmpty()) {
      pairs.add(
          Html.Pair.of(
              "Finished",
              report.finishedAt().isEmpty()
                  ? "not finished; the fingerprint changes when the campaign continues"
                  : report.finishedAt()));
      pairs.add(Html.Pair.of(FINGERPRINT, report.fingerprint()));
    }
    return Html.section(
        "identity-section",
        origin.imported() ? "Table, plan and build" : "Build, bench, plan and settings",
        Html.template(
            t ->
                JteidentityGenerated.render(
                    t,
                    Html.NONE,
                    Html.pairs(pairs),
                    header.planYaml(),
                    header.settingsYaml(),
                    ToldTable.of(header.design(), report.coded()))));
  }

  private static void bench(List<Html.Pair> pairs, RunHeader header) {
    BenchDescription bench = header.bench();
    pairs.addAll(
        List.of(
            Html.Pair.of(
                "Bench",
                bench.kind()
                    + (bench.simulated() ? ", simulated" : "")
                    + (bench.lockstep() ? ", in lockstep" : ", in real time")
                    + ", period "
                    + BigDecimal.valueOf(bench.periodNs(), 6).stripTrailingZeros().toPlainString()
                    + " ms"),
            Html.Pair.of("Bench serial number", bench.serialNumber()),
            Html.Pair.of("Bench firmware", bench.firmware()),
            Html.Pair.of("Campaign seed", Long.toString(header.campaignSeed()))));
  }

  /** A text that is part of the build, without white space around it. */
  static String resource(String name) {
    try (InputStream in = ReportPage.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException(name + " is not in the build");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8).strip();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
