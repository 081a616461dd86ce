package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.harness.protocol.Order;
import org.stopwell.harness.trial.Expectation;

/** The keys of a plan beside those of the scene. */
final class PlanTables {
  private static final Parameter PLAN =
      Parameter.number("plan", "", 0, "1", "1", "1", "Format of the file, always 1.", "assumed")
          .asRequired();

  static final Parameter STAGE =
      Parameter.choice(
              "stage",
              List.of("open", "length", "shape", "recheck"),
              "Stage of work; the settings must describe it.",
              "the plan's author")
          .asRequired();

  static final Parameter SEED =
      Parameter.number(
          "seed",
          "",
          0,
          "0",
          String.valueOf(Long.MAX_VALUE),
          "1",
          "Campaign seed: order, drawn values and noise of every trial follow from it.",
          "any number will do");

  static final Parameter TRIALS =
      Parameter.number(
              "trials",
              "trials",
              0,
              "1",
              "1000000",
              "1",
              "Trials in each condition.",
              "the claim: size says how many it needs")
          .asRequired();

  static final Parameter TOLERANCE =
      Parameter.number(
          "tolerance_mm",
          "mm",
          3,
          "0.01",
          "5",
          "0.5",
          "Half width of the tolerance band around the standoff.",
          "common practice in the literature on stop accuracy");

  static final Parameter TIME_LIMIT =
      Parameter.number(
          "time_limit_s",
          "s",
          9,
          "0.1",
          "3600",
          "60",
          "Bench time after which a trial ends.",
          "assumed");

  static final Parameter ORDER =
      Parameter.choice(
          "order",
          Order.keys(),
          "blocks: every condition once in each block, in an order drawn for it. latin-square: also"
              + " every condition equally often in every place and after every other.",
          "common practice");

  static final Parameter CANAL_TRIALS =
      Parameter.number(
          "canal_trials",
          "trials",
          0,
          "1",
          "1000",
          "1",
          "Trials of each condition in a row that share what vary draws for the canal.",
          "every trial a canal of its own");

  static final Parameter EXPECT =
      Parameter.choice(
          "expect",
          Expectation.keys(),
          "stop: the file comes to rest at the standoff; refuse: the controller says that it cannot"
              + " know; patency: the file comes to rest at a standoff that lies past the foramen on"
              + " purpose; depth_limit: the file comes to rest at depth_limit_mm of its stage, by the"
              + " depth axis. A level puts its word over the plan's. Of two levels of one condition"
              + " the word that is not stop holds.",
          "stop, unless the canal makes a reading worthless");

  /** The plain values at the top of a plan. */
  static final ParameterTable HEAD =
      new ParameterTable(
          List.of(PLAN, STAGE, SEED, TRIALS, TOLERANCE, EXPECT, TIME_LIMIT, ORDER, CANAL_TRIALS));

  /** A level that says nothing of its stage. */
  static final String OF_PLAN = "of-plan";

  static final Parameter LEVEL_STAGE =
      Parameter.choice(
          "stage",
          List.of(OF_PLAN, "open", "length", "shape", "recheck"),
          "Stage of work in this level; the settings must describe it.",
          "the plan's own stage");

  /** What a level may say beside its part of the scene. */
  static final ParameterTable LEVEL = new ParameterTable(List.of(EXPECT, LEVEL_STAGE));

  static final Parameter FROM = end("from", "Least value.");
  static final Parameter TO = end("to", "Greatest value.");
  static final Parameter MEAN = end("mean", "Centre of a normal distribution.");
  static final Parameter SD =
      end("sd", "Standard deviation; the distribution is cut at " + Variation.CUT + " of them.");

  static final Parameter SHARE =
      Parameter.number(
              "share",
              "",
              6,
              "0",
              "1",
              "0.95",
              "Share of the trials that the endpoint is held against.",
              "the claim's author")
          .asRequired();

  static final Parameter CONFIDENCE =
      Parameter.number(
          "confidence",
          "",
          6,
          "0.500001",
          "0.999999",
          "0.95",
          "One-sided confidence of the bound that decides.",
          "common practice");

  static final Parameter BAND =
      Parameter.number(
          "band_mm",
          "mm",
          3,
          "0.001",
          "5",
          "0.5",
          "Half width of the band around the standoff; tolerance_mm when absent.",
          "the plan's tolerance");

  static final Parameter MARGIN =
      Parameter.number(
              "margin_mm",
              "mm",
              3,
              "0.001",
              "5",
              "0.1",
              "Margin of the mean stop error on both sides of zero.",
              "the claim's author")
          .asRequired();

  static final Parameter COVERAGE =
      Parameter.flag(
          "coverage",
          true,
          "Where a share of all stops lies: tolerance intervals, normal and distribution-free.",
          "what a reader asks first");

  static final Parameter PRECISION =
      Parameter.flag(
          "precision",
          true,
          "Repeatability and, with groups, what lies between their levels.",
          "what a reader asks next");

  static final Parameter AGREEMENT =
      Parameter.flag(
          "agreement",
          true,
          "The reading against the truth at the decision to stop, where the bench knows the truth.",
          "shown where it can be");

  static final Parameter SEQUENTIAL =
      Parameter.flag(
          "sequential",
          false,
          "Bounds of the claims that hold however often one looks at a campaign under way.",
          "only for those who look early");

  static final Parameter EQUIVALENCE =
      Parameter.number(
          "margin_mm",
          "mm",
          3,
          "0",
          "5",
          "0",
          "Margin of the mean stop error for two one-sided tests; 0: not tested.",
          "the plan's author");

  static final Parameter PART =
      Parameter.number(
          "share",
          "",
          6,
          "0.5",
          "0.9999",
          "0.95",
          "Share of all stops that the tolerance interval shall hold.",
          "common practice");

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
    claims.put("within", new ParameterTable(List.of(SHARE, CONFIDENCE, BAND)));
    claims.put("over_travel", new ParameterTable(List.of(SHARE, CONFIDENCE)));
    claims.put("refused", new ParameterTable(List.of(SHARE, CONFIDENCE)));
    claims.put("bias", new ParameterTable(List.of(MARGIN, CONFIDENCE)));
    return claims;
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
    return Parameter.number(key, "", 0, "0", "0", "0", text, "the plan's author").asRequired();
  }
}
