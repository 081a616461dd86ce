package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.protocol.Endpoint;
import org.stopwell.harness.protocol.Exclusion;
import org.stopwell.harness.protocol.Order;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** What was fixed before the first trial, the deviations from it, and the results of the rules. */
final class ProtocolSection {
  private final Evidence evidence;
  private final Protocol protocol;
  private final List<TrialResult> analysed;
  private final String unblinded;
  private final boolean coded;

  /** " (simulated)" on every table of a simulated bench. */
  private final String label;

  private ProtocolSection(Report report) {
    this.evidence = report.evidence();
    this.unblinded = report.unblinded();
    this.coded = report.coded();
    this.label = report.label();
    this.protocol = evidence.header().protocol();
    this.analysed =
        evidence.trials().stream().filter(t -> ConditionSummary.isAnalysed(t.verdict())).toList();
  }

  static Optional<Content> of(Report report) {
    ProtocolSection section = new ProtocolSection(report);
    return Html.section(
        "protocol-section",
        "Protocol",
        Html.all(section.registration()),
        Html.pairs(section.rules(report.summary())),
        Html.all(section.endpoints()),
        section.exclusions(),
        StoppingChart.of(report),
        SentinelChart.of(report));
  }

  private List<Content> registration() {
    Registration registration = evidence.header().registration();
    if (!registration.isFrozen()) {
      return List.of(Html.paragraph("The plan was not frozen before the first trial."));
    }
    List<Deviation> deviations = registration.deviations();
    Content frozen =
        Html.paragraph(
            "Frozen "
                + registration.frozenAt()
                + " as "
                + registration.sha256()
                + ". "
                + (deviations.isEmpty()
                    ? "Nothing deviates from what was frozen."
                    : Words.count(deviations.size(), "deviation") + " from what was frozen:"));
    if (deviations.isEmpty()) {
      return List.of(frozen);
    }
    Table table =
        new Table("Deviations from the frozen plan")
            .columns(Table.LEFT, "what", "planned", "found");
    deviations.forEach(d -> table.row(d.what(), d.planned(), d.found()));
    return List.of(frozen, Html.table(table));
  }

  private List<Html.Pair> rules(CampaignSummary summary) {
    List<Html.Pair> pairs = new ArrayList<>();
    pairs.add(
        Html.Pair.of(
            "Order",
            protocol.order() == Order.BLOCKS
                ? "permuted blocks: each block holds every condition once, in an order drawn for it"
                : "Latin squares, balanced for place and for the condition before"));
    if (protocol.canalTrials() > 1) {
      pairs.add(
          Html.Pair.of(
              "Canals",
              protocol.canalTrials()
                  + " trials of each condition share one drawn canal. For a claim each canal counts as"
                  + " one number."));
    }
    protocol
        .blinding()
        .ifPresent(
            b ->
                pairs.add(
                    Html.Pair.of(
                        "Blinding",
                        (coded
                                ? "the levels of "
                                    + b.factor()
                                    + " carry codes until the run is unblinded. The codes guard the"
                                    + " reader against bias: plan, seed and codes of all trials stand"
                                    + " in the run file, so whoever works out the order of the"
                                    + " conditions can name the levels."
                                : "the levels of " + b.factor() + " were coded. " + unblinded + ".")
                            + (b.commitment().isEmpty()
                                ? ""
                                : " SHA-256 of the key: " + b.commitment()))));
    pairs.add(new Html.Pair("Stopping rule", stopping(summary)));
    for (Claim claim : evidence.header().claims()) {
      String why = protocol.whys().get(claim.endpoint());
      Long size = protocol.sizes().get(claim.endpoint());
      if (why != null || size != null) {
        pairs.add(
            Html.Pair.of(
                "Claim " + claim.endpoint().key(),
                (why == null ? "" : why + " ")
                    + (size == null ? "" : "Planned size: at least " + size + " trials.")));
      }
    }
    return pairs;
  }

  /** The rule, and the trial that decided, which the page finds again by itself. */
  private Prose stopping(CampaignSummary summary) {
    StoppingRule rule = protocol.stopping();
    if (rule.kind() == StoppingRule.Kind.FIXED) {
      return new Prose().text("none: every trial is run");
    }
    Prose prose =
        new Prose()
            .text(
                switch (rule.kind()) {
                  case SPRT ->
                      "Wald's sequential test of the claim "
                          + rule.claim().key()
                          + "; accepts a share of "
                          + Numbers.plainPercent(rule.goodShare())
                          + " with a chance of "
                          + Numbers.plainPercent(rule.power());
                  case GROUP_SEQUENTIAL ->
                      rule.looks()
                          + " looks at the claim "
                          + rule.claim().key()
                          + ", each at a stricter confidence than that of the claim";
                  case ANYTIME, FIXED ->
                      "bounds on the claim " + rule.claim().key() + " that hold at every trial";
                });
    if (evidence.decision().isEmpty()) {
      return prose.text(
          ". Not decided before the last trial of " + summary.run() + " that were run.");
    }
    return prose
        .text(". Decided after ")
        .number("trial " + (evidence.decision().get().index() + 1), "rule-trial 0")
        .text(
            "; the other claims are held against the trials there are, and their bounds do not allow"
                + " for the early end of the campaign.");
  }

  private List<Content> endpoints() {
    if (protocol.primary().isEmpty()) {
      return List.of();
    }
    Table table =
        new Table("Endpoints" + label)
            .columns(Table.LEFT, "endpoint", "role")
            .columns(Table.SENTENCE, "definition")
            .columns(Table.LEFT, "result");
    endpoint(table, protocol.primary().get(), "primary");
    protocol.secondary().forEach(e -> endpoint(table, e, "secondary"));
    return List.of(
        Html.table(table),
        Html.paragraph(
            "All claims must hold together, so several claims do not make any of them easier. An"
                + " endpoint without a claim is a description."));
  }

  private void endpoint(Table table, Endpoint endpoint, String role) {
    table.row(endpoint.key(), role, endpoint.text(), result(endpoint));
  }

  private String result(Endpoint endpoint) {
    return switch (endpoint) {
      case STOP_ERROR -> {
        List<TrialResult> stops =
            analysed.stream().filter(t -> t.expectation().rests() && t.rested()).toList();
        Moments errors = Moments.of(stops.stream().mapToLong(TrialResult::stopErrorMicrons));
        yield "mean "
            + Numbers.signedMillimetres(errors.mean())
            + ", 95 % interval "
            + Numbers.millimetres(intervals(stops).mean(0.95))
            + ", SD "
            + Numbers.millimetres(errors.standardDeviation());
      }
      case OVER_TRAVEL ->
          share(t -> t.expectation().rests() && own(t).isAtRisk(t), t -> own(t).isOverTravel(t));
      case OVERRUN -> share(t -> own(t).isAtRiskOfOverrun(t), t -> own(t).isOverrun(t));
      case EARLY_STOP -> share(t -> t.expectation().rests(), this::isEarly);
      case REFUSAL ->
          share(t -> t.expectation() == Expectation.REFUSE, t -> t.verdict() == Verdict.PASS);
      case TIME -> {
        if (coded) {
          yield "hidden until the run is unblinded";
        }
        Moments times =
            Moments.of(
                analysed.stream()
                    .filter(TrialResult::stopped)
                    .mapToLong(t -> t.stopTimeNs() / 1_000_000));
        yield times.count() == 0
            ? Numbers.NOT_ESTIMABLE
            : String.format(
                Locale.ROOT,
                "mean %.2f s over %d stops",
                times.mean().orElse(0) / 1000,
                times.count());
      }
    };
  }

  private boolean isEarly(TrialResult trial) {
    return trial.rested() && trial.stopErrorMicrons() > own(trial).toleranceMicrons();
  }

  private Condition own(TrialResult trial) {
    return Report.condition(evidence.header(), trial);
  }

  private Intervals intervals(List<TrialResult> trials) {
    return new Intervals(evidence.header(), evidence.repeats(), trials);
  }

  private String share(Predicate<TrialResult> of, Predicate<TrialResult> counts) {
    List<TrialResult> all = analysed.stream().filter(of).toList();
    Proportion p = new Proportion(all.stream().filter(counts).count(), all.size());
    return p.count()
        + " of "
        + p.trials()
        + (evidence.repeats().any() ? "; 95 % interval " : "; exact 95 % interval ")
        + Numbers.percent(intervals(all).share(counts, 0.95));
  }

  private Content exclusions() {
    Table table =
        new Table("Exclusion rules, which do not use the outcome of a trial" + label)
            .columns(Table.LEFT, "rule")
            .columns(Table.SENTENCE, "text")
            .columns(Table.LEFT, "trials");
    Map<Exclusion, Integer> counts = evidence.excluded();
    for (Exclusion rule : Exclusion.values()) {
      boolean inForce =
          switch (rule) {
            case BENCH_FAULT, SAFETY_STOP -> true;
            case BAD_SENTINEL -> protocol.sentinels().isPresent();
            case AFTER_RIG_FAULT -> protocol.afterRigFault() > 0;
            case LATE_STEP -> protocol.lateStepNs() > 0;
          };
      if (inForce) {
        table.row(rule.name(), rule.text(), Integer.toString(counts.getOrDefault(rule, 0)));
      }
    }
    return Html.table(table);
  }
}
