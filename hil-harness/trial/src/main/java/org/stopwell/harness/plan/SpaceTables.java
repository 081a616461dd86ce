package org.stopwell.harness.plan;

import java.util.Arrays;
import java.util.List;
import java.util.Set;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.harness.trial.Outcome;

/** The keys of a space. */
final class SpaceTables {
  static final String FACTORS = "factors";
  static final String CORRELATIONS = "correlations";
  static final String POINTS = "points";
  static final String PLAN = "plan";
  static final String CONDITION = "condition";
  static final String TARGET = "target";

  private static final Parameter SPACE =
      Parameter.of("space")
          .range("1", "1")
          .initially("1")
          .required()
          .text("File format, always 1.")
          .source("assumed");

  static final Parameter OUTCOME =
      Parameter.of("outcome")
          .choice(Outcome.keys())
          .required()
          .text(
              "stop_error: remaining distance at standstill minus standoff, of trials that stop;"
                  + " over_travel: share of trials past the foramen at any moment; early_stop: share"
                  + " that stop more than tolerance_mm before the standoff (verdict EARLY); refusal: share that refuse; time: bench"
                  + " time of the trial; falsely_sure: share with a reading of trust SURE that is"
                  + " wrong by more than the tolerance.")
          .source("the author's question");

  static final Parameter DESIGN =
      Parameter.of("design")
          .choice(Arrays.stream(Space.Design.values()).map(Space.Design::key).toList())
          .required()
          .text(
              "sobol: sensitivity indices; morris: screening of many factors; latin-hypercube,"
                  + " random: fitted surface; grid: levels of every factor with those of every"
                  + " other; list: the points of the file.")
          .source("the author's question");

  static final Parameter SEED =
      Parameter.of("seed")
          .range("0", String.valueOf(Long.MAX_VALUE))
          .initially("1")
          .text("Seed of the exploration; it sets points, canals and noise.")
          .source("any number");

  static final Parameter TRIALS =
      Parameter.of("trials")
          .unit("trials")
          .range("1", "1000000000000")
          .initially("1000")
          .required()
          .text("Trials at most; the design rounds down to whole sets.")
          .source("the time at hand");

  static final Parameter REPEATS =
      Parameter.of("repeats")
          .unit("trials")
          .range("1", "1000000")
          .initially("1")
          .text(
              "Trials at each point of the settings. Above 1 the design places the settings, every"
                  + " point meets the same canals, and the answer holds the Pareto front.")
          .source("one canal for each point");

  static final Parameter LEVELS =
      Parameter.of("levels")
          .range("2", "1000")
          .initially("5")
          .text("Values of each factor in a grid, from its least to its greatest.")
          .source("assumed");

  static final ParameterTable HEAD =
      new ParameterTable(List.of(SPACE, OUTCOME, DESIGN, SEED, TRIALS, REPEATS, LEVELS));

  static final Set<String> OTHERS =
      Set.of("name", "purpose", PLAN, CONDITION, FACTORS, CORRELATIONS, POINTS, TARGET);

  /** Names of an even spread, a normal one and a list. */
  static final String FROM = "from";

  static final String TO = "to";
  static final String LOG = "log";
  static final String MEAN = "mean";
  static final String SD = "sd";
  static final String CHOICE = "choice";

  static final String OF = "of";

  static final Parameter IS =
      Parameter.of("is")
          .decimals(3)
          .range("-1", "1")
          .initially("0")
          .required()
          .text("Correlation of the normal scores of both factors.")
          .source("the author's knowledge");

  private SpaceTables() {}
}
