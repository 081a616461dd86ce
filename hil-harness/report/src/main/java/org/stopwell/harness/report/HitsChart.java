package org.stopwell.harness.report;

import java.util.List;
import java.util.function.Function;
import org.stopwell.harness.assess.AssessmentResult.Hits;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;

/** Share of hits and of over-travel of each estimator, condition and family, with intervals. */
final class HitsChart {
  private static final double TOP = 8;
  private static final double HEAD = 30;
  private static final double ROW = 26;
  private static final double NAMES = 190;

  /** Confidence of the exact intervals, as in the tables. */
  private static final double CONFIDENCE = 0.95;

  private static final Axis X = new Axis(0, 100, NAMES, Drawing.RIGHT - 90);

  private HitsChart() {}

  static Figure of(List<Hits> hits, String number) {
    long groups = hits.stream().map(Hits::tried).distinct().count();
    double bottom = TOP + groups * HEAD + hits.size() * ROW + 6;
    Drawing d =
        new Drawing(
            "hits",
            bottom + 56,
            "Stops within 0.5 mm and trials past the foramen (simulated)",
            "The numbers stand in the tables below.");
    double y = TOP;
    String tried = "";
    for (Hits h : hits) {
      if (!h.tried().equals(tried)) {
        tried = h.tried();
        d.label("head", "start", 8, y + 20, tried);
        y += HEAD;
      }
      d.label("tick", "end", NAMES - 12, y + 14, h.family());
      d.line("grid", X.from(), y + 10, X.to(), y + 10);
      mark(d, y + 10, h.within(), "dot", at -> Drawing.dot(at[0], at[1]));
      mark(d, y + 10, h.past(), "deep", at -> Drawing.triangle(at[0], at[1], 5, true));
      d.label("tick", "end", Drawing.RIGHT, y + 14, Numbers.percent(h.within().estimate()));
      y += ROW;
    }
    d.line("axis", X.from(), bottom, X.to(), bottom);
    d.verticalTicks(X, X.ticks(5), bottom, false);
    d.label("name", "middle", (X.from() + X.to()) / 2, bottom + 46, "share of the trials, %");
    return new Figure(
        "Hits and over-travel",
        List.of(d),
        List.of(
            new Legend.Entry("dot", Drawing.dot(12, 8), "at rest within 0.5 mm, of stopped"),
            new Legend.Entry(
                "deep", Drawing.triangle(12, 8, 5, true), "past the foramen, of driven"),
            new Legend.Entry("limit", "M2 8h20", "exact 95 % interval")),
        number,
        "The number at the right is the share at rest within 0.5 mm.");
  }

  private static void mark(
      Drawing d, double y, Proportion share, String style, Function<double[], String> shape) {
    share
        .clopperPearson(CONFIDENCE)
        .ifPresent(
            i -> {
              d.line("limit", X.at(100 * i.low()), y, X.at(100 * i.high()), y);
              double at = X.at(100 * share.estimate().orElseThrow());
              d.path(style, shape.apply(new double[] {at, y}));
            });
  }
}
