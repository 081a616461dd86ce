package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.stopwell.harness.advice.SentinelAdvice;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.evidence.Service;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Sentinels;

/** Sentinels in run order against their limits (Levey and Jennings 1950), and every bad one. */
final class SentinelChart {
  private static final double TOP = 14;
  private static final double HEIGHT = 170;
  private static final double RIGHT = Drawing.WIDTH - 60;

  private SentinelChart() {}

  static Content of(Report report) {
    Evidence evidence = report.evidence();
    Optional<SentinelRule> rule = evidence.header().protocol().sentinels();
    if (rule.isEmpty()) {
      return Html.all(List.of());
    }
    List<Sentinels.Point> points = evidence.sentinels();
    Sentinels limits = rule.get().limits();
    long bad = points.stream().filter(p -> p.broken().isPresent()).count();
    List<Content> parts = new ArrayList<>();
    parts.add(Html.heading("Sentinels"));
    parts.add(
        Html.paragraph(
            Words.count(points.size(), "known-answer trial")
                + " hidden in the order, expected at rest "
                + Numbers.plainMillimetres((int) limits.expected())
                + " short of the foramen, SD "
                + Numbers.plainMillimetres((int) limits.deviation())
                + "; "
                + (bad == 0 ? "all good." : bad + " bad.")
                + " A bad sentinel excludes every trial since the last good one"
                + (rule.get().stops()
                    ? ", and the campaign stops until the bench is serviced. "
                    : "; the campaign goes on. ")
                + String.join(" ", SentinelAdvice.of(rule.get()))));
    if (points.isEmpty()) {
      return Html.all(parts);
    }
    String caption =
        "Sentinels. Each dot is a known-answer trial: its distance at rest minus the known answer, in"
            + " standard deviations of a sound rig. The outer lines are the limit of one sentinel"
            + " alone. A diamond broke a rule.";
    parts.add(
        Html.figure(
            new Figure(
                "",
                List.of(draw(points, limits, bad, report.label())),
                List.of(),
                report.nextFigure(),
                caption)));
    if (bad > 0) {
      Table table =
          new Table("Bad sentinels" + report.label())
              .columns(Table.LEFT, "trial", "off by", "rule");
      for (Sentinels.Point point : points) {
        point
            .broken()
            .ifPresent(
                broken ->
                    table.row(
                        Integer.toString(point.trial() + 1),
                        Double.isInfinite(point.z())
                            ? "did not stop"
                            : String.format(Locale.ROOT, "%+.1f SD", point.z()).replace('-', '−'),
                        limits.text(broken)));
      }
      parts.add(Html.table(table));
    }
    List<Service> services = Service.of(report.notes());
    if (!services.isEmpty()) {
      Table table =
          new Table("Service to the bench, in the operator's words")
              .columns(Table.LEFT, "after trial", "when", "what was done");
      services.forEach(s -> table.row(Integer.toString(s.trial() + 1), s.at(), s.done()));
      parts.add(Html.table(table));
    }
    return Html.all(parts);
  }

  private static Drawing draw(
      List<Sentinels.Point> points, Sentinels limits, long bad, String label) {
    double edge = limits.limit(Sentinels.Rule.ONE_BEYOND_3S);
    int last = points.get(points.size() - 1).trial() + 1;
    Axis x = new Axis(0, Math.max(2, last + 1), Drawing.LEFT, RIGHT);
    Axis y = new Axis(-edge - 1, edge + 1, TOP + HEIGHT, TOP);
    Drawing drawing =
        new Drawing(
            "sentinels",
            TOP + HEIGHT + 48,
            "Sentinels in run order" + label,
            points.size()
                + " known-answer trials against their limits, in standard deviations; "
                + bad
                + " bad.");
    for (int sd = -3; sd <= 3; sd++) {
      drawing.line(sd == 0 ? "axis" : "grid", Drawing.LEFT, y.at(sd), RIGHT, y.at(sd));
      drawing.label(
          "tick",
          "end",
          Drawing.LEFT - 8,
          y.at(sd) + 4.5,
          sd == 0 ? "0" : (sd < 0 ? "−" : "+") + Math.abs(sd) + " SD");
    }
    for (double limit : new double[] {-edge, edge}) {
      drawing.line("limit", Drawing.LEFT, y.at(limit), RIGHT, y.at(limit));
      drawing.label("side", "start", RIGHT + 6, y.at(limit) + 4.5, "limit");
    }
    StringBuilder line = new StringBuilder();
    StringBuilder good = new StringBuilder();
    StringBuilder wrong = new StringBuilder();
    for (Sentinels.Point point : points) {
      double px = x.at(point.trial() + 1);
      double py = y.atClamped(point.z());
      line.append(line.length() == 0 ? "M" : "L")
          .append(Axis.px(px))
          .append(' ')
          .append(Axis.px(py));
      if (point.broken().isPresent()) {
        wrong.append(Drawing.diamond(px, py, 5));
      } else {
        good.append(Drawing.dot(px, py));
      }
    }
    drawing.path("grid", line.toString());
    drawing.path("dot", good.toString());
    drawing.path("miss", wrong.toString());
    drawing.verticalTicks(x, x.ticks(8), TOP + HEIGHT, false);
    drawing.label("name", "middle", (Drawing.LEFT + RIGHT) / 2, TOP + HEIGHT + 42, "trial");
    return drawing;
  }
}
