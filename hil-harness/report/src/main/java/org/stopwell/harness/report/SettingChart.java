package org.stopwell.harness.report;

import java.util.List;
import java.util.Optional;
import org.stopwell.harness.stats.Interval;

/** The distance that each setting of a device claims, against the measured one. */
final class SettingChart {
  private static final double TOP = 34;
  private static final double BOTTOM = 300;

  /** Marks with a name each at most; assumed: more names overlap. */
  private static final int MOST_NAMES = 12;

  static final List<Legend.Entry> LEGEND =
      List.of(
          new Legend.Entry("dot", Drawing.dot(12, 8), "mean of one device at one setting"),
          new Legend.Entry("spread", "M12 1v14", "95 % interval, by teeth"),
          new Legend.Entry("aim", "M1 8h22", "claimed by the setting"));

  /**
   * One device at one setting.
   *
   * @param name both codes
   * @param claimedMm claimed distance, mm
   * @param measuredMm measured mean, mm
   * @param interval of the mean, µm
   */
  record Mark(String name, double claimedMm, double measuredMm, Optional<Interval> interval) {}

  private SettingChart() {}

  static Drawing draw(List<Mark> marks, String label) {
    double low = 0;
    double high = 1;
    for (Mark m : marks) {
      low =
          Math.min(
              low, Math.min(m.measuredMm(), m.interval().map(Interval::low).orElse(0.0) / 1e3));
      high =
          Math.max(
              high,
              Math.max(
                  Math.max(m.claimedMm(), m.measuredMm()),
                  m.interval().map(Interval::high).orElse(0.0) / 1e3));
    }
    Axis y = new Axis(1.05 * low, 1.1 * high, BOTTOM, TOP);
    Drawing d =
        new Drawing(
            "settings",
            BOTTOM + 34,
            "Setting against measured distance" + label,
            "The numbers stand in the table below.");
    d.horizontalTicks(y, y.ticks(6), Drawing.RIGHT, low < 0);
    d.line("axis", Drawing.LEFT, BOTTOM, Drawing.RIGHT, BOTTOM);
    d.label("name", "start", Drawing.LEFT, TOP - 11, "distance to the foramen at rest, mm");
    double wide = (Drawing.RIGHT - Drawing.LEFT) / Math.max(1, marks.size());
    for (int i = 0; i < marks.size(); i++) {
      Mark m = marks.get(i);
      double place = Drawing.LEFT + (i + 0.5) * wide;
      double half = Math.min(28, 0.4 * wide);
      d.line("aim", place - half, y.at(m.claimedMm()), place + half, y.at(m.claimedMm()));
      m.interval()
          .ifPresent(
              n -> d.line("spread", place, y.at(n.low() / 1e3), place, y.at(n.high() / 1e3)));
      d.path("dot", Drawing.dot(place, y.at(m.measuredMm())));
      if (marks.size() <= MOST_NAMES) {
        d.label("tick", "middle", place, BOTTOM + 22, m.name());
      }
    }
    return d;
  }
}
