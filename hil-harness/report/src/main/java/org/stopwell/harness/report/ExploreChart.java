package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.harness.explore.ExploreResult;
import org.stopwell.harness.explore.ExploreResult.FactorResult;
import org.stopwell.harness.explore.MorrisEffects;
import org.stopwell.harness.explore.ParetoFront;
import org.stopwell.harness.explore.SobolIndices;
import org.stopwell.harness.explore.Surface;
import org.stopwell.harness.stats.Interval;

/** Pictures of the page of an exploration. */
final class ExploreChart {
  private static final double TOP = 8;
  private static final double ROW = 50;
  private static final double HEIGHT = 380;
  private static final double BOTTOM = HEIGHT - 60;

  /** Factors that are named in a picture or get a line of their own. */
  private static final int MOST_LINES = 3;

  private static final int STEPS = 40;

  private ExploreChart() {}

  /** Total index of each factor as a bar, the part that it explains alone as a diamond. */
  static Figure indices(ExploreResult result) {
    List<FactorResult> factors =
        ExploreLines.byTotal(result).stream().filter(f -> f.index().isPresent()).toList();
    double bottom = TOP + factors.size() * ROW;
    double most =
        factors.stream()
            .mapToDouble(f -> f.index().map(i -> i.totalInterval().high()).orElse(0.0))
            .filter(Double::isFinite)
            .max()
            .orElse(1);
    Axis x = new Axis(0, Math.max(1, Math.min(1.5, most)), 8, Drawing.RIGHT - 16);
    Drawing d =
        new Drawing(
            "indices",
            bottom + 56,
            "Share of the variance by factor (simulated)",
            "The numbers stand in the table below.");
    for (int i = 0; i < factors.size(); i++) {
      double y = TOP + i * ROW;
      SobolIndices.Index index = factors.get(i).index().orElseThrow();
      d.label("head", "start", x.from(), y + 16, factors.get(i).key());
      d.rect("bar", x.from(), y + 22, x.atClamped(index.total()) - x.from(), 12);
      interval(d, x, index.totalInterval(), y + 28);
      d.path("miss", Drawing.diamond(x.atClamped(index.first()), y + 28, 5));
    }
    d.line("axis", x.from(), bottom, x.to(), bottom);
    d.verticalTicks(x, x.ticks(6), bottom, false);
    d.label(
        "name", "middle", (x.from() + x.to()) / 2, bottom + 46, "share of the variance explained");
    return new Figure(
        "What decides the outcome",
        List.of(d),
        List.of(
            new Legend.Entry("bar", "", "total: alone and together with other factors"),
            new Legend.Entry("miss", Drawing.diamond(12, 8, 5), "alone"),
            new Legend.Entry("limit", "M2 8h20", "95 % interval of the total")),
        "",
        "A factor whose total is near 0 can be left at any value of its range. The totals add up to"
            + " more than 1 where factors act together.");
  }

  private static void interval(Drawing d, Axis x, Interval interval, double y) {
    if (Double.isFinite(interval.low()) && Double.isFinite(interval.high())) {
      d.line("limit", x.atClamped(interval.low()), y, x.atClamped(interval.high()), y);
    }
  }

  /** Strength of each factor against how much it depends on the others. */
  static Figure effects(ExploreResult result) {
    ExploreUnit unit = ExploreUnit.of(result.space().head().outcome());
    List<FactorResult> factors =
        ExploreLines.byEffect(result).stream()
            .filter(f -> f.effect().map(e -> e.count() > 1).orElse(false))
            .toList();
    double reach = 1e-9;
    for (FactorResult f : factors) {
      MorrisEffects.Effect e = f.effect().orElseThrow();
      reach = Math.max(reach, Math.max(e.meanAbsolute(), e.spread()) * unit.of());
    }
    Axis x = new Axis(0, 1.15 * reach, Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(0, 1.15 * reach, BOTTOM, 32);
    Drawing d =
        new Drawing(
            "effects",
            HEIGHT,
            "Elementary effects of each factor (simulated)",
            "The numbers stand in the table below.");
    d.frame(x, y, "µ*: mean size of the effect, " + unit.word(), "σ: spread, " + unit.word());
    d.line("bound", x.at(0), y.at(0), x.at(reach), y.at(reach));
    for (int i = 0; i < factors.size(); i++) {
      MorrisEffects.Effect e = factors.get(i).effect().orElseThrow();
      double px = x.at(e.meanAbsolute() * unit.of());
      double py = y.at(e.spread() * unit.of());
      d.path("dot", Drawing.dot(px, py));
      if (i < 2 * MOST_LINES) {
        boolean right = px > (x.from() + x.to()) / 2;
        d.label(
            "note", right ? "end" : "start", px + (right ? -8 : 8), py + 4, factors.get(i).key());
      }
    }
    return new Figure(
        "Which factors matter",
        List.of(d),
        List.of(
            new Legend.Entry("dot", Drawing.dot(12, 8), "one factor"),
            new Legend.Entry("bound", "M1 8h22", "σ equal to µ*")),
        "",
        "To the right: the factor changes the outcome. Near or above the line: how much depends on"
            + " other factors, or the effect is not straight.");
  }

  /** How often each value of the outcome came. */
  static Figure histogram(ExploreResult result) {
    ExploreUnit unit = ExploreUnit.of(result.space().head().outcome());
    List<Long> counts = result.histogram().counts();
    int first = 0;
    int last = counts.size() - 1;
    while (first < last && counts.get(first) == 0) {
      first++;
    }
    while (last > first && counts.get(last) == 0) {
      last--;
    }
    double low = (result.histogram().low() + first * result.histogram().width()) * unit.of();
    double high = (result.histogram().low() + (last + 1) * result.histogram().width()) * unit.of();
    long most = counts.stream().mapToLong(Long::longValue).max().orElse(1);
    Axis x = new Axis(low, high, Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(0, Math.max(1, most * 1.05), BOTTOM, 32);
    String name = result.space().head().outcome().words();
    Drawing d =
        new Drawing(
            "outcome",
            HEIGHT,
            "Distribution of the " + name + " (simulated)",
            result.counts().withOutcome() + " trials.");
    d.frame(x, y, name + ", " + unit.word(), "trials");
    double wide = x.at(low + result.histogram().width() * unit.of()) - x.from();
    for (int i = first; i <= last; i++) {
      double at = x.from() + (i - first) * wide;
      double top = y.at((double) counts.get(i));
      d.rect("bar", at, top, Math.max(0.5, wide - 0.5), y.from() - top);
    }
    if (low < 0 && high > 0) {
      d.line("aim", x.at(0), y.from(), x.at(0), y.to());
    }
    return new Figure(
        "Distribution of the outcome",
        List.of(d),
        List.of(new Legend.Entry("bar", "", "trials in a bin")),
        "",
        "Values beyond the first and the last bin are counted there.");
  }

  /** The surface along each of the strongest factors, with all others in the middle. */
  static Figure surface(ExploreResult result, Surface surface) {
    ExploreUnit unit = ExploreUnit.of(result.space().head().outcome());
    int n = result.space().factors().size();
    List<Integer> order = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      order.add(i);
    }
    order.sort(java.util.Comparator.comparingDouble(i -> -reach(surface, n, i)));
    List<Integer> shown = order.subList(0, Math.min(MOST_LINES, n));
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int factor : shown) {
      for (int i = 0; i <= STEPS; i++) {
        double v = along(surface, n, factor, 2.0 * i / STEPS - 1) * unit.of();
        low = Math.min(low, v);
        high = Math.max(high, v);
      }
    }
    double margin = Math.max(1e-9, 0.08 * (high - low));
    Axis x = new Axis(-1, 1, Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(low - margin, high + margin, BOTTOM, 32);
    String name = result.space().head().outcome().words();
    Drawing d =
        new Drawing(
            "surface",
            HEIGHT,
            "The fitted surface along its strongest factors (simulated)",
            "All other factors stand in the middle of their range.");
    d.horizontalTicks(y, y.ticks(6), x.to(), y.low() < 0);
    d.line("axis", x.from(), y.from(), x.to(), y.from());
    d.label("name", "start", x.from(), y.from() + 20, "least value");
    d.label("name", "middle", (x.from() + x.to()) / 2, y.from() + 46, "place in the range");
    d.label("name", "end", x.to(), y.from() + 20, "greatest value");
    d.label("name", "start", Drawing.LEFT, y.to() - 11, name + ", " + unit.word());
    List<String> styles = List.of("truth", "reading", "plain");
    List<Legend.Entry> legend = new ArrayList<>();
    for (int line = 0; line < shown.size(); line++) {
      List<double[]> points = new ArrayList<>();
      for (int i = 0; i <= STEPS; i++) {
        double at = 2.0 * i / STEPS - 1;
        points.add(
            new double[] {x.at(at), y.at(along(surface, n, shown.get(line), at) * unit.of())});
      }
      d.path(styles.get(line), Drawing.through(points));
      var factor = result.space().factors().get(shown.get(line));
      legend.add(
          new Legend.Entry(styles.get(line), "M1 8h22", factor.key() + ", " + factor.spread()));
    }
    return new Figure(
        "Fitted surface",
        List.of(d),
        legend,
        "",
        (surface.isPlane() ? "A plane" : "A polynomial of second degree")
            + ", fitted by least squares. Its error on trials left out is stated below.");
  }

  private static double reach(Surface surface, int n, int factor) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int i = 0; i <= STEPS; i++) {
      double v = along(surface, n, factor, 2.0 * i / STEPS - 1);
      low = Math.min(low, v);
      high = Math.max(high, v);
    }
    return high - low;
  }

  private static double along(Surface surface, int n, int factor, double at) {
    double[] places = new double[n];
    places[factor] = at;
    return surface.at(places);
  }

  /** Over-travel against early stops of every point of the settings. */
  static Figure front(ExploreResult result) {
    double right = 1;
    double top = 1;
    for (ParetoFront.Point p : result.points()) {
      right = Math.max(right, 100 * p.early().estimate().orElse(0));
      top = Math.max(top, 100 * p.overTravel().estimate().orElse(0));
    }
    Axis x = new Axis(0, Math.min(100, 1.1 * right), Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(0, Math.min(100, 1.1 * top), BOTTOM, 32);
    Drawing d =
        new Drawing(
            "front",
            HEIGHT,
            "Over-travel against early stops (simulated)",
            result.points().size() + " points of the settings.");
    d.frame(x, y, "early stops, %", "past the foramen, %");
    StringBuilder beaten = new StringBuilder();
    StringBuilder front = new StringBuilder();
    for (ParetoFront.Point p : result.points()) {
      (p.onFront() ? front : beaten)
          .append(
              Drawing.dot(
                  x.at(100 * p.early().estimate().orElse(0)),
                  y.at(100 * p.overTravel().estimate().orElse(0))));
    }
    d.path("dot", beaten.toString());
    d.path("open", front.toString());
    return new Figure(
        "Settings against each other",
        List.of(d),
        List.of(
            new Legend.Entry("open", Drawing.dot(12, 8), "on the front"),
            new Legend.Entry("dot", Drawing.dot(12, 8), "beaten by another point")),
        "",
        String.format(
            Locale.ROOT,
            "Every point met the same %d canals. A point on the front can be slower or faster than"
                + " its neighbours: the third measure is the time.",
            result.points().stream().mapToLong(p -> p.overTravel().trials()).max().orElse(0)));
  }
}
