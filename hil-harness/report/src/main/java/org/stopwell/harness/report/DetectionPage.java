package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;

/** The smallest defects that a plan detects, as a page of its own. */
public final class DetectionPage {
  private static final double TOP = 8;
  private static final double ROW = 74;
  private static final double LINE = 36;

  private DetectionPage() {}

  /**
   * What was found for one kind of defect.
   *
   * @param text what is wrong, in plain words
   * @param sizes every size that could be tried, with its unit, from small to large
   * @param detectedFrom place in {@code sizes} from which on every campaign detects it; the number
   *     of sizes where none does
   * @param missed places in {@code sizes} that a campaign missed, of those that were tried
   * @param sentence the result in words
   */
  public record Kind(
      String text, List<String> sizes, int detectedFrom, List<Integer> missed, String sentence) {
    /** Takes copies. */
    public Kind {
      sizes = List.copyOf(sizes);
      missed = List.copyOf(missed);
    }
  }

  /**
   * Writes the page.
   *
   * @param plan name of the plan
   * @param trials trials of one campaign
   * @param campaigns campaigns for each size
   * @param alarms campaigns with a sound controller that did not pass
   * @param kinds what was found
   * @return HTML that needs nothing beside it
   */
  public static String html(
      String plan, int trials, int campaigns, Proportion alarms, List<Kind> kinds) {
    List<Content> parts = new ArrayList<>();
    if (kinds.isEmpty()) {
      parts.add(
          Html.caution("A sound controller never passes this plan, so the plan detects nothing."));
    } else {
      parts.add(
          Html.figure(
              new Figure(
                  "Smallest defect that is detected",
                  List.of(draw(kinds)),
                  List.of(
                      new Legend.Entry("bar", "", "detected in every campaign"),
                      new Legend.Entry("miss", Drawing.diamond(12, 8, 5), "tried and missed"),
                      new Legend.Entry("rig", Drawing.square(12, 8, 4), "not detected reliably")),
                  "Figure 1 (simulated)",
                  "One row for each kind of defect, its sizes from small to large; the distances"
                      + " between sizes have no meaning. Larger defects are assumed to be easier to"
                      + " detect.")));
      Table table =
          new Table("The results in words.")
              .columns(Table.LEFT, "Defect")
              .columns(Table.SENTENCE, "Result");
      kinds.forEach(k -> table.row(k.text(), k.sentence()));
      parts.add(Html.table(table));
    }
    return Sheet.of(
        "Defects that the plan " + plan + " detects (simulated)",
        "Simulated. Every campaign on this page runs on the virtual bench.",
        List.of(
            Words.count(campaigns, "campaign")
                + " of "
                + Words.count(trials, "trial")
                + " for each size; a campaign detects a defect if its verdict is not PASS",
            "A sound controller raises an alarm in "
                + alarms.count()
                + " of "
                + Words.count(alarms.trials(), "campaign")
                + " (with 95 % confidence at most "
                + Numbers.upperPercent(alarms.upperBound(0.95))
                + ")"),
        parts);
  }

  private static Drawing draw(List<Kind> kinds) {
    Drawing d =
        new Drawing(
            "defects",
            TOP + kinds.size() * ROW,
            "Smallest defect of each kind that is detected (simulated)",
            "The results in words stand in the table below.");
    for (int i = 0; i < kinds.size(); i++) {
      row(d, kinds.get(i), TOP + i * ROW);
    }
    return d;
  }

  private static void row(Drawing d, Kind kind, double top) {
    int sizes = kind.sizes().size();
    double left = 8;
    double step = (Drawing.RIGHT - 16 - left) / Math.max(1, sizes);
    double y = top + LINE;
    d.label("head", "start", left, top + 18, kind.text());
    if (kind.detectedFrom() < sizes) {
      double from = left + kind.detectedFrom() * step;
      d.rect("bar", from, y - 5, Drawing.RIGHT - 16 - from, 10);
    }
    for (int i = 0; i < sizes; i++) {
      double at = left + (i + 0.5) * step;
      if (kind.missed().contains(i)) {
        d.path("miss", Drawing.diamond(at, y, 6));
      } else if (i < kind.detectedFrom()) {
        d.path("rig", Drawing.square(at, y, 4));
      }
      d.label("tick", "middle", at, y + 24, kind.sizes().get(i));
    }
  }
}
