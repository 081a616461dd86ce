package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;

/** What the marks of a drawing mean: below it, as a list that wraps. */
final class Legend {
  /**
   * One mark.
   *
   * @param style its style in the page
   * @param path its shape in a frame of 24 by 16; empty for a filled block
   * @param meaning what it stands for
   */
  record Entry(String style, String path, String meaning) {}

  static final List<Entry> RUN_ORDER =
      List.of(
          new Entry("dot", Drawing.dot(12, 8), "stopped within the band"),
          new Entry("miss", Drawing.diamond(12, 8, 5), "stopped outside of the band, or no stop"),
          new Entry(
              "deep",
              Drawing.triangle(12, 8, 5, true),
              "past the foramen at any moment, or safety stop"),
          new Entry("open", Drawing.dot(12, 8), "no stop at the standoff, as the plan expects"),
          new Entry("rig", Drawing.square(12, 8, 4), "spoiled by the rig"));

  static final List<Entry> TRUST =
      List.of(
          new Entry("dot", Drawing.dot(12, 8), "stopped within the tolerance"),
          new Entry("miss", Drawing.diamond(12, 8, 5), "stopped outside of it"),
          new Entry("deep", Drawing.triangle(12, 8, 5, true), "past the foramen at any moment"),
          new Entry("foramen", "M12 1v14", "foramen"),
          new Entry("band", "", "tolerance"),
          new Entry("stated", "", "stated bound"));

  static final List<Entry> DISTRIBUTION =
      List.of(
          new Entry("mean", Drawing.triangle(12, 9, 5, false), "mean"),
          new Entry("spread", "M2 8h20", "one standard deviation to each side"),
          new Entry("aim", "M12 1v14", "standoff"),
          new Entry("band", "", "tolerance band"));

  static final List<Entry> TRACE =
      List.of(
          new Entry("truth", "M1 8h22", "true distance to the foramen"),
          new Entry("reading", "M1 8h22", "reading of the controller"),
          new Entry("stop", "M12 1v14", "decision to stop"),
          new Entry("aim", "M1 8h22", "standoff"),
          new Entry("foramen", "M1 8h22", "foramen"),
          new Entry("block TURNING", "", "TURNING: driving"),
          new Entry("block EASING", "", "EASING: slowed"),
          new Entry("block HOLDING", "", "HOLDING: stopped"));

  /** The marks of a position alone. */
  static final List<Entry> COURSE = TRACE.subList(0, 5);

  /** The marks of another course over the recorded one. */
  static final List<Entry> OVER =
      List.of(
          new Entry("over truth", "M1 8h22", "true distance with the other settings"),
          new Entry("over reading", "M1 8h22", "reading with the other settings"),
          new Entry("over stop", "M12 1v14", "last decision to stop with them"));

  private Legend() {}

  /** The legend of a stopping rule. Lines without a meaning are not drawn. */
  static List<Entry> stopping(String solid, String other, String bound, boolean cap) {
    List<Entry> entries = new ArrayList<>();
    if (!solid.isEmpty()) {
      entries.add(new Entry("truth", "M1 8h22", solid));
      entries.add(new Entry("miss", Drawing.diamond(12, 8, 6), "last trial that counted"));
    } else {
      entries.add(new Entry("spread", "M12 1v14M6 1h12M6 15h12", "one look"));
    }
    if (!other.isEmpty()) {
      entries.add(new Entry("reading", "M1 8h22", other));
    }
    entries.add(new Entry("bound", "M1 8h22", bound));
    if (cap) {
      entries.add(new Entry("cap", "M12 1v14", "most trials that the plan allows"));
    }
    return entries;
  }
}
