package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.TrialResult;

/** How the stop errors of each condition are spread: one histogram under the other, one scale. */
final class DistributionChart {
  private static final double TOP = 10;
  private static final double ROW = 84;
  private static final double BARS = 44;

  private final List<ConditionSummary> rows;

  /** Names of the conditions that allow a stop and have none: an empty row would tell no more. */
  private final List<String> without = new ArrayList<>();

  private final List<TrialResult> trials;
  private final Axis x;
  private final int binMicrons;

  DistributionChart(List<ConditionSummary> conditions, List<TrialResult> trials) {
    this.trials = trials;
    this.rows = new ArrayList<>();
    for (ConditionSummary condition : conditions) {
      if (!condition.expectsStop() && !condition.mayRefuse()) {
        continue;
      }
      if (condition.stopErrors().count() > 0) {
        rows.add(condition);
      } else {
        without.add(condition.condition().name());
      }
    }
    int tolerance = rows.stream().mapToInt(r -> r.condition().toleranceMicrons()).max().orElse(500);
    double low = -1.15 * tolerance;
    double high = 1.15 * tolerance;
    for (TrialResult trial : trials) {
      if (trial.stopped() && ConditionSummary.isAnalysed(trial.verdict())) {
        low = Math.min(low, Math.max(-3.0 * tolerance, trial.stopErrorMicrons() * 1.05));
        high = Math.max(high, Math.min(3.0 * tolerance, trial.stopErrorMicrons() * 1.05));
      }
    }
    this.x = new Axis(low / 1000, high / 1000, 8, Drawing.RIGHT - 16);
    this.binMicrons = binOf(high - low);
  }

  boolean isEmpty() {
    return rows.isEmpty();
  }

  /** How many stops lie beyond the frame. */
  long beyond() {
    return trials.stream()
        .filter(t -> t.stopped() && ConditionSummary.isAnalysed(t.verdict()))
        .filter(t -> t.stopErrorMicrons() != clamp(t.stopErrorMicrons()))
        .count();
  }

  /** Width of one bar, µm. */
  int binMicrons() {
    return binMicrons;
  }

  static Optional<Content> section(Report report) {
    DistributionChart chart = new DistributionChart(report.summary().conditions(), report.trials());
    if (chart.isEmpty()) {
      return Optional.empty();
    }
    long beyond = chart.beyond();
    return Html.section(
        "distribution-section",
        "Distribution of the stops",
        Html.figure(
            new Figure(
                "",
                List.of(chart.draw(report.label())),
                Legend.DISTRIBUTION,
                report.nextFigure(),
                "One row per condition, bars of "
                    + Numbers.plainMillimetres(chart.binMicrons())
                    + ", each row with its own scale."
                    + (chart.without.isEmpty()
                        ? ""
                        : " Without a stop: " + String.join(", ", chart.without) + ".")
                    + (beyond == 0
                        ? ""
                        : " The outermost bars hold "
                            + Words.count(beyond, "stop that lies", "stops that lie")
                            + " beyond the frame."))));
  }

  Drawing draw(String label) {
    double bottom = TOP + rows.size() * ROW;
    Drawing d =
        new Drawing("spread", bottom + 56, "Distribution of stop errors" + label, describe());
    for (int i = 0; i < rows.size(); i++) {
      row(d, rows.get(i), TOP + i * ROW);
    }
    d.lateToEarly(x, 7, bottom, "stop error, mm");
    return d;
  }

  private void row(Drawing d, ConditionSummary row, double top) {
    double baseline = top + ROW - 12;
    double tolerance = row.condition().toleranceMicrons() / 1000.0;
    d.rect("band", x.at(-tolerance), top + 4, x.at(tolerance) - x.at(-tolerance), ROW - 8);
    d.line("aim", x.at(0), top + 4, x.at(0), top + ROW - 4);
    d.label("head", "start", x.from(), top + 20, row.condition().name());
    d.label("tick", "end", x.to(), top + 20, Words.count(row.stopErrors().count(), "stop"));
    Map<Integer, Integer> bins = new TreeMap<>();
    for (TrialResult trial : trials) {
      if (trial.stopped()
          && trial.condition().equals(row.condition().name())
          && ConditionSummary.isAnalysed(trial.verdict())) {
        bins.merge(Math.floorDiv(clamp(trial.stopErrorMicrons()), binMicrons), 1, Integer::sum);
      }
    }
    int most = bins.values().stream().mapToInt(Integer::intValue).max().orElse(1);
    double width = x.at(binMicrons / 1000.0) - x.at(0);
    StringBuilder bars = new StringBuilder();
    bins.forEach(
        (bin, count) -> {
          double height = BARS * count / most;
          bars.append('M')
              .append(Axis.px(x.at(bin * (double) binMicrons / 1000) + 0.5))
              .append(' ')
              .append(Axis.px(baseline))
              .append('v')
              .append(Axis.px(-height))
              .append('h')
              .append(Axis.px(width - 1))
              .append('v')
              .append(Axis.px(height))
              .append('z');
        });
    d.path("bar", bars.toString());
    d.line("grid", x.from(), baseline, x.to(), baseline);
    mean(d, row.stopErrors(), baseline);
  }

  /** The mean as a mark, one standard deviation to both sides as a line. */
  private void mean(Drawing d, Moments errors, double baseline) {
    double mean = errors.mean().orElseThrow() / 1000;
    double s = errors.standardDeviation().orElse(0) / 1000;
    d.line("spread", x.atClamped(mean - s), baseline + 5, x.atClamped(mean + s), baseline + 5);
    d.path("mean", Drawing.triangle(x.atClamped(mean), baseline + 5, 5, false));
  }

  private int clamp(int micronsOff) {
    return (int)
        Math.max(Math.ceil(x.low() * 1000), Math.min(Math.ceil(x.high() * 1000) - 1, micronsOff));
  }

  private static int binOf(double spanMicrons) {
    List<Integer> round = new ArrayList<>(List.of(1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000));
    return round.stream().filter(b -> spanMicrons / b <= 72).findFirst().orElse(1000);
  }

  private String describe() {
    StringBuilder text = new StringBuilder("Histograms by condition.");
    for (ConditionSummary row : rows) {
      text.append(' ')
          .append(row.condition().name())
          .append(": ")
          .append(Words.count(row.stopErrors().count(), "stop"))
          .append(", mean ")
          .append(Numbers.signedMillimetres(row.stopErrors().mean()))
          .append(", standard deviation ")
          .append(Numbers.millimetres(row.stopErrors().standardDeviation()))
          .append('.');
    }
    return text.toString();
  }
}
