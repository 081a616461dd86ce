package org.stopwell.harness.report;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.evidence.Service;
import org.stopwell.harness.record.ContentHash;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.BenchDescription;

/**
 * The report of one campaign: a single page that needs nothing beside it. The same campaign gives
 * the same bytes, today and in ten years.
 */
public final class ReportPage {
  private final Evidence evidence;
  private final String contentHash;
  private final String unblinded;
  private final List<Service> services;
  private final RunHeader header;
  private final List<TrialResult> trials;
  private final Map<Integer, TraceSeries> traces;
  private final CampaignSummary summary;
  private final WorstTrials worst;

  /** " (simulated)" on every picture of a simulated bench. */
  private final String label;

  private ReportPage(
      Evidence evidence,
      String contentHash,
      Map<Integer, TraceSeries> traces,
      String unblinded,
      List<Service> services) {
    this.services = List.copyOf(services);
    this.evidence = evidence;
    this.unblinded = unblinded;
    this.contentHash = contentHash;
    this.header = evidence.header();
    this.trials = evidence.trials();
    this.traces = Map.copyOf(traces);
    this.summary = evidence.summary();
    this.worst = new WorstTrials(this.header, this.trials);
    this.label = header.bench().simulated() ? " (simulated)" : "";
  }

  /**
   * Writes the report.
   *
   * @param header what the campaign was
   * @param trials every trial that was run, in any order
   * @param traces the traces at hand, by trial index
   * @return one HTML document
   */
  public static String html(
      RunHeader header, List<TrialResult> trials, Map<Integer, TraceSeries> traces) {
    return html(Evidence.of(header, trials), ContentHash.of(header, trials), traces, "", List.of());
  }

  /**
   * Writes the report of a run that may be unblinded.
   *
   * @param evidence what counts of the run
   * @param contentHash the hash over header and trials of its run file
   * @param traces the traces at hand, by trial index
   * @param unblinded when the levels of a blinded factor got their own names, empty before
   * @param services what was done to the bench after bad sentinels
   * @return one HTML document
   */
  public static String html(
      Evidence evidence,
      String contentHash,
      Map<Integer, TraceSeries> traces,
      String unblinded,
      List<Service> services) {
    return new ReportPage(evidence, contentHash, traces, unblinded, services).write();
  }

  private String write() {
    Markup out = new Markup();
    out.trusted("<!DOCTYPE html>");
    out.start("html", "lang", "en").start("head");
    out.leaf("meta", "charset", "utf-8");
    out.leaf("meta", "name", "viewport", "content", "width=device-width, initial-scale=1");
    out.leaf(
        "meta",
        "http-equiv",
        "Content-Security-Policy",
        "content",
        "default-src 'none'; style-src 'unsafe-inline'; " + Recomputation.policy());
    out.element("title", header.planName() + ": " + summary.verdict() + label);
    out.start("style").trusted(resource("report.css")).end();
    out.end().start("body");
    out.element("a", "Skip to the figures", "class", "skip", "href", "#run-order-section");
    head(out);
    out.start("main");
    Statistics statistics = new Statistics(header, summary, trials);
    Headline.write(out, summary);
    if (evidence.repeats().any()) {
      out.element(
          "p",
          "The intervals beside these four numbers take every trial for independent; the claims do not.",
          "class",
          "caution");
    }
    guardBand(out);
    statistics.caution().ifPresent(text -> out.element("p", text, "class", "caution"));
    unread(out);
    Recomputation.write(out, evidence, summary);
    runOrder(out);
    distribution(out);
    trace(out);
    ChainChart.write(out, header, trials, label);
    ConditionTable.write(out, summary, label);
    statistics.write(out, label);
    FlowFigure.write(out, summary);
    ProtocolSection.write(out, evidence, summary, unblinded, services);
    worst.write(out, header, traces, label);
    validity(out);
    identity(out);
    out.end();
    out.start("footer");
    out.element(
        "p",
        "Stopwell "
            + header.build()
            + ". For bench and research use. Not a medical device, not for use on a person.");
    out.end();
    Recomputation.script(out);
    out.end().end();
    return out.toString();
  }

  private void head(Markup out) {
    out.start("header");
    out.element("p", "Stopwell · report on stop accuracy", "class", "eyebrow");
    out.element("h1", header.planName());
    if (header.bench().simulated()) {
      out.start("p", "class", "simulated").inline("strong", "Simulated");
      out.text(
          " Every number on this page comes from a model ("
              + header.bench().kind()
              + " bench), not from matter.");
      out.end();
    }
    out.end();
  }

  /** A run file before version 3 holds the plan as text; another version may not read it. */
  private void unread(Markup out) {
    if (!header.design().unread().isEmpty()) {
      out.element(
          "p",
          "This program cannot read the plan of this run: "
              + header.design().unread()
              + ". The page leaves out what the controller was told by condition, the faults and the"
              + " uncertainty budget"
              + (header.design().analysis().isEmpty() ? ", and the statistics" : "")
              + ".",
          "class",
          "caution");
    }
  }

  /** The one place where a count of the head and that of a claim may differ. */
  private void guardBand(Markup out) {
    long near = trials.stream().filter(Withheld.GUARD_BAND::holds).count();
    if (near > 0) {
      out.element(
          "p",
          Words.count(near, "trial")
              + " came to rest nearer to the limit than the uncertainty of the bench: within or not"
              + " by the number in the head, never a hit for a claim.",
          "class",
          "caution");
    }
  }

  private void runOrder(Markup out) {
    section(out, "run-order-section", "Every stop, in run order");
    if (trials.isEmpty()) {
      out.element("p", "No trial was run.").end();
      return;
    }
    RunOrderChart chart = new RunOrderChart(header.conditions(), trials);
    out.start("figure");
    chart.draw(out, label);
    Legend.runOrder(out);
    out.caption(label);
    out.text(
        " Each mark is one trial: true remaining distance at standstill minus standoff. Above 0 the"
            + " file stopped early, below 0 late. The band is the tolerance.");
    if (chart.beyond() > 0) {
      out.text(
          " "
              + Words.count(chart.beyond(), "stop lies", "stops lie")
              + " beyond the frame and "
              + (chart.beyond() == 1 ? "is" : "are")
              + " drawn at its edge.");
    }
    out.end().end().end();
  }

  private void distribution(Markup out) {
    DistributionChart chart = new DistributionChart(summary.conditions(), trials);
    if (chart.isEmpty()) {
      return;
    }
    section(out, "distribution-section", "How the stops are spread");
    out.start("figure");
    chart.draw(out, label);
    Legend.distribution(out);
    out.caption(label);
    out.text(
        " One row per condition, bars of "
            + Numbers.plainMillimetres(chart.binMicrons())
            + ", each row to its own height.");
    if (chart.beyond() > 0) {
      out.text(
          " The outermost bars hold "
              + Words.count(chart.beyond(), "stop that lies", "stops that lie")
              + " beyond the frame.");
    }
    out.end().end().end();
  }

  private void trace(Markup out) {
    Optional<TrialResult> example = example();
    if (example.isEmpty()) {
      return;
    }
    TrialResult trial = example.get();
    TraceSeries series = traces.get(trial.index());
    if (series == null) {
      return;
    }
    Condition condition = condition(header, trial);
    section(out, "trace-section", "One trial, from start to stop");
    out.start("figure");
    TraceChart.whole("trace", trial, condition, series).drawAll(out, label);
    if (trial.stopped()) {
      TraceChart.closeUp("trace", trial, condition, series).drawPosition(out, label);
    }
    Legend.trace(out);
    out.caption(label);
    out.text(" Trial " + (trial.index() + 1) + ", " + trial.condition() + ". " + trial.message());
    out.end().end().end();
  }

  /** The first trial that passed with a stop; failing that any trial with a trace. */
  private Optional<TrialResult> example() {
    List<TrialResult> traced = trials.stream().filter(t -> moves(traces.get(t.index()))).toList();
    return traced.stream()
        .filter(t -> t.stopped() && t.verdict() == org.stopwell.harness.trial.Verdict.PASS)
        .findFirst()
        .or(() -> traced.stream().filter(TrialResult::stopped).findFirst())
        .or(() -> traced.stream().findFirst());
  }

  /** Of a trial that the bench refused at once there is nothing to draw. */
  private static boolean moves(@Nullable TraceSeries series) {
    return series != null && series.steps().size() > 1;
  }

  static Condition condition(RunHeader header, TrialResult trial) {
    return header.conditions().stream()
        .filter(c -> c.name().equals(trial.condition()))
        .findFirst()
        .orElseThrow();
  }

  private void validity(Markup out) {
    section(out, "validity-section", "Limits of validity");
    out.start("div", "class", "care");
    out.element(
        "p",
        "A bench is not a mouth. These numbers hold for the conditions that were tried, on this"
            + " bench, with this build and these settings, and for nothing else.");
    if (header.bench().simulated()) {
      out.element(
          "p",
          "The bench was simulated: the numbers describe a model of a canal, a file and a motor."
              + " They can show that a controller is wrong; they cannot show that it is right.");
    }
    out.element(
        "p",
        "For bench and research use. Not a medical device, not for use on a person. A software stop"
            + " is not a safety function: motor power runs through a hardware emergency stop."
            + " Licensed practice, the instructions of the device's maker and local codes come"
            + " first.");
    out.end();
    if (summary.claims().size() > 1) {
      out.element(
          "p",
          "Each claim is held against its own confidence. PASS needs every claim to hold, so no"
              + " correction for their number is made (intersection-union test, Berger 1982,"
              + " Technometrics 24, 295).");
    }
    out.element(
        "p",
        "Where trials repeat one canal they are not so many canals. Intervals are exact"
            + " for independent trials (Clopper and Pearson 1934; Student's t for means). Trials"
            + " that the rig spoiled are shown and never counted as failures; a claim holds only if"
            + " it still would had every missing trial gone against it.");
    out.end();
  }

  private void identity(Markup out) {
    BenchDescription bench = header.bench();
    section(out, "identity-section", "What was run, on what");
    out.start("dl", "class", "pairs");
    pair(out, "Build", header.build());
    pair(
        out,
        "Bench",
        bench.kind()
            + (bench.simulated() ? ", simulated" : "")
            + (bench.lockstep() ? ", in lockstep" : ", in real time")
            + ", period "
            + java.math.BigDecimal.valueOf(bench.periodNs(), 6).stripTrailingZeros().toPlainString()
            + " ms");
    pair(out, "Bench serial number", bench.serialNumber());
    pair(out, "Bench firmware", bench.firmware());
    pair(out, "Campaign seed", Long.toString(header.campaignSeed()));
    pair(out, "Started", header.startedAt());
    pair(out, "Command", header.command());
    pair(out, "Content hash", contentHash);
    out.end();
    out.element("h3", "Plan, word for word");
    out.start("pre", "tabindex", "0", "aria-label", "Plan").text(header.planYaml()).end();
    out.element("h3", "Settings, word for word");
    out.start("pre", "tabindex", "0", "aria-label", "Settings").text(header.settingsYaml()).end();
    ToldTable.write(out, header.design());
    out.end();
  }

  private static void pair(Markup out, String name, String value) {
    out.element("dt", name).element("dd", value);
  }

  /** Opens a section with its heading; the caller closes it. */
  static void section(Markup out, String id, String title) {
    out.start("section", "id", id, "aria-labelledby", id + "-head");
    out.element("h2", title, "id", id + "-head");
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
