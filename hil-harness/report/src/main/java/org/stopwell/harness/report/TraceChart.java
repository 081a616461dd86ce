package org.stopwell.harness.report;

import static org.stopwell.harness.report.Axis.px;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.ToDoubleFunction;
import org.stopwell.harness.report.TraceSeries.Step;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/** One trial over time: where the file was and was read to be, speed, torque, state, trust. */
final class TraceChart {
  private static final double TOP = 34;
  private static final double GAP = 38;
  private static final double STRIP = 24;

  private final String id;
  private final TrialResult trial;
  private final Condition condition;
  private final TraceSeries series;
  private final Axis x;
  private final double stopSeconds;
  private final Optional<Over> over;
  private final double floor;

  /**
   * Another course of the same trial, drawn over it.
   *
   * @param series its steps
   * @param moved whether the file moved on another way; otherwise only the readings differ
   * @param stopSeconds when it decided to stop, s; empty when it did not
   */
  record Over(TraceSeries series, boolean moved, OptionalDouble stopSeconds) {}

  private TraceChart(
      String id,
      TrialResult trial,
      Condition condition,
      TraceSeries series,
      double from,
      double to,
      Optional<Over> over,
      double floor) {
    this.id = id;
    this.floor = floor;
    this.trial = trial;
    this.condition = condition;
    this.series = series.between(from, to);
    this.x = new Axis(from, Math.max(to, from + 1e-3), Drawing.LEFT, Drawing.RIGHT);
    this.stopSeconds = trial.stopTimeNs() / 1e9;
    this.over = over.map(o -> new Over(o.series().between(from, to), o.moved(), o.stopSeconds()));
  }

  /** The whole trial with another course over it; the time goes on until both end. */
  static TraceChart whole(
      String id, TrialResult trial, Condition condition, TraceSeries series, Over over) {
    return new TraceChart(
        id,
        trial,
        condition,
        series,
        series.startSeconds(),
        Math.max(series.endSeconds(), over.series().endSeconds()),
        Optional.of(over),
        0);
  }

  /** The same from shortly before the first decision to stop until shortly after the last. */
  static TraceChart closeUp(
      String id, TrialResult trial, Condition condition, TraceSeries series, Over over) {
    double stop = trial.stopTimeNs() / 1e9;
    double other = over.stopSeconds().orElse(stop);
    return new TraceChart(
        id + "-near",
        trial,
        condition,
        series,
        Math.max(series.startSeconds(), Math.min(stop, other) - 0.6),
        Math.max(stop, other) + 0.6,
        Optional.of(over),
        0);
  }

  /** This, down to a distance: two charts side by side then have one scale, mm. */
  TraceChart downTo(double millimetres) {
    return new TraceChart(id, trial, condition, series, x.low(), x.high(), over, millimetres);
  }

  /** The whole trial. */
  static TraceChart whole(String id, TrialResult trial, Condition condition, TraceSeries series) {
    return new TraceChart(
        id,
        trial,
        condition,
        series,
        series.startSeconds(),
        series.endSeconds(),
        Optional.empty(),
        0);
  }

  /** Half a second before the decision to stop and after it. */
  static TraceChart closeUp(String id, TrialResult trial, Condition condition, TraceSeries series) {
    double stop = trial.stopTimeNs() / 1e9;
    return new TraceChart(
        id + "-near",
        trial,
        condition,
        series,
        Math.max(series.startSeconds(), stop - 0.6),
        Math.min(series.endSeconds(), stop + 0.6),
        Optional.empty(),
        0);
  }

  /** Position, speed, torque, state and trust, one below the other. */
  Drawing all(String label) {
    double positionBottom = TOP + 190;
    double speedBottom = positionBottom + GAP + 80;
    double torqueBottom = speedBottom + GAP + 80;
    double stateTop = torqueBottom + GAP / 2;
    double trustTop = stateTop + STRIP + 6;
    double bottom = trustTop + STRIP + (over.isPresent() ? 2 * STRIP + 18 : 0);
    Drawing d = new Drawing(id, bottom + 52, title("Trace") + label, describe());
    position(d, TOP, positionBottom, false);
    panel(d, "speed, rpm", positionBottom + GAP, speedBottom, s -> s.speedMilliRpm() / 1000.0);
    panel(
        d, "torque, N·cm", speedBottom + GAP, torqueBottom, s -> s.torqueMicroNewtonMetres() / 1e4);
    strip(d, series, "state", stateTop, s -> s.state().name());
    strip(d, series, "trust", trustTop, s -> s.trust().name());
    if (over.isPresent()) {
      strip(d, over.get().series(), "state, other", trustTop + STRIP + 12, s -> s.state().name());
      strip(d, over.get().series(), "trust, other", bottom - STRIP, s -> s.trust().name());
    }
    stopMark(d, TOP, bottom);
    return foot(d, bottom);
  }

  /** Position only. */
  Drawing position(String label) {
    double bottom = TOP + 210;
    Drawing d = new Drawing(id, bottom + 52, title("Close-up") + label, describe());
    position(d, TOP, bottom, true);
    stopMark(d, TOP, bottom);
    return foot(d, bottom);
  }

  private String title(String what) {
    return what + " of trial " + (trial.index() + 1) + ", " + trial.condition();
  }

  private String describe() {
    return trial.message()
        + (trial.stopped()
            ? " Stop error " + Numbers.signedMillimetres(trial.stopErrorMicrons()) + "."
            : "");
  }

  private void position(Drawing d, double top, double bottom, boolean near) {
    double standoff = condition.standoffMicrons() / 1000.0;
    double tolerance = condition.toleranceMicrons() / 1000.0;
    double low = Math.min(floor, standoff - tolerance);
    double high = standoff + tolerance;
    for (Step step : both()) {
      low = Math.min(low, step.trueRemainingMicrons() / 1000.0);
      high = Math.max(high, step.trueRemainingMicrons() / 1000.0);
    }
    high = near ? Math.min(high, standoff + 3 * tolerance) : high;
    double pad = 0.06 * (high - low);
    Axis y = new Axis(low - pad, high + pad, bottom, top);
    d.rect(
        "band",
        x.from(),
        y.at(standoff + tolerance),
        x.to() - x.from(),
        y.at(standoff - tolerance) - y.at(standoff + tolerance));
    d.horizontalTicks(y, y.ticks(5), x.to(), false);
    d.line("aim", x.from(), y.at(standoff), x.to(), y.at(standoff));
    d.line("foramen", x.from(), y.at(0), x.to(), y.at(0));
    courses(d, y, series, "");
    over.ifPresent(o -> courses(d, y, o.series(), "over "));
    if (near) {
      d.label("note", "start", x.from() + 6, y.at(standoff) - 6, "standoff");
      d.label("note", "start", x.from() + 6, y.at(0) - 6, "foramen");
    }
    d.label("name", "start", x.from(), top - 11, "mm short of the foramen");
  }

  /** Reading and truth. Where the file did not move on another way, there is one truth. */
  private void courses(Drawing d, Axis y, TraceSeries of, String style) {
    d.path(
        style + "reading",
        line(
            of,
            y,
            s -> s.readingMicrons() / 1000.0,
            s -> s.readingPresent() && s.readingMicrons() / 1000.0 <= y.high()));
    if (style.isEmpty() || over.filter(Over::moved).isPresent()) {
      d.path(
          style + "truth",
          line(
              of,
              y,
              s -> s.trueRemainingMicrons() / 1000.0,
              s -> s.trueRemainingMicrons() / 1000.0 <= y.high()));
    }
  }

  private List<Step> both() {
    List<Step> steps = new ArrayList<>(series.steps());
    over.ifPresent(o -> steps.addAll(o.series().steps()));
    return steps;
  }

  private void panel(
      Drawing d, String name, double top, double bottom, ToDoubleFunction<Step> value) {
    double low = 0;
    double high = 0;
    for (Step step : both()) {
      low = Math.min(low, value.applyAsDouble(step));
      high = Math.max(high, value.applyAsDouble(step));
    }
    high = high > low ? high : low + 1;
    Axis y = new Axis(low, high + 0.12 * (high - low), bottom, top);
    d.horizontalTicks(y, y.ticks(3), x.to(), false);
    d.path("plain", line(series, y, value, s -> true));
    over.filter(Over::moved)
        .ifPresent(o -> d.path("over plain", line(o.series(), y, value, s -> true)));
    d.label("name", "start", x.from(), top - 9, name);
  }

  /** Runs of equal words as labelled blocks. */
  private void strip(
      Drawing d, TraceSeries of, String name, double top, Function<Step, String> word) {
    d.label("tick", "end", Drawing.LEFT - 8, top + STRIP / 2 + 4.5, name);
    List<Step> steps = of.steps();
    int from = 0;
    for (int i = 1; i <= steps.size(); i++) {
      if (i == steps.size() || !word.apply(steps.get(i)).equals(word.apply(steps.get(from)))) {
        String text = word.apply(steps.get(from));
        double left = x.at(steps.get(from).timeNs() / 1e9);
        double right = x.atClamped(steps.get(Math.min(i, steps.size() - 1)).timeNs() / 1e9);
        d.rect("block " + text, left, top, right - left, STRIP);
        if (right - left > 8.5 * text.length() + 6) {
          // The large type of a telephone needs more room.
          String style = right - left > 14 * text.length() + 6 ? "word roomy" : "word";
          d.label(style, "middle", (left + right) / 2, top + STRIP / 2 + 4.5, text);
        }
        from = i;
      }
    }
  }

  private void stopMark(Drawing d, double top, double bottom) {
    over.map(Over::stopSeconds)
        .orElse(OptionalDouble.empty())
        .ifPresent(at -> d.line("over stop", x.atClamped(at), top - 5, x.atClamped(at), bottom));
    if (trial.stopped() && stopSeconds >= x.low() && stopSeconds <= x.high()) {
      double at = x.at(stopSeconds);
      d.line("stop", at, top - 5, at, bottom);
      boolean right = at < x.from() + 0.7 * (x.to() - x.from());
      d.label(
          "stop-label",
          right ? "start" : "end",
          right ? at - 2 : at + 2,
          top - 11,
          "decision to stop");
    }
  }

  private Drawing foot(Drawing d, double bottom) {
    d.line("axis", x.from(), bottom, x.to(), bottom);
    d.verticalTicks(x, x.ticks(6), bottom, false);
    d.label("name", "end", x.to(), bottom + 42, "time, s");
    return d;
  }

  /** A line with at most a few points per column of the drawing: first, least, greatest, last. */
  private String line(
      TraceSeries of, Axis y, ToDoubleFunction<Step> value, Predicate<Step> present) {
    StringBuilder path = new StringBuilder();
    boolean pen = false;
    List<Step> steps = of.steps();
    int i = 0;
    while (i < steps.size()) {
      if (!present.test(steps.get(i))) {
        pen = false;
        i++;
        continue;
      }
      long column = column(steps.get(i));
      int end = i;
      int least = i;
      int greatest = i;
      while (end < steps.size()
          && column(steps.get(end)) == column
          && present.test(steps.get(end))) {
        double v = value.applyAsDouble(steps.get(end));
        least = v < value.applyAsDouble(steps.get(least)) ? end : least;
        greatest = v > value.applyAsDouble(steps.get(greatest)) ? end : greatest;
        end++;
      }
      int[] kept = {i, Math.min(least, greatest), Math.max(least, greatest), end - 1};
      for (int k = 0; k < kept.length; k++) {
        if (k == 0 || kept[k] != kept[k - 1]) {
          path.append(pen ? 'L' : 'M')
              .append(px(x.at(steps.get(kept[k]).timeNs() / 1e9)))
              .append(' ')
              .append(px(y.atClamped(value.applyAsDouble(steps.get(kept[k])))));
          pen = true;
        }
      }
      i = end;
    }
    return path.toString();
  }

  private long column(Step step) {
    return (long) Math.floor(x.at(step.timeNs() / 1e9));
  }
}
