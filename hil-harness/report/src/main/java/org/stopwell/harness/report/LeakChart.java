package org.stopwell.harness.report;

import java.util.List;
import org.stopwell.harness.assess.AssessmentResult.Stop;

/** Error and stated bound of the stops against the leak. */
final class LeakChart {
  /** More trials than this make a drawing heavy and no clearer: one in so many is drawn. */
  static final int MOST_DRAWN = 2000;

  private static final double HEIGHT = 420;
  private static final Axis X = new Axis(0, 1000, Drawing.LEFT, Drawing.RIGHT - 16);
  private static final Axis Y = new Axis(0, 1.2, HEIGHT - 60, 32);
  private static final String TITLE = "Error of the stop against the leak";

  private LeakChart() {}

  /** The figure, with the limits of trust. */
  static Figure of(List<Stop> stops, double sureMm, double refuseMm, String number) {
    int every = Math.max(1, (stops.size() + MOST_DRAWN - 1) / MOST_DRAWN);
    String drawn = every == 1 ? "all trials" : "one in " + every + " trials";
    StringBuilder errors = new StringBuilder();
    StringBuilder bounds = new StringBuilder();
    StringBuilder refused = new StringBuilder();
    for (int i = 0; i < stops.size(); i += every) {
      Stop stop = stops.get(i);
      double x = X.atClamped(stop.leakMicroSiemens());
      if (stop.stopped()) {
        errors.append(Drawing.dot(x, Y.atClamped(Math.abs(stop.errorMicrons()) * 1e-3)));
        bounds.append(Drawing.diamond(x, Y.atClamped(stop.boundMicrons() * 1e-3), 3));
      } else {
        refused.append(Drawing.square(x, Y.to(), 3));
      }
    }
    Drawing d =
        new Drawing(
            "leak",
            HEIGHT,
            TITLE + " (simulated)",
            Words.count(stops.size(), "trial")
                + ", "
                + drawn
                + " drawn: error at rest and stated bound at the decision, mm.");
    d.frame(X, Y, "conductance around the canal, µS", "error and bound, mm");
    d.path("dot" + (stops.size() > 200 ? " many" : ""), errors.toString());
    d.path("miss", bounds.toString());
    d.path("rig", refused.toString());
    limit(d, sureMm, "SURE below");
    limit(d, refuseMm, "refused above");
    return new Figure(
        TITLE,
        List.of(d),
        List.of(
            new Legend.Entry("dot", Drawing.dot(12, 8), "error of the stop"),
            new Legend.Entry(
                "miss", Drawing.diamond(12, 8, 5), "stated 95 % bound of the same stop"),
            new Legend.Entry("rig", Drawing.square(12, 8, 4), "refused, drawn at the upper edge"),
            new Legend.Entry("bound", "M1 8h22", "limit of trust")),
        number,
        "Policy approach, family tooth, "
            + drawn
            + ". Values beyond the frame are drawn at its edge.");
  }

  private static void limit(Drawing d, double mm, String words) {
    double at = Y.atClamped(mm);
    d.line("bound", X.from(), at, X.to(), at);
    d.label("note", "end", X.to(), at - 5, words);
  }
}
