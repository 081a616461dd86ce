package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.stats.SizeCurve;

/** How many trials a claim needs, as a page of its own. */
public final class SizePage {
  private static final double HEIGHT = 340;

  /** A curve has so many points; more would not be seen. */
  private static final int POINTS = 160;

  private SizePage() {}

  /**
   * Writes the page.
   *
   * @param sizes the printed numbers, by what they are
   * @param curves how they come about
   * @param asked what was asked for
   * @return HTML that needs nothing beside it
   */
  public static String html(Map<String, Object> sizes, List<SizeCurve> curves, String asked) {
    List<Content> parts = new ArrayList<>();
    Table table =
        new Table("Numbers of trials and their power.")
            .columns(Table.LEFT, "What")
            .columns(Table.NUMBER, "Number");
    sizes.forEach((what, number) -> table.row(what, String.valueOf(number)));
    parts.add(Html.table(table));
    for (int i = 0; i < curves.size(); i++) {
      parts.add(Html.figure(figure(curves.get(i), i + 1)));
    }
    return Sheet.of(
        "How many trials a claim needs", "", List.of("Command: stopwell " + asked), parts);
  }

  private static Figure figure(SizeCurve curve, int number) {
    Axis x = new Axis(curve.low(), curve.high(), Drawing.LEFT, Drawing.RIGHT - 16);
    Axis y = new Axis(0, 100, HEIGHT - 60, 32);
    Drawing d =
        new Drawing(
            "curve-" + number, HEIGHT, curve.title(), "The numbers stand in the table above.");
    d.frame(x, y, curve.across(), curve.up());
    d.line("bound", x.from(), y.at(100 * curve.wanted()), x.to(), y.at(100 * curve.wanted()));
    d.label("note", "start", x.from() + 6, y.at(100 * curve.wanted()) - 6, "wanted");
    List<double[]> line = new ArrayList<>();
    for (double value : places(curve)) {
      line.add(new double[] {x.at(value), y.atClamped(100 * curve.share().applyAsDouble(value))});
    }
    d.path("truth", Drawing.through(line));
    curve
        .needed()
        .ifPresent(
            n -> {
              double at = x.atClamped(n);
              d.line("stop", at, y.to(), at, y.from());
              boolean left = n > (curve.low() + curve.high()) / 2;
              d.label(
                  "stop-label",
                  left ? "end" : "start",
                  left ? at - 6 : at + 6,
                  y.from() - 10,
                  n + " trials needed");
            });
    return new Figure(
        curve.title(),
        List.of(d),
        List.of(
            new Legend.Entry("truth", "M1 8h22", curve.up()),
            new Legend.Entry("bound", "M1 8h22", "wanted"),
            new Legend.Entry("stop", "M12 1v14", "smallest number that is enough")),
        "Figure " + number,
        curve.caption());
  }

  /** Whole numbers where the curve counts trials. */
  private static List<Double> places(SizeCurve curve) {
    List<Double> places = new ArrayList<>();
    double span = curve.high() - curve.low();
    for (int i = 0; i <= POINTS; i++) {
      double value = curve.low() + span * i / POINTS;
      double place = curve.counts() ? Math.rint(value) : value;
      if (places.isEmpty() || place > places.get(places.size() - 1)) {
        places.add(place);
      }
    }
    return places;
  }
}
