package org.stopwell.harness.report;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Predicate;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.evidence.Service;
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
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** What was fixed before the first trial, what departed from it, and what the rules came to. */
final class ProtocolSection {
  private final Evidence evidence;
  private final Protocol protocol;
  private final List<TrialResult> analysed;
  private final String unblinded;

  /** " (simulated)" on every table of a simulated bench. */
  private final String label;

  private ProtocolSection(Evidence evidence, String unblinded) {
    this.evidence = evidence;
    this.unblinded = unblinded;
    this.label = evidence.header().bench().simulated() ? " (simulated)" : "";
    this.protocol = evidence.header().protocol();
    this.analysed =
        evidence.trials().stream().filter(t -> ConditionSummary.isAnalysed(t.verdict())).toList();
  }

  static void write(
      Markup out,
      Evidence evidence,
      CampaignSummary summary,
      String unblinded,
      List<Service> services) {
    ReportPage.section(out, "protocol-section", "Protocol");
    ProtocolSection section = new ProtocolSection(evidence, unblinded);
    section.registration(out);
    section.rules(out, summary);
    section.endpoints(out);
    section.exclusions(out);
    StoppingChart.write(out, evidence, section.label);
    SentinelChart.write(out, evidence, services);
    out.end();
  }

  private void registration(Markup out) {
    Registration registration = evidence.header().registration();
    if (!registration.isFrozen()) {
      out.element("p", "The plan was not frozen before the first trial.");
      return;
    }
    out.start("p").text("Frozen " + registration.frozenAt() + " as ");
    out.inline("code", registration.sha256()).text(". ");
    List<Deviation> deviations = registration.deviations();
    out.text(
        deviations.isEmpty()
            ? "Nothing deviates from what was frozen."
            : Words.count(deviations.size(), "deviation") + " from what was frozen:");
    out.end();
    if (!deviations.isEmpty()) {
      table(out, "Deviations from the frozen plan", "what", "planned", "found");
      for (Deviation d : deviations) {
        row(out, d.what(), d.planned(), d.found());
      }
      close(out);
    }
  }

  private void rules(Markup out, CampaignSummary summary) {
    out.start("dl", "class", "pairs");
    pair(
        out,
        "Order",
        protocol.order() == Order.BLOCKS
            ? "permuted blocks: every condition once in each, in an order drawn for it"
            : "latin squares balanced for place and for what goes before");
    if (protocol.canalTrials() > 1) {
      pair(
          out,
          "Canals",
          protocol.canalTrials()
              + " trials of each condition share one drawn canal. The claims above count them as"
              + " repeats (Rao and Scott 1992; Korn and Graubard 1998); intervals elsewhere that take"
              + " every trial as independent are too narrow");
    }
    protocol
        .blinding()
        .ifPresent(
            b ->
                pair(
                    out,
                    "Blinding",
                    unblinded.isEmpty()
                        ? "the levels of " + b.factor() + " go by codes until the run is unblinded"
                        : "the levels of " + b.factor() + " were coded. " + unblinded));
    out.element("dt", "Stopping rule").start("dd");
    Recomputation.prose(out, stopping(summary)).end();
    for (Claim claim : evidence.header().claims()) {
      String why = protocol.whys().get(claim.endpoint());
      Long size = protocol.sizes().get(claim.endpoint());
      if (why != null || size != null) {
        pair(
            out,
            "Claim " + claim.endpoint().key(),
            (why == null ? "" : why + " ")
                + (size == null ? "" : "Planned size: at least " + size + " trials."));
      }
    }
    out.end();
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
                          + ", each stricter";
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

  private void endpoints(Markup out) {
    if (protocol.primary().isEmpty()) {
      return;
    }
    table(out, "Endpoints" + label, "endpoint", "role", "definition", "result");
    endpoint(out, protocol.primary().get(), "primary");
    protocol.secondary().forEach(e -> endpoint(out, e, "secondary"));
    close(out);
    out.element(
        "p",
        "All claims must hold together, so none of them is made more easily for standing beside"
            + " others; what has no claim is description.");
  }

  private void endpoint(Markup out, Endpoint endpoint, String role) {
    row(out, endpoint.key(), role, endpoint.text(), result(endpoint));
  }

  private String result(Endpoint endpoint) {
    return switch (endpoint) {
      case STOP_ERROR -> {
        Moments errors =
            Moments.of(
                analysed.stream()
                    .filter(t -> t.expectation().stops() && t.stopped())
                    .mapToLong(TrialResult::stopErrorMicrons));
        yield "mean "
            + Numbers.signedMillimetres(errors.mean())
            + ", 95 % interval "
            + Numbers.millimetres(errors.meanInterval(0.95))
            + ", SD "
            + Numbers.millimetres(errors.standardDeviation());
      }
      case OVER_TRAVEL -> share(Expectation::stops, this::isOverTravel);
      case EARLY_STOP -> share(Expectation::stops, this::isEarly);
      case REFUSAL -> share(e -> e == Expectation.REFUSE, t -> t.verdict() == Verdict.PASS);
      case TIME -> {
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
    int tolerance = ReportPage.condition(evidence.header(), trial).toleranceMicrons();
    return trial.stopped() && trial.stopErrorMicrons() > tolerance;
  }

  private boolean isOverTravel(TrialResult trial) {
    return ReportPage.condition(evidence.header(), trial).isOverTravel(trial);
  }

  private String share(Predicate<Expectation> of, Predicate<TrialResult> counts) {
    List<TrialResult> all = analysed.stream().filter(t -> of.test(t.expectation())).toList();
    Proportion p = new Proportion(all.stream().filter(counts).count(), all.size());
    return p.count()
        + " of "
        + p.trials()
        + "; exact 95 % interval "
        + Numbers.percent(p.clopperPearson(0.95));
  }

  private void exclusions(Markup out) {
    table(
        out,
        "Exclusion rules, applied without a look at the outcome" + label,
        "rule",
        "text",
        "trials");
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
        row(out, rule.name(), rule.text(), Integer.toString(counts.getOrDefault(rule, 0)));
      }
    }
    close(out);
  }

  static void table(Markup out, String caption, String... heads) {
    out.start("div", "class", "scroll", "tabindex", "0", "role", "region", "aria-label", caption);
    out.start("table").element("caption", caption).start("thead").start("tr");
    for (String head : heads) {
      out.element("th", head, "scope", "col", "class", "left");
    }
    out.end().end().start("tbody");
  }

  static void row(Markup out, String... cells) {
    out.start("tr");
    out.element("th", cells[0], "scope", "row");
    for (int i = 1; i < cells.length; i++) {
      out.element("td", Words.tied(cells[i]), "class", "left");
    }
    out.end();
  }

  static void close(Markup out) {
    out.end().end().end();
  }

  private static void pair(Markup out, String name, String value) {
    out.element("dt", name).element("dd", Words.tied(value));
  }
}
