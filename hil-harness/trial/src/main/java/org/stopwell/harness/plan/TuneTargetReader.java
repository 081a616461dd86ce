package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.trial.Expectation;

/** Reads the target of a space: what {@code tune} makes small, and within which limits. */
final class TuneTargetReader {
  static final Parameter MINIMISE =
      Parameter.of("minimise")
          .choice(TuneTarget.Measure.keys())
          .required()
          .text("What tune makes small within the limits.")
          .source("the author's question");

  static final Parameter FRESH =
      Parameter.of("fresh_canals")
          .unit("canals")
          .range("20", "10000000")
          .initially("2000")
          .text("Canals of the judgement, none of which the search meets.")
          .source("the time at hand");

  static final ParameterTable HEAD = new ParameterTable(List.of(MINIMISE, FRESH));

  private static final ParameterTable SHARE =
      new ParameterTable(
          List.of(
              Parameter.of("at_most")
                  .decimals(6)
                  .range("0.000001", "0.999999")
                  .initially("0.005")
                  .required()
                  .text("Greatest share permitted, 0 to 1.")
                  .source("the author's need")));

  private static final ParameterTable SECONDS =
      new ParameterTable(
          List.of(
              Parameter.of("at_most_s")
                  .unit("s", 3)
                  .range("0.001", "3600")
                  .initially("60")
                  .required()
                  .text("Greatest mean bench time permitted.")
                  .source("the author's need")));

  private static final ParameterTable MILLIMETRES =
      new ParameterTable(
          List.of(
              Parameter.of("at_most_mm")
                  .unit("mm", 3)
                  .range("0.001", "10")
                  .initially("0.5")
                  .required()
                  .text("Greatest standard deviation permitted.")
                  .source("the author's need")));

  private final Mistakes mistakes;

  TuneTargetReader(Mistakes mistakes) {
    this.mistakes = mistakes;
  }

  /** The key of the limit of a measure. */
  static ParameterTable table(TuneTarget.Measure measure) {
    return switch (measure) {
      case OVER_TRAVEL, EARLY_STOP, REFUSAL -> SHARE;
      case TIME -> SECONDS;
      case STOP_ERROR_SPREAD -> MILLIMETRES;
    };
  }

  /** The target of a space; empty where it has none. Every mistake is added to the others. */
  Optional<TuneTarget> read(Yaml.Mapping top, Plan plan, PlannedCondition condition) {
    if (!top.entries().containsKey(SpaceTables.TARGET)) {
      return Optional.empty();
    }
    Yaml.Mapping at = Groups.of(top, SpaceTables.TARGET, mistakes);
    Set<String> measures = new LinkedHashSet<>(TuneTarget.Measure.keys());
    ParameterValues head = Sections.resolve(at, SpaceTables.TARGET, HEAD, measures, mistakes);
    TuneTarget.Measure minimise = TuneTarget.Measure.values()[(int) head.get(MINIMISE)];
    List<TuneTarget.Limit> limits = new ArrayList<>();
    for (TuneTarget.Measure measure : TuneTarget.Measure.values()) {
      Yaml.Entry entry = at.entries().get(measure.key());
      if (entry != null) {
        limits.add(limit(at, measure, entry.line()));
      }
    }
    int line = Groups.line(top, SpaceTables.TARGET);
    if (limits.isEmpty()) {
      mistakes.add(
          line,
          SpaceTables.TARGET,
          "states no limit; give at least one, such as over_travel: {at_most: 0.005}");
    }
    for (TuneTarget.Limit limit : limits) {
      contradiction(limit, minimise, plan, condition);
    }
    measurable(at, minimise, condition);
    return Optional.of(new TuneTarget(limits, minimise, head.getInt(FRESH)));
  }

  private TuneTarget.Limit limit(Yaml.Mapping at, TuneTarget.Measure measure, int line) {
    String path = Sections.join(SpaceTables.TARGET, measure.key());
    ParameterTable table = table(measure);
    Parameter atMost = table.parameters().get(0);
    Yaml.Mapping group = Groups.of(at, SpaceTables.TARGET, measure.key(), mistakes);
    double value = Sections.resolve(group, path, table, Set.of(), mistakes).get(atMost);
    return new TuneTarget.Limit(measure, value / (measure.isShare() ? 1e6 : 1e3), line);
  }

  private void contradiction(
      TuneTarget.Limit limit, TuneTarget.Measure minimise, Plan plan, PlannedCondition condition) {
    String path = Sections.join(SpaceTables.TARGET, limit.measure().key());
    if (limit.measure() == minimise) {
      mistakes.add(
          limit.line(), path, "is limited and minimised; limit it, or minimise it, but not both");
    }
    if (limit.measure() == TuneTarget.Measure.REFUSAL
        && condition.expectation() == Expectation.REFUSE) {
      mistakes.add(
          limit.line(),
          path,
          "is limited, and condition "
              + condition.name()
              + " is "
              + condition.expectation().text()
              + "; choose a condition in which the file can stop");
    }
    double longest = plan.head().timeLimitNs() / 1e9;
    if (limit.measure() == TuneTarget.Measure.TIME && !(limit.atMost() < longest)) {
      mistakes.add(
          limit.line(),
          path,
          "at_most_s "
              + limit.atMost()
              + " s limits nothing: no trial of the plan is longer than time_limit_s "
              + longest
              + " s");
    }
    measurable(limit.line(), path, limit.measure(), condition);
  }

  private void measurable(
      Yaml.Mapping at, TuneTarget.Measure minimise, PlannedCondition condition) {
    measurable(
        Groups.line(at, MINIMISE.key()),
        Sections.join(SpaceTables.TARGET, MINIMISE.key()),
        minimise,
        condition);
  }

  private void measurable(
      int line, String path, TuneTarget.Measure measure, PlannedCondition condition) {
    boolean ofStops =
        measure == TuneTarget.Measure.EARLY_STOP || measure == TuneTarget.Measure.STOP_ERROR_SPREAD;
    Expectation expected = condition.expectation();
    if (ofStops
        && (expected == Expectation.SURVEY
            || expected == Expectation.DEPTH_LIMIT
            || expected == Expectation.REFUSE)) {
      mistakes.add(
          line,
          path,
          measure.key()
              + " cannot be estimated: no trial of condition "
              + condition.name()
              + " ("
              + expected.text()
              + ") stops at the standoff");
    }
  }
}
