package org.stopwell.harness.report;

import java.util.List;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.claim.TrustSummary;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/** Every stop of every condition against the tolerance and the stated bound. */
final class TrustChart {
  private static final double TOP = 6;
  private static final double HEAD = 22;
  private static final double STOPS = 46;
  private static final double ROW = HEAD + STOPS + 10;

  /** Stops beyond so many tolerances are drawn at the edge, or the band would shrink to a line. */
  private static final int REACH = 4;

  private final List<ConditionSummary> conditions;
  private final List<TrialResult> analysed;
  private final Axis x;

  TrustChart(List<ConditionSummary> conditions, List<TrialResult> analysed) {
    this.conditions = conditions;
    this.analysed = analysed;
    int tolerance =
        conditions.stream().mapToInt(c -> c.condition().toleranceMicrons()).max().orElse(500);
    double reach = REACH * tolerance / 1000.0;
    this.x = new Axis(-reach, reach, 8, Drawing.RIGHT - 16);
  }

  Drawing draw(String label) {
    double bottom = TOP + conditions.size() * ROW;
    Drawing d =
        new Drawing(
            "trust",
            bottom + 56,
            "Stop errors and stated bounds by condition" + label,
            "The numbers stand in the table below.");
    for (int i = 0; i < conditions.size(); i++) {
      row(d, conditions.get(i), TOP + i * ROW);
    }
    d.lateToEarly(x, 9, bottom, "stop error, mm");
    return d;
  }

  private void row(Drawing d, ConditionSummary c, double top) {
    Condition condition = c.condition();
    List<TrialResult> own =
        analysed.stream().filter(t -> t.condition().equals(condition.name())).toList();
    TrustSummary trust = TrustSummary.of(condition, own);
    double from = top + HEAD;
    double tolerance = condition.toleranceMicrons() / 1000.0;
    d.rect("band", x.at(-tolerance), from, x.at(tolerance) - x.at(-tolerance), STOPS);
    trust
        .medianBoundMicrons()
        .ifPresent(
            bound -> {
              double left = x.atClamped(-bound / 1000);
              d.rect("stated", left, from + 2, x.atClamped(bound / 1000) - left, STOPS - 4);
            });
    d.line("aim", x.at(0), from, x.at(0), from + STOPS);
    double foramen = x.atClamped(-condition.standoffMicrons() / 1000.0);
    d.line("foramen", foramen, from, foramen, from + STOPS);
    StringBuilder within = new StringBuilder();
    StringBuilder outside = new StringBuilder();
    StringBuilder past = new StringBuilder();
    for (int i = 0; i < own.size(); i++) {
      TrialResult trial = own.get(i);
      if (trial.stopped()) {
        double px = x.atClamped(trial.stopErrorMicrons() / 1000.0);
        double py = from + 4 + (STOPS - 8) * (i + 0.5) / own.size();
        if (condition.isOverTravel(trial)) {
          past.append(Drawing.triangle(px, py, 4, true));
        } else if (TrustSummary.isWrong(condition, trial)) {
          outside.append(Drawing.diamond(px, py, 4));
        } else {
          within.append(Drawing.dot(px, py));
        }
      }
    }
    d.path("dot", within.toString());
    d.path("miss", outside.toString());
    d.path("deep", past.toString());
    d.label("head", "start", x.from(), top + 16, condition.name());
    d.label("tick", "end", x.to(), top + 16, words(trust));
  }

  /** Short, so that it fits beside the name in the large type of a telephone. */
  private static String words(TrustSummary trust) {
    return trust.stopped().count()
        + " of "
        + trust.stopped().trials()
        + " stopped"
        + (trust.medianBoundMicrons().isEmpty()
            ? ""
            : "; bound ±"
                + Words.decimals(2, trust.medianBoundMicrons().getAsDouble() / 1000)
                + " mm");
  }

  /** Share called sure against the share of it that is wrong, for every limit of the bound. */
  static Drawing curve(List<TrustSummary.Point> points, int toleranceMicrons, String label) {
    double height = 220;
    Axis share = new Axis(0, 100, Drawing.LEFT, Drawing.RIGHT - 16);
    double most =
        points.stream().mapToDouble(p -> 100 * p.wrong().estimate().orElse(0)).max().orElse(0);
    Axis wrong = new Axis(0, Math.max(10, most * 1.1), 14 + height, 14);
    Drawing d =
        new Drawing(
            "sure-curve",
            height + 70,
            "Share called sure against the share of it that is wrong" + label,
            Words.count(points.size(), "limit") + " of the stated bound, one point each.");
    d.horizontalTicks(wrong, wrong.ticks(5), share.to(), false);
    StringBuilder line = new StringBuilder();
    for (TrustSummary.Point p : points) {
      line.append(line.length() == 0 ? 'M' : 'L')
          .append(Axis.px(share.at(100 * p.sure().estimate().orElse(0))))
          .append(' ')
          .append(Axis.px(wrong.at(100 * p.wrong().estimate().orElse(0))));
    }
    d.path("plain", line.toString());
    points.stream()
        .filter(p -> p.boundMicrons() <= toleranceMicrons)
        .reduce((first, last) -> last)
        .ifPresent(
            p ->
                d.path(
                    "miss",
                    Drawing.diamond(
                        share.at(100 * p.sure().estimate().orElse(0)),
                        wrong.at(100 * p.wrong().estimate().orElse(0)),
                        5)));
    d.line("axis", share.from(), 14 + height, share.to(), 14 + height);
    d.verticalTicks(share, share.ticks(6), 14 + height, false);
    d.label("name", "start", 0, height + 60, "↑ sure and wrong, %");
    d.label("name", "end", share.to(), height + 60, "called sure, % of the stops");
    return d;
  }
}
