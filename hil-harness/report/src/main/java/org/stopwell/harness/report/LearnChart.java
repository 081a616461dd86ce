package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.harness.learn.LearnPoint;
import org.stopwell.harness.learn.LearnReading;

/** Pictures of the page of taught weights. */
final class LearnChart {
  private static final double HEIGHT = 400;
  private static final double BOTTOM = HEIGHT - 60;
  private static final double TOP = 32;

  /** What counts as a hit, mm: the share that the page states. */
  private static final double WITHIN_MM = 0.5;

  private LearnChart() {}

  /** Errors of readings against the measured distance. */
  static Figure depths(List<LearnReading> readings) {
    Axis x = new Axis(-0.5, 4, Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(-2, 2, BOTTOM, TOP);
    String title = "Error of the reading against the measured distance";
    Drawing d = new Drawing("depths", HEIGHT, title, Words.count(readings.size(), "reading") + ".");
    d.rect(
        "band", x.from(), y.at(WITHIN_MM), x.to() - x.from(), y.at(-WITHIN_MM) - y.at(WITHIN_MM));
    d.frame(x, y, "measured distance to the foramen, mm", "reading − measured distance, mm");
    StringBuilder marks = new StringBuilder();
    for (LearnReading r : readings) {
      marks.append(Drawing.dot(x.atClamped(r.truthMm()), y.atClamped(r.errorMm())));
    }
    d.line("aim", x.from(), y.at(0), x.to(), y.at(0));
    d.line("foramen", x.at(0), y.from(), x.at(0), y.to());
    d.path("dot" + (readings.size() > 200 ? " many" : ""), marks.toString());
    return new Figure(
        "Error against depth",
        List.of(d),
        List.of(
            new Legend.Entry("dot", Drawing.dot(12, 8), "one reading"),
            new Legend.Entry("band", "", "within 0.5 mm"),
            new Legend.Entry("foramen", "M12 1v14", "foramen")),
        "Figure 1",
        "Each tooth is read with weights taught without it. A positive error: the file is deeper"
            + " than the reading. Values beyond the frame are drawn at its edge.");
  }

  /** Share of stops within 0.5 mm over the number of teeth, which doubles from point to point. */
  static Figure teeth(List<LearnPoint> points, String caption) {
    double low = 100;
    for (LearnPoint p : points) {
      low = Math.min(low, 100 * p.share());
    }
    int most = points.get(points.size() - 1).teeth();
    Axis x = new Axis(0, Math.max(1, most), Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(Math.max(0, 10 * Math.floor(low / 10) - 10), 100, BOTTOM, TOP);
    String title = "Stops within 0.5 mm of the standoff by number of teeth";
    Drawing d =
        new Drawing("teeth", HEIGHT, title, Words.count(points.size(), "number") + " of teeth.");
    d.frame(x, y, "number of teeth taught", "stops within 0.5 mm, %");
    List<double[]> line = new ArrayList<>();
    StringBuilder dots = new StringBuilder();
    for (LearnPoint p : points) {
      double[] at = {x.at(p.teeth()), y.atClamped(100 * p.share())};
      line.add(at);
      dots.append(Drawing.dot(at[0], at[1]));
      d.label(
          "note", "middle", at[0], at[1] - 10, String.format(Locale.ROOT, "%.0f", 100 * p.share()));
    }
    d.path("truth", Drawing.through(line));
    d.path("dot", dots.toString());
    return new Figure("How many teeth are worth it?", List.of(d), List.of(), "Figure 2", caption);
  }
}
