package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToIntFunction;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.TrialResult;

/** Where stop errors come from: six shares as steps of one stair, from the standoff to rest. */
final class ChainChart {
  private static final Map<String, ToIntFunction<ErrorChain>> SHARES = new LinkedHashMap<>();

  static {
    SHARES.put("sense", ErrorChain::senseMicrons);
    SHARES.put("filter", ErrorChain::filterMicrons);
    SHARES.put("decide", ErrorChain::decideMicrons);
    SHARES.put("link", ErrorChain::linkMicrons);
    SHARES.put("actuate", ErrorChain::actuateMicrons);
    SHARES.put("coast", ErrorChain::coastMicrons);
  }

  private static final double TOP = 8;
  private static final double ROW = 30;

  /** Where the stair begins; the names stand to the left of it, the numbers to the right. */
  private static final double FROM = Drawing.LEFT;

  private static final double TO = Drawing.WIDTH - 136;

  private final String id;
  private final String title;
  private final List<Double> shares;

  private ChainChart(String id, String title, List<Double> shares) {
    this.id = id;
    this.title = title;
    this.shares = shares;
  }

  /** The stair of one trial. */
  static ChainChart of(String id, TrialResult trial) {
    List<Double> shares = new ArrayList<>();
    SHARES.values().forEach(share -> shares.add((double) share.applyAsInt(trial.chain())));
    return new ChainChart(
        id, "Error chain of trial " + (trial.index() + 1) + ", " + trial.condition(), shares);
  }

  /** Whether the error of a trial is split. */
  static boolean isSplit(TrialResult trial) {
    return trial.stopped()
        && ConditionSummary.isAnalysed(trial.verdict())
        && !trial.chain().equals(ErrorChain.NONE);
  }

  /** The section on the whole campaign: the mean stair, and a table of the shares. */
  static Optional<Content> section(Report report) {
    List<TrialResult> split = report.trials().stream().filter(ChainChart::isSplit).toList();
    if (split.isEmpty()) {
      return Optional.empty();
    }
    List<Double> means = new ArrayList<>();
    SHARES.values().forEach(s -> means.add(moments(split, s).mean().orElseThrow()));
    ChainChart chart =
        new ChainChart("chain", "Mean error chain of " + Words.count(split.size(), "stop"), means);
    return Html.section(
        "chain-section",
        "Where the error comes from",
        Html.figure(
            new Figure(
                "",
                List.of(chart.draw(report.label())),
                List.of(),
                report.nextFigure(),
                "The mean stop error as six shares that add up to it exactly. Shares above 0 (blue)"
                    + " make the stop early, shares below 0 (orange) late. Sense: truth minus the"
                    + " unfiltered reading. Filter: change by filtering. Decide: the lead that the"
                    + " controller takes. Link: motion while the sample was on its way. Actuate:"
                    + " motion until the motor has lost a tenth of its speed. Coast: motion from then"
                    + " to rest, that of the hand included.")),
        Html.table(table(report, split)));
  }

  private static Table table(Report report, List<TrialResult> split) {
    Table table =
        new Table(
                "Table of the error chain",
                "Shares per condition"
                    + report.label()
                    + ", µm: mean, and standard deviation below.")
            .columns(Table.LEFT, "Condition")
            .columns(Table.NUMBER, SHARES.keySet().toArray(String[]::new))
            .columns(Table.NUMBER, "stop error");
    report
        .header()
        .conditions()
        .forEach(
            condition -> {
              List<TrialResult> own =
                  split.stream().filter(t -> t.condition().equals(condition.name())).toList();
              if (!own.isEmpty()) {
                List<Table.Cell> cells = new ArrayList<>();
                cells.add(Table.Cell.of(condition.name()));
                SHARES.values().forEach(share -> cells.add(cell(moments(own, share))));
                cells.add(cell(moments(own, ErrorChain::totalMicrons)));
                table.row(cells);
              }
            });
    return table;
  }

  private static Table.Cell cell(Moments m) {
    return Table.Cell.of(Numbers.signedMicrons(m.mean()), Numbers.microns(m.standardDeviation()));
  }

  private static Moments moments(List<TrialResult> trials, ToIntFunction<ErrorChain> share) {
    return Moments.of(trials.stream().mapToLong(t -> share.applyAsInt(t.chain())));
  }

  Drawing draw(String label) {
    double low = 0;
    double high = 0;
    double sum = 0;
    for (double share : shares) {
      sum += share;
      low = Math.min(low, sum);
      high = Math.max(high, sum);
    }
    double pad = Math.max(5, 0.04 * (high - low));
    Axis x = new Axis((low - pad) / 1000, (high + pad) / 1000, FROM, TO);
    double bottom = TOP + (SHARES.size() + 1) * ROW + 4;
    Drawing d = new Drawing(id, bottom + 56, title + label, describe(sum));
    double begin = 0;
    int row = 0;
    for (String name : SHARES.keySet()) {
      double share = shares.get(row);
      step(d, x, row, name, begin, begin + share, share >= 0 ? "early" : "late");
      begin += share;
      row++;
      double at = x.at(begin / 1000);
      d.line("axis", at, TOP + row * ROW - 6, at, TOP + row * ROW + 6);
    }
    step(d, x, row, "error", 0, sum, "whole");
    d.line("aim", x.at(0), TOP, x.at(0), bottom);
    d.lateToEarly(x, 6, bottom, "mm from the standoff");
    return d;
  }

  private void step(Drawing d, Axis x, int row, String name, double from, double to, String style) {
    double top = TOP + row * ROW + 6;
    double left = x.at(Math.min(from, to) / 1000);
    double right = x.at(Math.max(from, to) / 1000);
    d.rect(style, left, top, Math.max(1, right - left), ROW - 12);
    d.label("tick", "end", FROM - 10, top + ROW / 2 - 2, name);
    d.label("tick", "end", Drawing.WIDTH - 4, top + ROW / 2 - 2, written(to - from));
  }

  /** The shares of one trial are whole; of means, each is written to a tenth. */
  private String written(double microns) {
    return shares.stream().allMatch(s -> s == Math.rint(s))
        ? Numbers.signedMicrons(microns)
        : Numbers.signedMicrons(OptionalDouble.of(microns));
  }

  private String describe(double sum) {
    StringBuilder text = new StringBuilder();
    int i = 0;
    for (String name : SHARES.keySet()) {
      text.append(name).append(' ').append(written(shares.get(i++))).append(", ");
    }
    return text.append("together ").append(written(sum)).append('.').toString();
  }
}
