package org.stopwell.harness.plan;

import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.harness.protocol.Endpoint;
import org.stopwell.harness.protocol.StoppingRule;

/** The keys that make a plan a protocol. */
final class ProtocolTables {
  static final String ENDPOINTS = "endpoints";
  static final String BLIND = "blind";
  static final String SENTINELS = "sentinels";
  static final String EXCLUDE = "exclude";
  static final String STOP = "stop";
  static final String SIZE = "size";

  /** Free text of a claim: why it is held against this limit. */
  static final String WHY = "why";

  /** The part of the scene that sentinels have of their own. */
  static final String SCENE = "scene";

  /** A list of endpoints beside the primary one. */
  static final String SECONDARY = "secondary";

  static final Parameter PRIMARY =
      Parameter.choice(
              "primary",
              Endpoint.keys(),
              "The endpoint that decides; the others are reported beside it.",
              "the plan's author")
          .asRequired();

  static final ParameterTable ENDPOINT = new ParameterTable(List.of(PRIMARY));

  static final Parameter EVERY =
      Parameter.number(
              "every",
              "trials",
              0,
              "1",
              "10000",
              "20",
              "One known-answer trial is hidden in every stretch of so many trials, one more comes last.",
              "the plan's author")
          .asRequired();

  static final Parameter EXPECTED =
      Parameter.number(
              "expected_mm",
              "mm",
              3,
              "-2",
              "30",
              "0.5",
              "The known answer: remaining distance at rest.",
              "measured on a rig that is known to be sound")
          .asRequired();

  static final Parameter DEVIATION =
      Parameter.number(
              "sd_mm",
              "mm",
              3,
              "0.001",
              "5",
              "0.05",
              "Standard deviation of the known answer on a sound rig.",
              "measured on a rig that is known to be sound")
          .asRequired();

  static final String STOP_ON_BAD = "stop";

  static final Parameter ON_BAD =
      Parameter.choice(
          "on_bad",
          List.of(STOP_ON_BAD, "go_on"),
          "stop: a bad one stops the campaign until somebody has seen to the bench and says what was"
              + " done. go_on: the campaign goes on; the trials are excluded all the same.",
          "a bench that is known to be wrong wears for nothing");

  static final ParameterTable SENTINEL =
      new ParameterTable(List.of(EVERY, EXPECTED, DEVIATION, ON_BAD));

  static final Parameter AFTER_RIG_FAULT =
      Parameter.number(
          "after_rig_fault",
          "trials",
          0,
          "0",
          "100",
          "0",
          "So many trials after a rig fault are excluded.",
          "no such rule");

  static final Parameter LATE_STEP =
      Parameter.number(
          "late_step_ms",
          "ms",
          6,
          "0",
          "20",
          "0",
          "A step later than this excludes its trial; 0 leaves it to the 20 ms that every bench must keep.",
          "no such rule");

  static final ParameterTable EXCLUSION = new ParameterTable(List.of(AFTER_RIG_FAULT, LATE_STEP));

  static final Parameter RULE =
      Parameter.choice(
              "rule",
              StoppingRule.Kind.keys(),
              "fixed: every trial is run. sprt: Wald's test of a share, capped by the plan's trials."
                  + " group-sequential: a few looks, each stricter. anytime: bounds that hold at every"
                  + " trial.",
              "the plan's author")
          .asRequired();

  static final Parameter CLAIM =
      Parameter.choice(
          "claim",
          List.of("within", "over_travel", "refused", "bias"),
          "The claim that the rule decides.",
          "the plan's author");

  static final Parameter GOOD_SHARE =
      Parameter.number(
          "good_share",
          "",
          6,
          "0.000001",
          "0.999999",
          "0.99",
          "sprt: the share, in the claim's own sense, that shall be accepted.",
          "the plan's author");

  static final Parameter POWER = power("power", "sprt: chance of accepting the good share.");

  static final Parameter LOOKS =
      Parameter.number(
          "looks",
          "",
          0,
          "2",
          "20",
          "4",
          "group-sequential: how many looks at equal steps, the last at the end.",
          "common practice: three to five");

  static final Parameter SHAPE =
      Parameter.number(
          "shape",
          "",
          2,
          "0",
          "0.5",
          "0",
          "group-sequential: 0 is strict at first (O'Brien and Fleming), 0.5 the same at every look"
              + " (Pocock).",
          "Wang and Tsiatis, Biometrics 1987;43:193");

  static final ParameterTable STOPPING =
      new ParameterTable(List.of(RULE, CLAIM, GOOD_SHARE, POWER, LOOKS, SHAPE));

  static final Parameter TRUE_SHARE =
      Parameter.number(
          "true_share",
          "",
          6,
          "0",
          "1",
          "0",
          "Share of trials expected to do as claimed; 0 reckons with no miss at all.",
          "no miss");

  static final Parameter SD =
      Parameter.number(
          "sd_mm",
          "mm",
          3,
          "0.001",
          "5",
          "0.15",
          "Standard deviation of the stop error that is expected, for a claim on the mean.",
          "assumed");

  static final Parameter BIAS =
      Parameter.number(
          "bias_mm",
          "mm",
          3,
          "-5",
          "5",
          "0",
          "Mean stop error that is expected, for a claim on the mean.",
          "assumed");

  static final Parameter SIZE_POWER = power("power", "Wanted chance of showing a true claim.");

  static final Parameter ICC =
      Parameter.number(
          "icc",
          "",
          3,
          "0",
          "1",
          "0",
          "Intraclass correlation of the trials in one canal; asked for, above 0, where canal_trials is above 1. The claims reckon with at least as much.",
          "assumed: a canal each");

  static final Parameter LOST =
      Parameter.number(
          "lost", "", 3, "0", "0.9", "0", "Share of trials that the rig will spoil.", "assumed");

  static final ParameterTable SIZING =
      new ParameterTable(List.of(TRUE_SHARE, SD, BIAS, SIZE_POWER, ICC, LOST));

  /** The groups that are tables, by key. */
  static final Map<String, ParameterTable> TABLES = tables();

  private ProtocolTables() {}

  private static Map<String, ParameterTable> tables() {
    Map<String, ParameterTable> tables = new java.util.LinkedHashMap<>();
    tables.put(ENDPOINTS, ENDPOINT);
    tables.put(SENTINELS, SENTINEL);
    tables.put(EXCLUDE, EXCLUSION);
    tables.put(STOP, STOPPING);
    tables.put(SIZE, SIZING);
    return tables;
  }

  private static Parameter power(String key, String text) {
    return Parameter.number(key, "", 4, "0.5", "0.9999", "0.9", text, "common practice");
  }
}
