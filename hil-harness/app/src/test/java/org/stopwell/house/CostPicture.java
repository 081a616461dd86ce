package org.stopwell.house;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.openjdk.jmh.results.RunResult;
import org.stopwell.harness.report.Drawing;

/** Cost against nodes, frequencies and trials, each with the straight line through its ends. */
final class CostPicture {
  private static final double PANEL = 230;
  private static final double HEIGHT = 260;
  private static final double LEFT = 52;
  private static final double TOP = 46;
  private static final double BOTTOM = 206;
  private static final double WIDE = 160;

  private record Point(double x, double y) {}

  private CostPicture() {}

  /** The picture, or nothing when a benchmark that it needs has not been run. */
  static String of(Collection<RunResult> results) {
    List<Point> nodes = points(results, "SolverBenchmark.ladderInASweep", "density");
    List<Point> frequencies = points(results, "SweepBenchmark.sweep", "frequencies");
    List<Point> trials = points(results, "TrialsBenchmark.inARow", "trials");
    if (nodes.size() < 2 || frequencies.size() < 2 || trials.size() < 2) {
      return "";
    }
    return draw(nodes, frequencies, trials);
  }

  /** The exponent of time over the number of trials: slope of the logarithms, least squares. */
  static OptionalDouble growth(Collection<RunResult> results) {
    List<Point> trials = points(results, "TrialsBenchmark.inARow", "trials");
    if (trials.size() < 2) {
      return OptionalDouble.empty();
    }
    double x = trials.stream().mapToDouble(p -> Math.log(p.x)).average().orElseThrow();
    double y = trials.stream().mapToDouble(p -> Math.log(p.y)).average().orElseThrow();
    double xx = 0;
    double xy = 0;
    for (Point p : trials) {
      xx += (Math.log(p.x) - x) * (Math.log(p.x) - x);
      xy += (Math.log(p.x) - x) * (Math.log(p.y) - y);
    }
    return OptionalDouble.of(xy / xx);
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

  private static String draw(List<Point> nodes, List<Point> frequencies, List<Point> trials) {
    Drawing d =
        new Drawing(
            "cost",
            3 * PANEL,
            HEIGHT,
            "Cost grows in proportion to nodes, frequencies and trials (measured)",
            "Three panels, each with its measured points and the straight line through its ends.");
    panel(d, 0, "one frequency, ns", "nodes, as a multiple", nodes);
    panel(d, 1, "one canal, µs", "frequencies", frequencies);
    panel(d, 2, "trials in a row, ms", "trials", trials);
    return d.file();
  }

  private static void panel(Drawing d, int index, String title, String axis, List<Point> points) {
    Point last = points.get(points.size() - 1);
    double most = points.stream().mapToDouble(Point::y).max().orElseThrow() * 1.1;
    double x0 = index * PANEL + LEFT;
    d.label("head", "middle", x0 + WIDE / 2, 24, title);
    d.label("name", "middle", x0 + WIDE / 2, HEIGHT - 12, axis);
    d.line("axis", x0, TOP, x0, BOTTOM);
    d.line("axis", x0, BOTTOM, x0 + WIDE, BOTTOM);
    Point first = points.get(0);
    double slope = (last.y - first.y) / (last.x - first.x);
    double start = first.y - slope * first.x;
    d.line("bound", x0, y(start, most), x(x0, last.x, last.x), y(last.y, most));
    d.label("tick", "end", x0 - 6, y(last.y, most) + 4, number(last.y));
    d.label("tick", "end", x0 - 6, BOTTOM + 4, "0");
    StringBuilder dots = new StringBuilder();
    double labelled = Double.NEGATIVE_INFINITY;
    for (Point p : points) {
      double at = x(x0, p.x, last.x);
      dots.append(Drawing.dot(at, y(p.y, most)));
      if (at - labelled > 32) {
        d.label("tick", "middle", at, BOTTOM + 18, number(p.x));
        labelled = at;
      }
    }
    d.path("dot", dots.toString());
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
}
