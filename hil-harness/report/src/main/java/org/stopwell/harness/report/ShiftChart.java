package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.claim.ComparedCondition;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;

/** How far the mean stop of each condition moved, with its interval, against the margin. */
final class ShiftChart {
  private static final double TOP = 6;
  private static final double HEAD = 24;
  private static final double ROW = HEAD + 30;

  static final List<Legend.Entry> LEGEND =
      List.of(
          new Legend.Entry("dot", Drawing.dot(12, 8), "PASS"),
          new Legend.Entry("miss", Drawing.diamond(12, 8, 5), "UNDECIDED"),
          new Legend.Entry("deep", Drawing.triangle(12, 8, 5, true), "FAIL"),
          new Legend.Entry("spread", "M2 8h20", "90 % interval of the shift"),
          new Legend.Entry("band", "", "margin"),
          new Legend.Entry("aim", "M12 1v14", "no shift"));

  private final List<ComparedCondition> conditions;
  private final double marginMm;
  private final Axis x;

  ShiftChart(List<ComparedCondition> conditions, int marginMicrons) {
    this.conditions = conditions;
    marginMm = marginMicrons / 1000.0;
    double reach = marginMm;
    for (ComparedCondition c : conditions) {
      for (double end : ends(c)) {
        reach = Math.max(reach, Math.abs(end));
      }
    }
    x = new Axis(-1.15 * reach, 1.15 * reach, 8, Drawing.RIGHT - 16);
  }

  /** Both ends of the interval of a condition, or its shift alone, mm. */
  private static List<Double> ends(ComparedCondition c) {
    List<Double> ends = new ArrayList<>();
    c.shift().ifPresent(shift -> ends.add(shift / 1000));
    c.shiftInterval()
        .ifPresent(
            i -> {
              ends.add(i.low() / 1000);
              ends.add(i.high() / 1000);
            });
    return ends;
  }

  Drawing draw(String label) {
    double bottom = TOP + conditions.size() * ROW;
    Drawing d =
        new Drawing(
            "shifts",
            bottom + 56,
            "Shift of the mean stop by condition" + label,
            "The numbers stand in the table below.");
    d.rect("band", x.at(-marginMm), TOP, x.at(marginMm) - x.at(-marginMm), bottom - TOP);
    d.line("aim", x.at(0), TOP, x.at(0), bottom);
    for (int i = 0; i < conditions.size(); i++) {
      row(d, conditions.get(i), TOP + i * ROW);
    }
    d.signed(x, 7, bottom, "← later", "shift against the baseline, mm", "earlier →");
    return d;
  }

  private void row(Drawing d, ComparedCondition c, double top) {
    double y = top + HEAD + 12;
    d.label("head", "start", x.from(), top + 18, c.name());
    d.label("tick", "end", x.to(), top + 18, words(c));
    Optional<Interval> interval = c.shiftInterval();
    interval.ifPresent(i -> d.line("spread", x.at(i.low() / 1000), y, x.at(i.high() / 1000), y));
    c.shift()
        .ifPresent(
            shift -> {
              double at = x.at(shift / 1000);
              switch (c.verdict()) {
                case PASS -> d.path("dot", Drawing.dot(at, y));
                case FAIL -> d.path("deep", Drawing.triangle(at, y, 6, true));
                default -> d.path("miss", Drawing.diamond(at, y, 6));
              }
            });
  }

  private static String words(ComparedCondition c) {
    return c.shift().isEmpty()
        ? Words.verdict(c.verdict()) + ", no stops to compare"
        : Words.verdict(c.verdict()) + ", " + Numbers.signedMillimetres(c.shift());
  }
}
