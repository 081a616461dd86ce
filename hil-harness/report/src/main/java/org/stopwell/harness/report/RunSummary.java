package org.stopwell.harness.report;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.standing.LedgerView;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;

/** Prints the result of a campaign for people or for programs. */
public final class RunSummary {
  private final String plan;
  private final String directory;
  private final String label;
  private final Evidence evidence;
  private final CampaignSummary summary;
  private final LedgerView ledger;

  /**
   * A summary.
   *
   * @param evidence the evidence of the run
   * @param directory where the run is
   */
  public RunSummary(Evidence evidence, Path directory) {
    this.plan = evidence.header().planName();
    this.directory = directory.toString();
    this.label = evidence.header().label();
    this.evidence = evidence;
    this.summary = evidence.summary();
    this.ledger = LedgerView.kept(directory, evidence.header());
  }

  /**
   * For people.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    out.accept(
        plan
            + ": "
            + summary.run()
            + " of "
            + summary.planned()
            + " trials"
            + (label.isEmpty() ? "" : ", " + label));
    TextTable conditions = new TextTable("ll");
    summary.conditions().forEach(c -> conditions.row(c.condition().name(), line(c)));
    conditions.print(out);
    for (ClaimOutcome claim : summary.claims()) {
      out.accept(ClaimWords.sentence(claim));
      out.accept("  " + claim.verdict() + ": " + ClaimWords.meaning(claim));
    }
    evidence.trials().stream()
        .filter(TrialResult::neverStarted)
        .findFirst()
        .ifPresent(t -> out.accept("Trial " + (t.index() + 1) + " never started: " + t.message()));
    String unread = evidence.header().design().unread();
    if (!unread.isEmpty()) {
      out.accept("This program cannot read the plan of this run: " + unread);
    }
    if (evidence.header().isCoded()) {
      out.accept("Blinded: levels go by codes until: stopwell unblind " + directory);
    }
    protocol(out);
    ClaimWords.cautions(summary).forEach(c -> out.accept("Caution: " + c));
    List<String> warnings = ledger.warnings(evidence.header().registration());
    out.accept(
        summary.verdict()
            + ": "
            + ClaimWords.meaning(summary)
            + (warnings.isEmpty() ? "" : " " + String.join(" ", warnings))
            + (ledger.others().isEmpty() ? "" : " " + ledger.place()));
    out.accept("Results are in " + directory);
  }

  private void protocol(Consumer<String> out) {
    evidence
        .decision()
        .ifPresent(
            d -> out.accept("Decided by the stopping rule after trial " + (d.index() + 1) + "."));
    if (!evidence.sentinels().isEmpty()) {
      long bad = evidence.sentinels().stream().filter(s -> s.broken().isPresent()).count();
      out.accept("Sentinels: " + evidence.sentinels().size() + ", " + bad + " bad.");
    }
    Registration registration = evidence.header().registration();
    if (registration.isFrozen()) {
      int deviations = registration.deviations().size();
      out.accept(
          "Frozen as "
              + registration.sha256()
              + (deviations == 0 ? ", no deviation." : ", deviations: " + deviations + "."));
    }
  }

  private static String line(ConditionSummary c) {
    StringBuilder line = new StringBuilder();
    line.append(c.passed()).append(" of ").append(c.run());
    // A trial with a fault on purpose may pass for something else: a stop for the fault's sake.
    if (c.mayRefuse()) {
      line.append(" as the plan permits, ")
          .append(c.stopErrors().count())
          .append(" stopped, ")
          .append(c.within().count())
          .append(" of them in the band, ")
          .append(c.refused().count())
          .append(" refused, ")
          .append(c.overTravel().count())
          .append(" past the foramen");
      return end(line, c).toString();
    }
    long literally =
        c.expectsStop()
            ? c.within().count()
            : c.expectsRefusal() ? c.refused().count() : c.passed();
    line.append(
        c.passed() > literally
            ? " as the plan expects"
            : c.expectsStop()
                ? " stopped in the band"
                : c.expectsRefusal()
                    ? " refused"
                    : c.condition().expectation() == Expectation.SURVEY
                        ? " approaches recorded"
                        : " rested at the depth limit");
    if (c.condition().expectation().rests()) {
      line.append(", ").append(stops(c));
    }
    if (c.condition().expectation() == Expectation.DEPTH_LIMIT) {
      line.append(", ").append(c.overrun().count()).append(" past the limit");
    }
    return end(line, c).toString();
  }

  private static StringBuilder end(StringBuilder line, ConditionSummary c) {
    if (c.failed() > 0) {
      line.append(", ").append(c.failed()).append(" failed");
    }
    if (c.neverStarted() > 0) {
      line.append(", ").append(c.neverStarted()).append(" never started");
    }
    if (c.undecided() > 0) {
      line.append(", ").append(c.undecided()).append(" undecided");
    }
    if (!c.rigFaults().isEmpty()) {
      c.rigFaults()
          .forEach((why, n) -> line.append(", ").append(n).append(" invalid: ").append(why));
    }
    return line;
  }

  /** Mean and spread of the stops, or why there are none. */
  private static String stops(ConditionSummary c) {
    if (c.stopErrors().count() == 0) {
      return c.analysed() == 0 && !c.rigFaults().isEmpty()
          ? "the rig spoiled every trial, so no stop was measured"
          : "no stop to measure";
    }
    return "mean "
        + Numbers.signedMillimetres(c.stopErrors().mean())
        + ", SD "
        + Numbers.millimetres(c.stopErrors().standardDeviation());
  }

  /**
   * For machines.
   *
   * @return the values of a JSON object
   */
  public Map<String, Object> values() {
    List<Map<String, Object>> conditions = new ArrayList<>();
    for (ConditionSummary c : summary.conditions()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("condition", c.condition().name());
      one.put("planned", c.condition().plannedTrials());
      one.put("run", c.run());
      one.put("passed", c.passed());
      one.put("failed", c.failed());
      one.put("undecided", c.undecided());
      one.put("never_started", c.neverStarted());
      one.put("over_travel", c.overTravel().count());
      one.put("driven", c.overTravel().trials());
      if (c.condition().expectation() == Expectation.DEPTH_LIMIT) {
        one.put("overrun", c.overrun().count());
      }
      one.put("rig_faults", c.rigFaults());
      one.put("bias_um", box(c.stopErrors().mean()));
      one.put("sd_um", box(c.stopErrors().standardDeviation()));
      conditions.add(one);
    }
    List<Map<String, Object>> claims = new ArrayList<>();
    for (ClaimOutcome claim : summary.claims()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("claim", ClaimWords.sentence(claim));
      one.put("verdict", claim.verdict().name());
      one.put("count", claim.counted().count());
      one.put("trials", claim.counted().trials());
      one.put("meaning", ClaimWords.meaning(claim));
      one.put("conditions", claim.conditions().names());
      if (claim.claim().each()) {
        one.put("holds_in", claim.conditions().holding());
        one.put("contradicted_in", claim.conditions().contradicted());
      }
      claims.add(one);
    }
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("plan", plan);
    all.put("verdict", summary.verdict().name());
    all.put("exit_code", summary.verdict().exitCode());
    all.put("meaning", ClaimWords.meaning(summary));
    all.put("simulated", evidence.header().bench().simulated());
    all.put("measured_here", !evidence.header().origin().imported());
    all.put("blinded", evidence.header().isCoded());
    all.put("planned", summary.planned());
    all.put("run", summary.run());
    evidence.decision().ifPresent(d -> all.put("decided_after_trial", d.index() + 1));
    if (!evidence.sentinels().isEmpty()) {
      all.put("sentinels", evidence.sentinels().size());
      all.put(
          "bad_sentinels",
          evidence.sentinels().stream().filter(s -> s.broken().isPresent()).count());
    }
    Registration registration = evidence.header().registration();
    if (registration.isFrozen()) {
      all.put("frozen_sha256", registration.sha256());
      all.put("deviations", registration.deviations().stream().map(Deviation::sentence).toList());
      all.put("frozen_plan_run", registration.number());
      all.put("frozen_plan_warnings", ledger.warnings(registration));
      List<Map<String, Object>> others = new ArrayList<>();
      for (LedgerView.Other other : ledger.others()) {
        Map<String, Object> one = new LinkedHashMap<>();
        one.put("number", other.number());
        one.put("run", other.run());
        one.put("fate", other.fate());
        others.add(one);
      }
      all.put("other_runs", others);
    }
    all.put("directory", directory);
    all.put("conditions", conditions);
    all.put("claims", claims);
    all.put("cautions", ClaimWords.cautions(summary));
    return all;
  }

  private static @Nullable Object box(OptionalDouble value) {
    return value.isPresent() ? value.getAsDouble() : null;
  }
}
