package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;

/** Where the file must rest at a depth limit: overrun, the limits never reached, and the torque. */
final class DepthSection {
  private DepthSection() {}

  static Optional<Content> of(Report report) {
    List<ConditionSummary> conditions =
        report.summary().conditions().stream()
            .filter(c -> c.condition().expectation() == Expectation.DEPTH_LIMIT)
            .toList();
    if (conditions.isEmpty()) {
      return Optional.empty();
    }
    Table table =
        new Table(
                "Depth limit"
                    + report.label()
                    + ". Past the limit: by more than the tolerance at any moment, of the driven"
                    + " trials, with a one-sided 95 % bound.")
            .columns(Table.LEFT, "Condition")
            .columns(
                Table.NUMBER,
                "Past the limit",
                "Greatest overrun",
                "Never reached",
                "Greatest torque",
                "Torque reactions");
    conditions.forEach(c -> row(table, report, c));
    return Html.section(
        "depth-section",
        "Depth limit and torque",
        Html.paragraph(
            "In these conditions the depth axis stops the file, not a reading. In a canal filled to the"
                + " orifice no reading is valid, so the apical reaction of the stage is off by intent"
                + " (apical: none). The depth limit is a chosen depth, or a length that was measured before, less a set distance."),
        Html.table(table));
  }

  private static void row(Table table, Report report, ConditionSummary c) {
    List<TrialResult> own =
        report.trials().stream()
            .filter(t -> t.condition().equals(c.condition().name()))
            .filter(t -> ConditionSummary.isAnalysed(t.verdict()))
            .toList();
    boolean hidden = report.coded() || own.isEmpty();
    table.row(
        c.condition().name(),
        Headline.counted(c.overrun())
            + ", at most "
            + Numbers.upperPercent(c.overrun().upperBound(0.95)),
        Numbers.plainMillimetres(
            own.stream().mapToInt(t -> Math.max(0, t.depth().overrunMicrons())).max().orElse(0)),
        Long.toString(own.stream().filter(t -> isShort(c, t)).count()),
        hidden
            ? "–"
            : Words.decimals(
                    2,
                    own.stream().mapToInt(t -> t.depth().torqueMicroNewtonMetres()).max().orElse(0)
                        / 1e4)
                + " N·cm",
        hidden
            ? "–"
            : Integer.toString(own.stream().mapToInt(t -> t.depth().torqueReactions()).sum()));
  }

  private static boolean isShort(ConditionSummary c, TrialResult trial) {
    return trial.depth().overrunMicrons() < -c.condition().toleranceMicrons();
  }
}
