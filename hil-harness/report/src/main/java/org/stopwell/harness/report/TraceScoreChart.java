package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.function.ToDoubleFunction;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trace.TraceScore;
import org.stopwell.harness.trace.TraceSummary;
import org.stopwell.harness.trace.TraceSummary.Measure;

/** Pictures of the scores of traces. */
final class TraceScoreChart {
  /** More traces than this make a drawing heavy and no clearer: one in so many is drawn. */
  private static final int MOST_DRAWN = 4_000;

  private static final double TOP = 12;
  private static final double ROW = 78;
  private static final double HEIGHT = 360;
  private static final double FRAME_TOP = 32;

  /** Greatest error that is drawn to scale, mm. */
  private static final double FARTHEST_MM = 2;

  /** Golden section: neighbours in the list lie apart. */
  private static final double SPREAD = 0.618_034;

  private static final Legend.Entry WITHIN =
      new Legend.Entry("dot", Drawing.dot(12, 8), "within the tolerance");
  private static final Legend.Entry OUTSIDE =
      new Legend.Entry("miss", Drawing.diamond(12, 8, 5), "outside of the tolerance");
  private static final Legend.Entry PAST =
      new Legend.Entry("deep", Drawing.triangle(12, 8, 5, true), "past the foramen");

  private final TraceScoreReport report;
  private final List<TraceScore> stops;
  private final double toleranceMm;

  TraceScoreChart(TraceScoreReport report) {
    this.report = report;
    stops = report.scores().stream().filter(TraceScore::stopped).toList();
    toleranceMm = report.toleranceMicrons() / 1000.0;
  }

  private List<TraceScore> drawn(Predicate<TraceScore> which) {
    List<TraceScore> all = stops.stream().filter(which).toList();
    int every = every(all.size());
    List<TraceScore> drawn = new ArrayList<>();
    for (int i = 0; i < all.size(); i += every) {
      drawn.add(all.get(i));
    }
    return drawn;
  }

  private static int every(int count) {
    return Math.max(1, (count + MOST_DRAWN - 1) / MOST_DRAWN);
  }

  private String share() {
    int every = every(stops.size());
    return every == 1 ? "" : " One in " + every + " stops is drawn.";
  }

  /** Stop errors, a row for each fluid. */
  Optional<Figure> errors() {
    if (stops.isEmpty()) {
      return Optional.empty();
    }
    List<TraceSummary> fluids = new ArrayList<>(report.summaries());
    if (fluids.size() > 1) {
      fluids.remove(fluids.size() - 1);
    }
    double bottom = TOP + fluids.size() * ROW;
    Axis x = new Axis(-FARTHEST_MM, FARTHEST_MM, 8, Drawing.RIGHT - 16);
    Drawing d =
        new Drawing(
            "errors",
            bottom + 56,
            "Stop error by fluid",
            stops.size() + " stops, one mark each, a row for each fluid.");
    for (int i = 0; i < fluids.size(); i++) {
      row(d, x, fluids.get(i), TOP + i * ROW);
    }
    d.lateToEarly(x, 9, bottom, "stop error, mm");
    return Optional.of(
        new Figure(
            "Stop error by fluid",
            List.of(d),
            List.of(WITHIN, OUTSIDE, PAST, new Legend.Entry("band", "", "tolerance band")),
            "Figure 1",
            "One mark for each stop; the height within a row has no meaning. Errors beyond "
                + Numbers.plainMillimetres((int) (1000 * FARTHEST_MM))
                + " are drawn at the edge."
                + share()));
  }

  private void row(Drawing d, Axis x, TraceSummary fluid, double top) {
    d.rect("band", x.at(-toleranceMm), top + 4, x.at(toleranceMm) - x.at(-toleranceMm), ROW - 8);
    d.line("aim", x.at(0), top + 4, x.at(0), top + ROW - 4);
    StringBuilder dots = new StringBuilder();
    StringBuilder misses = new StringBuilder();
    StringBuilder deep = new StringBuilder();
    int i = 0;
    for (TraceScore s : drawn(s -> s.approach().fluid().equals(fluid.name()))) {
      double place = i++ * SPREAD;
      double y = top + 30 + (place - Math.floor(place)) * (ROW - 44);
      double at = x.atClamped(s.errorMicrons() / 1000.0);
      if (s.past()) {
        deep.append(Drawing.triangle(at, y, 4, true));
      } else if (s.within(1)) {
        dots.append(Drawing.dot(at, y));
      } else {
        misses.append(Drawing.diamond(at, y, 4));
      }
    }
    d.path("dot" + (i > 200 ? " many" : ""), dots.toString());
    d.path("miss", misses.toString());
    d.path("deep", deep.toString());
    d.label("head", "start", x.from(), top + 20, fluid.name());
    d.label(
        "tick",
        "end",
        x.to(),
        top + 20,
        Words.count(fluid.share(Measure.STOPPED).counted().count(), "stop")
            + ", "
            + fluid.share(Measure.REFUSED).counted().count()
            + " refused");
  }

  /** Error of the reading against its stated bound. */
  Optional<Figure> bounds() {
    List<TraceScore> bounded = drawn(TraceScore::bounded);
    if (bounded.isEmpty()) {
      return Optional.empty();
    }
    Axis x = new Axis(0, 1.5, Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(0, 1.5, HEIGHT - 60, FRAME_TOP);
    Drawing d =
        new Drawing(
            "bounds",
            HEIGHT,
            "Error of the reading against its stated bound",
            bounded.size() + " stops; below the diagonal the bound covers the error.");
    d.frame(x, y, "stated bound, mm", "error of the reading, mm");
    d.line("limit", x.at(0), y.at(0), x.at(1.5), y.at(1.5));
    d.line("bound", x.at(toleranceMm), y.from(), x.at(toleranceMm), y.to());
    marks(
        d,
        x,
        y,
        bounded,
        s -> s.boundMicrons() / 1000.0,
        s -> Math.abs(s.readingErrorMicrons()) / 1000.0,
        TraceScore::covered);
    return Optional.of(
        new Figure(
            "Stated bound",
            List.of(d),
            List.of(
                new Legend.Entry("dot", Drawing.dot(12, 8), "bound covers the error"),
                new Legend.Entry("miss", Drawing.diamond(12, 8, 5), "bound does not cover it"),
                new Legend.Entry("limit", "M2 14L22 2", "error equal to the bound"),
                new Legend.Entry("bound", "M12 1v14", "tolerance; SURE to the left")),
            "Figure 2",
            "Error of the reading at the decision to stop. Values beyond 1.5 mm are drawn at the"
                + " edge."
                + share()));
  }

  /** Error of the reading against the true depth. */
  Optional<Figure> depths() {
    List<TraceScore> read = drawn(s -> s.readingMicrons().isPresent());
    if (read.isEmpty()) {
      return Optional.empty();
    }
    Axis x = new Axis(-1, 3, Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(-FARTHEST_MM, FARTHEST_MM, HEIGHT - 60, FRAME_TOP);
    Drawing d =
        new Drawing(
            "depths",
            HEIGHT,
            "Error of the reading against the true depth",
            read.size() + " stops.");
    d.rect(
        "band",
        x.from(),
        y.at(toleranceMm),
        x.to() - x.from(),
        y.at(-toleranceMm) - y.at(toleranceMm));
    d.frame(x, y, "true distance to the foramen at the decision, mm", "reading − truth, mm");
    d.line("foramen", x.at(0), y.from(), x.at(0), y.to());
    double aim = x.atClamped(report.standoffMicrons() / 1000.0);
    d.line("aim", aim, y.from(), aim, y.to());
    marks(
        d,
        x,
        y,
        read,
        s -> s.truthMicrons() / 1000.0,
        s -> s.readingErrorMicrons() / 1000.0,
        s -> Math.abs(s.readingErrorMicrons()) <= report.toleranceMicrons());
    return Optional.of(
        new Figure(
            "Error against depth",
            List.of(d),
            List.of(
                WITHIN,
                OUTSIDE,
                new Legend.Entry("band", "", "tolerance band"),
                new Legend.Entry("aim", "M12 1v14", "standoff"),
                new Legend.Entry("foramen", "M12 1v14", "foramen")),
            "Figure 3",
            "A positive error: the file is deeper than the reading." + share()));
  }

  private static void marks(
      Drawing d,
      Axis x,
      Axis y,
      List<TraceScore> scores,
      ToDoubleFunction<TraceScore> across,
      ToDoubleFunction<TraceScore> up,
      Predicate<TraceScore> good) {
    StringBuilder dots = new StringBuilder();
    StringBuilder misses = new StringBuilder();
    for (TraceScore s : scores) {
      double atX = x.atClamped(across.applyAsDouble(s));
      double atY = y.atClamped(up.applyAsDouble(s));
      if (good.test(s)) {
        dots.append(Drawing.dot(atX, atY));
      } else {
        misses.append(Drawing.diamond(atX, atY, 4));
      }
    }
    d.path("dot" + (scores.size() > 200 ? " many" : ""), dots.toString());
    d.path("miss", misses.toString());
  }
}
