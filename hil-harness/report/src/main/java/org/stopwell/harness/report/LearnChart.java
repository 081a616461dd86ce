package org.stopwell.harness.report;

import java.math.BigDecimal;
import java.util.List;
import java.util.Locale;
import org.stopwell.harness.learn.LearnResult;

/** Pictures of the page of taught weights. */
final class LearnChart {
  private static final double WIDTH = 620;
  private static final double HEIGHT = 400;
  private static final double LEFT = 60;
  private static final double TOP = 44;
  private static final double BOTTOM = HEIGHT - 60;

  /** Colours that most eyes can tell apart: Okabe and Ito 2008. */
  private static final String STYLE =
      "svg{font:15px sans-serif;max-width:620px} .paper{fill:#fff} .grid{stroke:#ddd}"
          + " .zero{stroke:#000} .limit{stroke:#000;stroke-dasharray:6 4}"
          + " .mark{stroke:#0072b2;stroke-width:3;stroke-linecap:round;stroke-opacity:.35}"
          + " .curve{stroke:#0072b2;stroke-width:2.5;fill:none}"
          + " .point{stroke:#0072b2;stroke-width:9;stroke-linecap:round}";

  private LearnChart() {}

  /** Errors of readings against the measured distance. */
  static String depths(List<LearnResult.Reading> readings) {
    Axis x = new Axis(-0.5, 4, LEFT, WIDTH - 20);
    Axis y = new Axis(-2, 2, BOTTOM, TOP);
    String title = "Error of the reading against the measured distance, teeth left out";
    Drawing d = frame(title, x, y, "measured distance to the foramen, mm", "error, mm");
    StringBuilder marks = new StringBuilder();
    for (LearnResult.Reading r : readings) {
      marks.append(Drawing.dot(x.atClamped(r.truthMm()), y.atClamped(r.errorMm())));
    }
    d.line("zero", x.from(), y.at(0), x.to(), y.at(0));
    d.line("limit", x.from(), y.at(0.5), x.to(), y.at(0.5));
    d.line("limit", x.from(), y.at(-0.5), x.to(), y.at(-0.5));
    d.path("mark", marks.toString());
    return d.close().svg();
  }

  /** Share of stops within 0.5 mm over the number of teeth, which doubles from point to point. */
  static String teeth(List<LearnResult.Point> points) {
    double low = 100;
    for (LearnResult.Point p : points) {
      low = Math.min(low, 100 * p.share());
    }
    int most = points.get(points.size() - 1).teeth();
    Axis x = new Axis(0, Math.max(1, most), LEFT, WIDTH - 20);
    Axis y = new Axis(Math.max(0, 10 * Math.floor(low / 10) - 10), 100, BOTTOM, TOP);
    String title = "Stops within 0.5 mm of the standoff, teeth left out";
    Drawing d = frame(title, x, y, "number of teeth taught", "%");
    StringBuilder path = new StringBuilder();
    StringBuilder dots = new StringBuilder();
    for (LearnResult.Point p : points) {
      double px = x.at(p.teeth());
      double py = y.atClamped(100 * p.share());
      path.append(path.isEmpty() ? "M" : "L").append(Axis.px(px)).append(' ').append(Axis.px(py));
      dots.append(Drawing.dot(px, py));
      d.label("tick", "middle", px, py - 10, String.format(Locale.ROOT, "%.0f", 100 * p.share()));
    }
    d.path("curve", path.toString());
    d.path("point", dots.toString());
    return d.close().svg();
  }

  private static Drawing frame(String title, Axis x, Axis y, String xName, String yName) {
    Drawing d = Drawing.file(WIDTH, HEIGHT, title, title, STYLE);
    d.label("title", "start", x.from(), 20, title);
    for (BigDecimal tick : y.ticks(8)) {
      double at = y.at(tick.doubleValue());
      d.line("grid", x.from(), at, x.to(), at);
      d.label("tick", "end", x.from() - 8, at + 5, Drawing.number(tick, false));
    }
    for (BigDecimal tick : x.ticks(9)) {
      d.label(
          "tick", "middle", x.at(tick.doubleValue()), y.from() + 20, Drawing.number(tick, false));
    }
    d.label("name", "middle", (x.from() + x.to()) / 2, y.from() + 44, xName);
    d.label("name", "start", 6, TOP - 8, yName);
    return d;
  }
}
