package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Every trial in run order: stops by their error against the band, the others in lanes below. */
final class RunOrderChart {
  private static final double TOP = 16;

  /** Where the plotting area ends: the names of its lines stand to the right of it. */
  private static final double RIGHT = Drawing.WIDTH - 92;

  private static final double PLOT_HEIGHT = 270;
  private static final double LANE_HEIGHT = 26;

  /** More dots than this are drawn small. */
  private static final int MANY = 1500;

  /** Room for the number of a stop in the large type of a telephone. */
  private static final double LABEL = 130;

  private final List<Condition> conditions;
  private final List<TrialResult> trials;
  private final int tolerance;
  private final int standoff;
  private final Axis x;
  private final Axis y;

  /** Trials that did not stop, by kind: one lane each. */
  private enum Lane {
    REFUSED("refused", "open"),
    AT_LIMIT("at limit", "open"),
    SURVEYED("surveyed", "open"),
    FAULT("fault", "open"),
    NOT_STARTED("not started", "miss"),
    NO_STOP("no stop", "miss"),
    RIG_FAULT("rig fault", "rig"),
    SAFETY_STOP("safety", "deep");

    private final String label;
    private final String style;

    Lane(String label, String style) {
      this.label = label;
      this.style = style;
    }
  }

  RunOrderChart(List<Condition> conditions, List<TrialResult> trials) {
    this.conditions = List.copyOf(conditions);
    this.trials = trials;
    List<Condition> stops = conditions.stream().filter(c -> c.expectation().stops()).toList();
    List<Condition> shown = stops.isEmpty() ? conditions : stops;
    this.tolerance = shown.stream().mapToInt(Condition::toleranceMicrons).max().orElse(500);
    this.standoff = shown.stream().mapToInt(Condition::standoffMicrons).max().orElse(500);
    // Stops far outside are drawn at the edge, or the band would shrink to a line.
    double reach = Math.max(3 * tolerance, Math.abs(standoff) + tolerance) / 1000.0;
    double low = Math.min(-tolerance, -standoff) / 1000.0;
    double high = Math.max(tolerance, -standoff) / 1000.0;
    for (TrialResult trial : trials) {
      if (trial.stopped()) {
        low = Math.min(low, trial.stopErrorMicrons() / 1000.0);
        high = Math.max(high, trial.stopErrorMicrons() / 1000.0);
      }
    }
    double pad = 0.08 * (Math.min(high, reach) - Math.max(low, -reach));
    this.y =
        new Axis(Math.max(low, -reach) - pad, Math.min(high, reach) + pad, TOP + PLOT_HEIGHT, TOP);
    int last = trials.stream().mapToInt(TrialResult::index).max().orElse(0) + 1;
    this.x = new Axis(0.5, last + 0.5, Drawing.LEFT + 6, RIGHT - 6);
  }

  static Optional<Content> section(Report report) {
    String title = "Every stop, in run order";
    if (report.trials().isEmpty()) {
      return Html.section("run-order-section", title, Html.paragraph("No trial was run."));
    }
    RunOrderChart chart = new RunOrderChart(report.header().conditions(), report.trials());
    long beyond = chart.beyond();
    return Html.section(
        "run-order-section",
        title,
        Html.figure(
            new Figure(
                "",
                List.of(chart.draw(report.label())),
                Legend.RUN_ORDER,
                report.nextFigure(),
                "Each mark is one trial. Above 0 the file stopped early, below 0 late. The band is the"
                    + " tolerance."
                    + (beyond == 0
                        ? ""
                        : " "
                            + Words.count(beyond, "stop lies", "stops lie")
                            + " beyond the frame and "
                            + (beyond == 1 ? "is" : "are")
                            + " drawn at its edge."))));
  }

  Drawing draw(String label) {
    List<Lane> lanes = lanes();
    double bottom = TOP + PLOT_HEIGHT + lanes.size() * LANE_HEIGHT;
    Drawing d =
        new Drawing("run-order", bottom + 56, "Every stop error in run order" + label, describe());
    double bandTop = y.at(tolerance / 1000.0);
    double bandBottom = y.at(-tolerance / 1000.0);
    d.rect("band", Drawing.LEFT, bandTop, RIGHT - Drawing.LEFT, bandBottom - bandTop);
    d.horizontalTicks(y, y.ticks(6), RIGHT, true);
    d.line("aim", Drawing.LEFT, y.at(0), RIGHT, y.at(0));
    double foramen = y.at(-standoff / 1000.0);
    d.line("foramen", Drawing.LEFT, foramen, RIGHT, foramen);
    marks(d);
    d.label("side", "start", RIGHT + 6, y.at(0) + 4.5, "standoff");
    d.label("side", "start", RIGHT + 6, foramen + 4.5, "foramen");
    for (int i = 0; i < lanes.size(); i++) {
      lane(d, lanes.get(i), TOP + PLOT_HEIGHT + (i + 0.5) * LANE_HEIGHT);
    }
    d.line("axis", Drawing.LEFT, bottom, RIGHT, bottom);
    d.verticalTicks(
        x,
        x.ticks(6).stream().filter(t -> t.stripTrailingZeros().scale() <= 0).toList(),
        bottom,
        false);
    d.label("name", "end", RIGHT, bottom + 46, "trial in run order");
    d.label("name", "start", 0, bottom + 46, "↑ stop error, mm");
    return d;
  }

  /** How many stops lie beyond the frame. */
  long beyond() {
    return trials.stream().filter(t -> t.stopped() && isBeyond(t)).count();
  }

  private boolean isOverTravel(TrialResult trial) {
    return conditions.stream()
        .anyMatch(c -> c.name().equals(trial.condition()) && c.isOverTravel(trial));
  }

  private boolean isBeyond(TrialResult trial) {
    double mm = trial.stopErrorMicrons() / 1000.0;
    return mm < y.low() || mm > y.high();
  }

  private void marks(Drawing d) {
    Set<String> within = new LinkedHashSet<>();
    Set<String> outside = new LinkedHashSet<>();
    Set<String> past = new LinkedHashSet<>();
    for (TrialResult trial : trials) {
      if (!trial.stopped() || !ConditionSummary.isAnalysed(trial.verdict())) {
        continue;
      }
      double px = x.at(trial.index() + 1.0);
      double py = y.atClamped(trial.stopErrorMicrons() / 1000.0);
      if (isOverTravel(trial)) {
        past.add(Drawing.triangle(px, py, 5, true));
      } else if (ConditionSummary.isWithin(trial, tolerance)) {
        within.add(Drawing.dot(px, py));
      } else {
        outside.add(Drawing.diamond(px, py, 5));
      }
    }
    // So many dots would run into each other: they are drawn small.
    d.path(within.size() > MANY ? "dot many" : "dot", String.join("", within));
    d.path("miss", String.join("", outside));
    d.path("deep", String.join("", past));
    values(d, trials.stream().filter(t -> t.stopped() && isBeyond(t)).toList());
  }

  /** The numbers of stops that lie beyond the frame, beside their marks, where there is room. */
  private void values(Drawing d, List<TrialResult> beyond) {
    List<TrialResult> labelled = new ArrayList<>();
    for (TrialResult trial : beyond) {
      double px = x.at(trial.index() + 1.0);
      boolean left = px > (Drawing.LEFT + RIGHT) / 2;
      double middle = px + (left ? -1 : 1) * (10 + LABEL / 2);
      boolean free =
          beyond.stream()
              .filter(
                  t ->
                      t.index() != trial.index()
                          && t.stopErrorMicrons() > 0 == trial.stopErrorMicrons() > 0)
              .allMatch(
                  t ->
                      Math.abs(x.at(t.index() + 1.0) - middle)
                          > LABEL * (labelled.contains(t) ? 1.6 : 0.6));
      if (free) {
        labelled.add(trial);
        d.label(
            "note",
            left ? "end" : "start",
            px + (left ? -10 : 10),
            y.atClamped(trial.stopErrorMicrons() / 1000.0) + 4.5,
            Numbers.signedMillimetres(trial.stopErrorMicrons()));
      }
    }
  }

  private void lane(Drawing d, Lane lane, double at) {
    d.line("grid", Drawing.LEFT, at, RIGHT, at);
    Set<String> marks = new LinkedHashSet<>();
    for (TrialResult trial : trials) {
      if (lane == laneOf(trial)) {
        double px = x.at(trial.index() + 1.0);
        marks.add(
            switch (lane) {
              case REFUSED, AT_LIMIT, SURVEYED, FAULT -> Drawing.dot(px, at);
              case NOT_STARTED, NO_STOP -> Drawing.diamond(px, at, 5);
              case RIG_FAULT -> Drawing.square(px, at, 4);
              case SAFETY_STOP -> Drawing.triangle(px, at, 5, true);
            });
      }
    }
    d.path(lane.style, String.join("", marks));
    d.label("tick", "end", Drawing.LEFT - 8, at + 4.5, lane.label);
  }

  private List<Lane> lanes() {
    List<Lane> lanes = new ArrayList<>();
    for (Lane lane : Lane.values()) {
      if (trials.stream().anyMatch(t -> laneOf(t) == lane)) {
        lanes.add(lane);
      }
    }
    return lanes;
  }

  private static @Nullable Lane laneOf(TrialResult trial) {
    if (trial.verdict() == Verdict.RIG_FAULT) {
      return Lane.RIG_FAULT;
    }
    if (trial.verdict() == Verdict.SAFETY_STOP) {
      return Lane.SAFETY_STOP;
    }
    if (trial.stopped()) {
      return null;
    }
    if (trial.neverStarted()) {
      return Lane.NOT_STARTED;
    }
    if (trial.verdict() != Verdict.PASS) {
      return Lane.NO_STOP;
    }
    if (trial.expectation().mayRefuse()) {
      return Lane.REFUSED;
    }
    // A trial that must stop passes without a stop only where the plan injects a fault.
    return switch (trial.expectation()) {
      case DEPTH_LIMIT -> Lane.AT_LIMIT;
      case SURVEY -> Lane.SURVEYED;
      case REFUSE -> Lane.REFUSED;
      case STOP, PATENCY, STOP_OR_REFUSE, COMPARE -> Lane.FAULT;
    };
  }

  private String describe() {
    long stops = trials.stream().filter(TrialResult::stopped).count();
    return stops
        + " stops against a band of ±"
        + Numbers.plainMillimetres(tolerance)
        + " around the standoff; the foramen lies "
        + Numbers.plainMillimetres(Math.abs(standoff))
        + (standoff < 0 ? " above it." : " below it.")
        + " The numbers per condition stand in the table.";
  }
}
