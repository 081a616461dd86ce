package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.LimitsOfAgreement;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.TrialResult;

/** Reading minus truth at the decision to stop against the mean of both (Bland and Altman 1986). */
final class ReadingAgreement {
  /** 1.96: 95 % of a normal distribution lie within so many standard deviations. */
  private static final double Z95 = 1.959963984540054;

  private static final double TOP = 14;
  private static final double HEIGHT = 230;

  /** Where the plotting area ends: the names of its lines stand to the right of it. */
  private static final double RIGHT = Drawing.WIDTH - 92;

  /** More dots than this are drawn small. */
  private static final int MANY = 1500;

  private final StatisticsChoice choice;
  private final List<TrialResult> split;

  /** How repeats count, in words; empty where there are none. */
  private final String repeats;

  private final Optional<LimitsOfAgreement> agreement;

  ReadingAgreement(StatisticsChoice choice, Stops stops, Repeats repeats) {
    this.choice = choice;
    this.repeats =
        !repeats.any()
            ? ""
            : ", repeats by "
                + (choice.groups().isEmpty() ? "canal" : choice.groups().get(0))
                + " as in 1999";
    this.split = stops.all().stream().filter(ChainChart::isSplit).toList();
    this.agreement =
        !repeats.any()
            ? LimitsOfAgreement.ofPairs(Stops.moments(split, ReadingAgreement::difference))
            : LimitsOfAgreement.ofRepeats(
                Stops.grouped(split, repeats::canal).stream()
                    .map(g -> Stops.moments(g, ReadingAgreement::difference))
                    .toList());
  }

  StatisticRow finding() {
    if (agreement.isEmpty()) {
      return StatisticRow.of(
          "Reading against truth",
          Numbers.NOT_ESTIMABLE,
          split.isEmpty()
              ? "No stop has a truth recorded at its decision."
              : "There must be two stops that differ.");
    }
    LimitsOfAgreement a = agreement.get();
    double c = choice.confidence();
    return StatisticRow.of(
        "Reading against truth",
        "bias "
            + Numbers.signedMillimetres(a.bias())
            + ", limits "
            + Numbers.millimetres(Optional.of(a.limits(Z95))),
        "Reading minus truth at the decision to stop, "
            + Words.count(split.size(), "stop")
            + "; limits of agreement that hold 95 % of differences if normal (Bland and Altman 1986"
            + repeats
            + "). "
            + Numbers.plainPercent(c)
            + " intervals: bias "
            + Numbers.millimetres(Optional.of(a.biasInterval(c)))
            + ", lower limit "
            + Numbers.millimetres(Optional.of(a.lowerLimitInterval(Z95, c)))
            + ", upper limit "
            + Numbers.millimetres(Optional.of(a.upperLimitInterval(Z95, c)))
            + ".");
  }

  /** Reading minus truth, µm: what the error chain calls sense and filter, the other way round. */
  private static int difference(TrialResult t) {
    return -t.chain().senseMicrons() - t.chain().filterMicrons();
  }

  /** The figure, where there is agreement to draw. */
  List<Content> figure(Report report) {
    if (agreement.isEmpty()) {
      return List.of();
    }
    LimitsOfAgreement a = agreement.get();
    double confidence = choice.confidence();
    List<Interval> bands =
        List.of(
            a.upperLimitInterval(Z95, confidence),
            a.biasInterval(confidence),
            a.lowerLimitInterval(Z95, confidence));
    double low = bands.get(2).low();
    double high = bands.get(0).high();
    double from = Double.POSITIVE_INFINITY;
    double to = Double.NEGATIVE_INFINITY;
    for (TrialResult t : split) {
      low = Math.min(low, difference(t));
      high = Math.max(high, difference(t));
      from = Math.min(from, middle(t));
      to = Math.max(to, middle(t));
    }
    double pad = 0.06 * (high - low);
    Axis y = new Axis((low - pad) / 1000, (high + pad) / 1000, TOP + HEIGHT, TOP);
    double side = Math.max(5, 0.05 * (to - from));
    Axis x = new Axis((from - side) / 1000, (to + side) / 1000, Drawing.LEFT, RIGHT);
    Drawing d =
        new Drawing(
            "agreement",
            TOP + HEIGHT + 56,
            "Reading minus truth against the mean of both" + report.label(),
            Words.count(split.size(), "stop")
                + ": bias "
                + Numbers.signedMillimetres(a.bias())
                + ", limits of agreement "
                + Numbers.millimetres(Optional.of(a.limits(Z95)))
                + ".");
    for (Interval band : bands) {
      double top = y.at(band.high() / 1000);
      d.rect("interval", Drawing.LEFT, top, RIGHT - Drawing.LEFT, y.at(band.low() / 1000) - top);
    }
    d.horizontalTicks(y, y.ticks(6), RIGHT, true);
    line(d, y, "limit", a.limits(Z95).high(), "limit");
    line(d, y, "aim", a.bias(), "bias");
    line(d, y, "limit", a.limits(Z95).low(), "limit");
    Set<String> dots = new LinkedHashSet<>();
    split.forEach(t -> dots.add(Drawing.dot(x.at(middle(t) / 1000), y.at(difference(t) / 1000.0))));
    d.path(dots.size() > MANY ? "dot many" : "dot", String.join("", dots));
    d.line("axis", Drawing.LEFT, TOP + HEIGHT, RIGHT, TOP + HEIGHT);
    d.verticalTicks(x, x.ticks(6), TOP + HEIGHT, false);
    d.label("name", "start", 0, TOP + HEIGHT + 46, "↑ reading minus truth, mm");
    d.label("name", "end", RIGHT, TOP + HEIGHT + 46, "mean of both, mm");
    return List.of(
        Html.figure(
            new Figure(
                "",
                List.of(d),
                List.of(),
                report.nextFigure(),
                "Each dot is one stop at the moment of the decision: reading minus truth against the"
                    + " mean of both, which are distances short of the foramen. Bands: "
                    + Numbers.plainPercent(confidence)
                    + " intervals of bias and limits. Above 0 the controller read a longer distance to"
                    + " the foramen than the true one.")));
  }

  private static double middle(TrialResult t) {
    return t.readingMicrons() - difference(t) / 2.0;
  }

  private static void line(Drawing d, Axis y, String style, double microns, String name) {
    double at = y.at(microns / 1000);
    d.line(style, Drawing.LEFT, at, RIGHT, at);
    d.label("side", "start", RIGHT + 6, at + 4.5, name);
  }
}
