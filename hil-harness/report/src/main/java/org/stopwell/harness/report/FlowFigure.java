package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;

/** Where every planned trial went: planned → run → analysed → passed, and what fell away where. */
final class FlowFigure {
  /**
   * A step of the flow.
   *
   * @param count how many trials
   * @param name what they are
   * @param is what the count is, where the page can compute it again
   * @param leaves what leaves the flow here
   */
  record Step(int count, String name, @Nullable String is, List<Step> leaves) {
    private static Step leaf(int count, String name, @Nullable String is) {
      return new Step(count, name, is, List.of());
    }
  }

  private FlowFigure() {}

  static Optional<Content> of(Report report) {
    CampaignSummary summary = report.summary();
    List<ConditionSummary> all = summary.conditions();
    int passed = all.stream().mapToInt(ConditionSummary::passed).sum();
    int failed = all.stream().mapToInt(ConditionSummary::failed).sum();
    int undecided = all.stream().mapToInt(ConditionSummary::undecided).sum();
    List<Step> spoiled = new ArrayList<>();
    summary
        .rigFaults()
        .forEach((cause, count) -> spoiled.add(Step.leaf(count, "invalid: " + cause, null)));
    if (spoiled.isEmpty()) {
      spoiled.add(Step.leaf(0, "invalid", null));
    }
    spoiled.add(
        Step.leaf(
            summary.safetyStops(),
            summary.safetyStops() == 1 ? "safety stop" : "safety stops",
            "verdicts all S"));
    List<Step> steps =
        List.of(
            new Step(
                summary.planned(),
                "planned",
                "planned all",
                List.of(Step.leaf(summary.planned() - summary.run(), "not run", null))),
            new Step(summary.run(), "run", "run all", spoiled),
            new Step(
                summary.analysed(),
                "analysed",
                "analysed all",
                List.of(
                    Step.leaf(failed, "failed", "verdicts all F"),
                    Step.leaf(undecided, "undecided", "verdicts all U"))),
            Step.leaf(passed, "passed", "verdicts all P"));
    return Html.section(
        "flow-section",
        "Trials by result",
        Html.template(t -> JteflowGenerated.render(t, Html.NONE, steps)));
  }
}
