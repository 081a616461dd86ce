package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.harness.protocol.Order;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.rig.bench.Scene;

/** The keys of a plan beside those of the scene. */
final class PlanTables {
  /** The section of a scene that holds the fluid. */
  static final String FLUID = "fluid";

  private static final Parameter PLAN =
      Parameter.of("plan")
          .range("1", "1")
          .initially("1")
          .required()
          .text("File format, always 1.")
          .source("assumed");

  static final Parameter STAGE =
      Parameter.of("stage")
          .choice("open", "length", "shape", "recheck")
          .required()
          .text("Stage of work; the settings must contain it.")
          .source("the plan's author");

  static final Parameter SEED =
      Parameter.of("seed")
          .range("0", String.valueOf(Long.MAX_VALUE))
          .initially("1")
          .text("Campaign seed; it sets order, drawn values and noise of every trial.")
          .source("any number");

  static final Parameter TRIALS =
      Parameter.of("trials")
          .unit("trials")
          .range("1", "1000000")
          .initially("1")
          .required()
          .text("Trials in each condition.")
          .source("the claim: size says how many it needs");

  static final Parameter TOLERANCE =
      Parameter.of("tolerance_mm")
          .unit("mm", 3)
          .range("0.01", "5")
          .initially("0.5")
          .text(
              "Half width of the tolerance band around the standoff, the set distance short "
                  + "of the foramen.")
          .source("common practice in the literature on stop accuracy");

  static final Parameter TIME_LIMIT =
      Parameter.of("time_limit_s")
          .unit("s", 9)
          .range("0.1", "3600")
          .initially("60")
          .text("Bench time after which a trial ends.")
          .source("assumed");

  static final Parameter ORDER =
      Parameter.of("order")
          .choice(Order.keys())
          .text(
              "blocks: each block holds every condition once, in a drawn order. "
                  + "latin-square: also, every condition stands equally often in every place and "
                  + "after every other.")
          .source("common practice");

  static final Parameter CANAL_TRIALS =
      Parameter.of("canal_trials")
          .unit("trials")
          .range("1", "1000")
          .initially("1")
          .text(
              "Consecutive trials of a condition that share a canal: one that vary or draw draws, or "
                  + "a tooth of teeth.")
          .source("every trial a canal of its own");

  /** Each trial works on a tooth, a fluid and a hand of the drawn population. */
  static final String POPULATION = "population";

  static final Parameter DRAW =
      Parameter.of("draw")
          .choice("none", POPULATION)
          .text(
              "population: canal, fluid, file surface, hand and front end of each trial are drawn "
                  + "from the population of the virtual bench; what scene and vary state replaces "
                  + "what is drawn. File size and taper are those of the settings. The conditions of "
                  + "a block, and canal_trials blocks, share the canal. Not for hardware.")
          .source("the model card: every spread with its source");

  static final Parameter FILL =
      Parameter.of("fill")
          .choice("half_wet", "brimful", "flooded", "dry")
          .text(
              "Fluid in the canal before the file goes in; needs draw: population or teeth. half_wet: "
                  + "the apical half; brimful: to the orifice; flooded: into the chamber; dry: none.")
          .source("the plan's author");

  /** The sections of a scene as plans write them. */
  static final Map<String, ParameterTable> SCENE = scene();

  static final Parameter EXPECT =
      Parameter.of("expect")
          .choice(Expectation.keys())
          .text(
              "stop: the file rests at the standoff; refuse: the controller states why it has no "
                  + "valid reading; patency: the file rests at a standoff past the foramen on "
                  + "purpose; depth_limit: the file rests at depth_limit_mm of its stage, by the "
                  + "depth axis, with the torque within its limit; stop_or_refuse: the controller may refuse, and if it stops, the "
                  + "file rests at the standoff; compare: as stop_or_refuse, shown for comparison, "
                  + "and neither claims nor the verdict count it; survey: the motor rests, and the "
                  + "approach in an extracted tooth is recorded. The word of a level replaces that "
                  + "of the plan. If two levels of a condition differ, compare applies, else the "
                  + "word other than stop.")
          .source("stop, unless the canal permits no valid reading");

  /** The plain values at the top of a plan. */
  static final ParameterTable HEAD =
      new ParameterTable(
          List.of(
              PLAN,
              STAGE,
              SEED,
              TRIALS,
              TOLERANCE,
              EXPECT,
              TIME_LIMIT,
              ORDER,
              DRAW,
              CANAL_TRIALS,
              DeviceReader.CONTROLLER));

  /** A level without a stage of its own. */
  static final String OF_PLAN = "of-plan";

  static final Parameter LEVEL_STAGE =
      Parameter.of("stage")
          .choice(OF_PLAN, "open", "length", "shape", "recheck")
          .text("Stage of work in this level; the settings must contain it.")
          .source("the plan's own stage");

  /** Keys of a level beside its part of the scene. */
  static final ParameterTable LEVEL = new ParameterTable(List.of(EXPECT, LEVEL_STAGE));

  static final Parameter FROM = end("from", "Least value.");
  static final Parameter TO = end("to", "Greatest value.");
  static final Parameter MEAN = end("mean", "Mean of a normal distribution.");
  static final Parameter SD =
      end(
          "sd",
          "Standard deviation; the distribution is cut at "
              + Variation.CUT
              + " standard deviations.");

  static final Parameter SHARE =
      Parameter.of("share")
          .decimals(6)
          .range("0", "1")
          .initially("0.95")
          .required()
          .text("Share of trials that the claim states.")
          .source("the claim's author");

  static final Parameter CONFIDENCE =
      Parameter.of("confidence")
          .decimals(6)
          .range("0.500001", "0.999999")
          .initially("0.95")
          .text("One-sided confidence of the bound that decides.")
          .source("common practice");

  static final Parameter BAND =
      Parameter.of("band_mm")
          .unit("mm", 3)
          .range("0.001", "5")
          .initially("0.5")
          .text("Half width of the band around the standoff; tolerance_mm when absent.")
          .source("the plan's tolerance");

  static final Parameter MARGIN =
      Parameter.of("margin_mm")
          .unit("mm", 3)
          .range("0.001", "5")
          .initially("0.1")
          .required()
          .text("Margin of the mean stop error on either side of zero.")
          .source("the claim's author");

  /** A claim on each condition alone. */
  static final String CONDITION = "condition";

  static final Parameter EACH =
      Parameter.of("each")
          .choice("none", CONDITION)
          .text(
              "none: the claim is about the trials of all conditions together. condition: it must "
                  + "hold in each condition alone, with its confidence over all of them (Holm 1979).")
          .source("design choice");

  static final Parameter REFUSED_AT_MOST =
      Parameter.of("refused_at_most")
          .decimals(6)
          .range("0.001", "0.5")
          .initially("0.05")
          .text(
              "Share of trials without a stop that the claim tolerates; its upper bound, with the "
                  + "confidence of the claim, must not exceed it.")
          .source("assumed: as the usual share of misses");

  static final Parameter COVERAGE =
      Parameter.of("coverage")
          .flag(true)
          .text("Tolerance intervals of the stops, normal and distribution-free.")
          .source("first question of a reader");

  static final Parameter PRECISION =
      Parameter.of("precision")
          .flag(true)
          .text("Repeatability; with groups, also the spread between their levels.")
          .source("second question of a reader");

  static final Parameter AGREEMENT =
      Parameter.of("agreement")
          .flag(true)
          .text(
              "Reading against truth at the decision to stop, on benches that know the " + "truth.")
          .source("reported where the bench knows the truth");

  static final Parameter SEQUENTIAL =
      Parameter.of("sequential")
          .flag(false)
          .text(
              "Bounds of the claims that stay valid however often a running campaign is "
                  + "inspected.")
          .source("needed only for early inspection");

  static final Parameter EQUIVALENCE =
      Parameter.of("margin_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("0")
          .text("Margin of the mean stop error for two one-sided tests; 0: no test.")
          .source("the plan's author");

  static final Parameter PART =
      Parameter.of("share")
          .decimals(6)
          .range("0.5", "0.9999")
          .initially("0.95")
          .text("Share of all stops that the tolerance interval contains.")
          .source("common practice");

  /** The statistics that a plan asks for, beside its groups. */
  static final ParameterTable ANALYSIS =
      new ParameterTable(
          List.of(COVERAGE, PART, CONFIDENCE, PRECISION, AGREEMENT, EQUIVALENCE, SEQUENTIAL));

  /** The claims a plan may make, by endpoint. */
  static final Map<String, ParameterTable> CLAIMS = claims();

  /** Keys of a plan beside its plain values. */
  static final Set<String> OTHERS =
      Set.of(
          "name",
          "purpose",
          "settings",
          "scene",
          "vary",
          "factors",
          "claims",
          "analysis",
          TeethReader.KEY,
          DeviceReader.KEY,
          MountReader.KEY,
          FaultReader.KEY,
          ProtocolTables.ENDPOINTS,
          ProtocolTables.BLIND,
          ProtocolTables.SENTINELS,
          ProtocolTables.EXCLUDE,
          ProtocolTables.STOP,
          ProtocolTables.SIZE);

  private PlanTables() {}

  private static Map<String, ParameterTable> claims() {
    Map<String, ParameterTable> claims = new LinkedHashMap<>();
    claims.put("within", new ParameterTable(List.of(SHARE, CONFIDENCE, BAND, EACH)));
    claims.put("over_travel", new ParameterTable(List.of(SHARE, CONFIDENCE, EACH)));
    claims.put("overrun", new ParameterTable(List.of(SHARE, CONFIDENCE, EACH)));
    claims.put("refused", new ParameterTable(List.of(SHARE, CONFIDENCE, EACH)));
    claims.put("bias", new ParameterTable(List.of(MARGIN, CONFIDENCE, REFUSED_AT_MOST, EACH)));
    return claims;
  }

  private static Map<String, ParameterTable> scene() {
    Map<String, ParameterTable> tables = new LinkedHashMap<>(Scene.tables());
    tables.computeIfPresent(
        FLUID,
        (name, table) ->
            new ParameterTable(
                Stream.concat(Stream.of(FILL), table.parameters().stream()).toList()));
    return tables;
  }

  /** The table of one varied value: its ends obey its own limits. */
  static ParameterTable variation(Parameter of, boolean bell) {
    return bell
        ? new ParameterTable(List.of(like(MEAN, of, of.min()), like(SD, of, 1)))
        : new ParameterTable(List.of(like(FROM, of, of.min()), like(TO, of, of.min())));
  }

  private static Parameter like(Parameter name, Parameter of, long min) {
    return new Parameter(
        name.key(),
        Parameter.Kind.NUMBER,
        of.unit(),
        of.decimals(),
        min,
        of.max(),
        Math.max(min, of.defaultValue()),
        List.of(),
        true,
        name.text(),
        name.source());
  }

  private static Parameter end(String key, String text) {
    return Parameter.of(key)
        .range("0", "0")
        .initially("0")
        .required()
        .text(text)
        .source("the plan's author");
  }
}
