package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.tune.Measured;
import org.stopwell.harness.tune.Tried;
import org.stopwell.harness.tune.TuneResult;

/** Pictures of the page of a tuning: over-travel against what it costs. */
final class TuneChart {
  private static final double HEIGHT = 380;
  private static final double BOTTOM = HEIGHT - 60;
  private static final double R = 6;

  private TuneChart() {}

  /** Over-travel against early stops. */
  static Figure early(TuneResult result) {
    return figure(
        result,
        TuneTarget.Measure.EARLY_STOP,
        "price-early",
        "early stops, %",
        "Over-travel against early stops");
  }

  /** Over-travel against time. */
  static Figure time(TuneResult result) {
    return figure(
        result,
        TuneTarget.Measure.TIME,
        "price-time",
        "mean bench time of a trial, s",
        "Over-travel against time");
  }

  private static Figure figure(
      TuneResult result, TuneTarget.Measure across, String id, String nameOfX, String heading) {
    ToDoubleFunction<Measured> right = m -> shown(across, m.value(across));
    ToDoubleFunction<Measured> up =
        m -> shown(TuneTarget.Measure.OVER_TRAVEL, m.value(TuneTarget.Measure.OVER_TRAVEL));
    List<Measured> all = new ArrayList<>();
    result.tried().forEach(t -> all.add(t.measured()));
    result.judged().forEach(j -> all.add(j.measured()));
    double low = across.isShare() ? 0 : all.stream().mapToDouble(right).min().orElse(0);
    double high = all.stream().mapToDouble(right).max().orElse(1);
    double margin = Math.max(across.isShare() ? 0.5 : 0.1, 0.06 * (high - low));
    double top = Math.max(1, 1.1 * all.stream().mapToDouble(up).max().orElse(1));
    Axis x =
        new Axis(
            across.isShare() ? 0 : Math.max(0, low - margin),
            high + margin,
            Drawing.LEFT,
            Drawing.RIGHT - 16);
    Axis y = new Axis(0, top, BOTTOM, 32);
    Drawing d =
        new Drawing(
            id,
            HEIGHT,
            heading + " (simulated)",
            result.tried().size() + " points of the settings; the numbers are in points.csv.");
    d.frame(x, y, nameOfX, "past the foramen, %");
    limits(result, across, d, x, y);
    StringBuilder dots = new StringBuilder();
    for (Tried t : result.tried()) {
      dots.append(
          Drawing.dot(
              x.at(right.applyAsDouble(t.measured())), y.at(up.applyAsDouble(t.measured()))));
    }
    d.path("dot", dots.toString());
    Measured old = result.tried().get(0).measured();
    Measured chosen = result.chosen().measured();
    d.path("rig", Drawing.square(x.at(right.applyAsDouble(old)), y.at(up.applyAsDouble(old)), R));
    d.path(
        "miss",
        Drawing.diamond(x.at(right.applyAsDouble(chosen)), y.at(up.applyAsDouble(chosen)), R + 1));
    fresh(result, across, d, x, y);
    List<Legend.Entry> legend =
        new ArrayList<>(
            List.of(
                new Legend.Entry("dot", Drawing.dot(12, 8), "point tried, on the tuning canals"),
                new Legend.Entry("rig", Drawing.square(12, 8, 5), "old settings"),
                new Legend.Entry("miss", Drawing.diamond(12, 8, 5), "tuned settings"),
                new Legend.Entry("bound", "M1 8h22", "limit")));
    if (!result.judged().isEmpty()) {
      legend.add(
          new Legend.Entry(
              "limit", "M2 8h20M12 2v12", "old and tuned on fresh canals, 95 % intervals"));
    }
    return new Figure(
        heading,
        List.of(d),
        legend,
        "",
        "A line leads from the place on the tuning canals to the place on fresh canals. A long line"
            + " upwards or to the right means that the search was too optimistic.");
  }

  private static void limits(
      TuneResult result, TuneTarget.Measure across, Drawing d, Axis x, Axis y) {
    for (TuneTarget.Limit limit : result.space().target().orElseThrow().limits()) {
      double at = shown(limit.measure(), limit.atMost());
      if (limit.measure() == TuneTarget.Measure.OVER_TRAVEL && at <= y.high()) {
        d.line("bound", x.from(), y.at(at), x.to(), y.at(at));
      }
      if (limit.measure() == across && at <= x.high()) {
        d.line("bound", x.at(at), y.from(), x.at(at), y.to());
      }
    }
  }

  private static void fresh(
      TuneResult result, TuneTarget.Measure across, Drawing d, Axis x, Axis y) {
    for (TuneResult.Judged j : result.judged()) {
      if (j.role() == TuneResult.Role.NEIGHBOUR) {
        continue;
      }
      Measured before =
          j.role() == TuneResult.Role.OLD
              ? result.tried().get(0).measured()
              : result.chosen().measured();
      double px = x.atClamped(shown(across, j.measured().value(across)));
      double py =
          y.atClamped(
              shown(
                  TuneTarget.Measure.OVER_TRAVEL,
                  j.measured().value(TuneTarget.Measure.OVER_TRAVEL)));
      d.line(
          "cap",
          x.atClamped(shown(across, before.value(across))),
          y.atClamped(
              shown(TuneTarget.Measure.OVER_TRAVEL, before.value(TuneTarget.Measure.OVER_TRAVEL))),
          px,
          py);
      j.measured()
          .interval(across, 0.95)
          .ifPresent(
              i ->
                  d.line(
                      "limit", clamped(x, across, i.low()), py, clamped(x, across, i.high()), py));
      j.measured()
          .interval(TuneTarget.Measure.OVER_TRAVEL, 0.95)
          .ifPresent((Interval i) -> vertical(d, y, px, i));
      d.label("note", "start", px + 8, py - 8, j.role().key());
    }
  }

  private static void vertical(Drawing d, Axis y, double px, Interval i) {
    d.line(
        "limit",
        px,
        clamped(y, TuneTarget.Measure.OVER_TRAVEL, i.low()),
        px,
        clamped(y, TuneTarget.Measure.OVER_TRAVEL, i.high()));
  }

  private static double clamped(Axis axis, TuneTarget.Measure measure, double value) {
    return axis.atClamped(shown(measure, value));
  }

  /** A share in percent; 0 where nothing was measured. */
  private static double shown(TuneTarget.Measure measure, double value) {
    return Double.isNaN(value) ? 0 : measure.isShare() ? 100 * value : value;
  }
}
