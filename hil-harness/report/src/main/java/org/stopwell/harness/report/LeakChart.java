package org.stopwell.harness.report;

import java.math.BigDecimal;
import java.util.List;
import org.stopwell.harness.assess.AssessmentResult.Stop;

/** Error and stated bound of the stops against the leak. */
final class LeakChart {
  /** More trials than this make a drawing heavy and no clearer: one in so many is drawn. */
  static final int MOST_DRAWN = 2000;

  private static final double WIDTH = 490;
  private static final double HEIGHT = 440;
  private static final double TOP = 56;
  private static final Axis X = new Axis(0, 1000, 46, WIDTH - 24);
  private static final Axis Y = new Axis(0, 1.2, HEIGHT - 92, TOP);

  /** Colours that most eyes can tell apart: Okabe and Ito 2008. */
  private static final String STYLE =
      "svg{font:15px sans-serif} .paper{fill:#fff} .grid{stroke:#ddd}"
          + " .limit{stroke:#000;stroke-dasharray:6 4} .mark{stroke-width:4;stroke-linecap:round;"
          + "stroke-opacity:.6} .error{stroke:#0072b2} .spread{stroke:#d55e00}"
          + " .refused{stroke:#009e73} .key{stroke-width:10;stroke-opacity:1}";

  private LeakChart() {}

  /** The drawing as a file of its own, with the limits of trust. */
  static String of(List<Stop> stops, double sureMm, double refuseMm) {
    int every = Math.max(1, (stops.size() + MOST_DRAWN - 1) / MOST_DRAWN);
    String drawn = every == 1 ? "all trials" : "one in " + every + " trials";
    String title = "Error of the stop against the leak (simulated)";
    StringBuilder error = new StringBuilder();
    StringBuilder spread = new StringBuilder();
    StringBuilder refused = new StringBuilder();
    for (int i = 0; i < stops.size(); i += every) {
      Stop stop = stops.get(i);
      if (stop.stopped()) {
        error.append(dot(stop, Math.abs(stop.errorMicrons()) * 1e-3));
        spread.append(dot(stop, stop.boundMicrons() * 1e-3));
      } else {
        refused.append(dot(stop, Y.high()));
      }
    }
    Drawing d =
        Drawing.file(
            WIDTH,
            HEIGHT,
            title,
            stops.size()
                + " trials, "
                + drawn
                + " drawn: error at rest and stated bound at the decision, mm.",
            STYLE);
    d.label("title", "start", X.from(), 20, title);
    d.label("title", "start", X.from(), 42, "approach, family tooth, " + drawn + "; mm");
    for (BigDecimal tick : Y.ticks(6)) {
      double at = Y.at(tick.doubleValue());
      d.line("grid", X.from(), at, X.to(), at);
      d.label("tick", "end", X.from() - 8, at + 5, tick.toPlainString());
    }
    for (BigDecimal tick : X.ticks(5)) {
      d.label("tick", "middle", X.at(tick.doubleValue()), Y.from() + 20, tick.toPlainString());
    }
    d.label(
        "name",
        "middle",
        (X.from() + X.to()) / 2,
        Y.from() + 44,
        "conductance around the canal, µS");
    d.path("mark error", error.toString());
    d.path("mark spread", spread.toString());
    d.path("mark refused", refused.toString());
    limit(d, sureMm, "SURE below");
    limit(d, refuseMm, "refused above");
    legend(d, 0, "error", "error");
    legend(d, 110, "spread", "stated 95 % bound");
    legend(d, 280, "refused", "refused");
    return d.close().svg();
  }

  private static String dot(Stop stop, double mm) {
    return Drawing.dot(X.atClamped(stop.leakMicroSiemens()), Y.atClamped(mm));
  }

  private static void limit(Drawing d, double mm, String words) {
    double at = Y.atClamped(mm);
    d.line("limit", X.from(), at, X.to(), at);
    d.label("limit-name", "end", X.to(), at - 5, words);
  }

  private static void legend(Drawing d, double from, String style, String words) {
    double x = X.from() + from;
    d.path("mark key " + style, Drawing.dot(x + 6, HEIGHT - 19));
    d.label("name", "start", x + 18, HEIGHT - 14, words);
  }
}
