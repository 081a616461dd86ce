package org.stopwell.house;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.openjdk.jmh.results.RunResult;

/** Cost against nodes, frequencies and trials, each with the straight line through its ends. */
final class CostPicture {
  private static final double PANEL = 230;
  private static final double HEIGHT = 260;
  private static final double LEFT = 52;
  private static final double TOP = 46;
  private static final double BOTTOM = 206;
  private static final double WIDE = 160;

  private record Point(double x, double y) {}

  private final StringBuilder out = new StringBuilder();

  private CostPicture() {}

  /** The picture, or nothing when a benchmark that it needs has not been run. */
  static String of(Collection<RunResult> results) {
    List<Point> nodes = points(results, "SolverBenchmark.ladderInASweep", "density");
    List<Point> frequencies = points(results, "SweepBenchmark.sweep", "frequencies");
    List<Point> trials = points(results, "TrialsBenchmark.inARow", "trials");
    if (nodes.size() < 2 || frequencies.size() < 2 || trials.size() < 2) {
      return "";
    }
    return new CostPicture().draw(nodes, frequencies, trials);
  }

  private static List<Point> points(Collection<RunResult> results, String benchmark, String x) {
    List<Point> points = new ArrayList<>();
    for (RunResult result : results) {
      if (result.getParams().getBenchmark().endsWith(benchmark)) {
        points.add(
            new Point(
                Double.parseDouble(result.getParams().getParam(x)),
                result.getPrimaryResult().getScore()));
      }
    }
    points.sort(Comparator.comparingDouble(Point::x));
    return points;
  }

  private String draw(List<Point> nodes, List<Point> frequencies, List<Point> trials) {
    add(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %.0f %.0f\" role=\"img\""
            + " font-family=\"sans-serif\" font-size=\"12\">%n"
            + "<title>Cost grows in proportion to nodes, frequencies and trials (measured)</title>%n"
            + "<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>%n",
        3 * PANEL, HEIGHT);
    panel(0, "one frequency, ns", "nodes, as a multiple", nodes);
    panel(1, "one canal, µs", "frequencies", frequencies);
    panel(2, "trials in a row, ms", "trials", trials);
    return out.append("</svg>\n").toString();
  }

  private void panel(int index, String title, String axis, List<Point> points) {
    Point last = points.get(points.size() - 1);
    double most = points.stream().mapToDouble(Point::y).max().orElseThrow() * 1.1;
    double x0 = index * PANEL + LEFT;
    text(x0 + WIDE / 2, 24, "middle", title);
    text(x0 + WIDE / 2, HEIGHT - 12, "middle", axis);
    add(
        "<path d=\"M%.1f %.1fV%.1fH%.1f\" fill=\"none\" stroke=\"#444\"/>%n",
        x0, TOP, BOTTOM, x0 + WIDE);
    Point first = points.get(0);
    double slope = (last.y - first.y) / (last.x - first.x);
    double start = first.y - slope * first.x;
    add(
        "<path d=\"M%.1f %.1fL%.1f %.1f\" stroke=\"#0072b2\" stroke-dasharray=\"5 3\"/>%n",
        x0, y(start, most), x(x0, last.x, last.x), y(last.y, most));
    text(x0 - 6, y(last.y, most) + 4, "end", number(last.y));
    text(x0 - 6, BOTTOM + 4, "end", "0");
    double labelled = Double.NEGATIVE_INFINITY;
    for (Point p : points) {
      double at = x(x0, p.x, last.x);
      add("<circle cx=\"%.1f\" cy=\"%.1f\" r=\"4\" fill=\"#d55e00\"/>%n", at, y(p.y, most));
      if (at - labelled > 32) {
        text(at, BOTTOM + 18, "middle", number(p.x));
        labelled = at;
      }
    }
  }

  private static double x(double x0, double value, double most) {
    return x0 + value / most * (WIDE - 10);
  }

  private static double y(double value, double most) {
    return BOTTOM - value / most * (BOTTOM - TOP);
  }

  private static String number(double value) {
    return value >= 100 || value == Math.rint(value)
        ? String.format(Locale.ROOT, "%.0f", value)
        : String.format(Locale.ROOT, "%.1f", value);
  }

  private void text(double x, double y, String anchor, String text) {
    add("<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>%n", x, y, anchor, text);
  }

  private void add(String format, Object... values) {
    out.append(String.format(Locale.ROOT, format, values));
  }
}
