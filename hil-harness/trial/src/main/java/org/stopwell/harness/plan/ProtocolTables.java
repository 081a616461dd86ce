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

  /** Free text of a claim: reason for its limit. */
  static final String WHY = "why";

  /** The part of the scene that sentinels have of their own. */
  static final String SCENE = "scene";

  /** A list of endpoints beside the primary one. */
  static final String SECONDARY = "secondary";

  static final Parameter PRIMARY =
      Parameter.of("primary")
          .choice(Endpoint.keys())
          .required()
          .text("Endpoint that decides; the others are reported beside it.")
          .source("the plan's author");

  static final ParameterTable ENDPOINT = new ParameterTable(List.of(PRIMARY));

  static final Parameter EVERY =
      Parameter.of("every")
          .unit("trials")
          .range("1", "10000")
          .initially("20")
          .required()
          .text(
              "One known-answer trial is hidden among this many trials; one more comes " + "last.")
          .source("the plan's author");

  static final Parameter EXPECTED =
      Parameter.of("expected_mm")
          .unit("mm", 3)
          .range("-2", "30")
          .initially("0.5")
          .required()
          .text("Known answer: remaining distance at rest.")
          .source("measured on a sound rig");

  static final Parameter DEVIATION =
      Parameter.of("sd_mm")
          .unit("mm", 3)
          .range("0.001", "5")
          .initially("0.05")
          .required()
          .text("Standard deviation of the known answer on a sound rig.")
          .source("measured on a sound rig");

  static final Parameter LEARNED_FROM =
      Parameter.of("learned_from")
          .unit("trials")
          .range("10", "100000")
          .initially("30")
          .text(
              "Trials that taught expected_mm and sd_mm; see stopwell sentinel. Fewer trials "
                  + "give wider limits.")
          .source("the example of the pages: thirty trials");

  static final String STOP_ON_BAD = "stop";

  static final Parameter ON_BAD =
      Parameter.of("on_bad")
          .choice(STOP_ON_BAD, "go_on")
          .text(
              "Reaction to a bad sentinel. stop: the campaign stops until resume states "
                  + "what was done to the bench. go_on: the campaign continues; the trials are "
                  + "excluded all the same.")
          .source("trials on a bench known to be wrong are wasted");

  static final ParameterTable SENTINEL =
      new ParameterTable(List.of(EVERY, EXPECTED, DEVIATION, LEARNED_FROM, ON_BAD));

  static final Parameter AFTER_RIG_FAULT =
      Parameter.of("after_rig_fault")
          .unit("trials")
          .range("0", "100")
          .initially("0")
          .text("Trials to exclude after a rig fault.")
          .source("no such rule");

  static final Parameter LATE_STEP =
      Parameter.of("late_step_ms")
          .unit("ms", 6)
          .range("0", "20")
          .initially("0")
          .text(
              "Lateness of a step above which its trial is excluded; 0: only the 20 ms that "
                  + "every bench must keep.")
          .source("no such rule");

  static final ParameterTable EXCLUSION = new ParameterTable(List.of(AFTER_RIG_FAULT, LATE_STEP));

  static final Parameter RULE =
      Parameter.of("rule")
          .choice(StoppingRule.Kind.keys())
          .required()
          .text(
              "fixed: every trial runs. sprt: Wald's test of a share, at most the plan's "
                  + "trials. group-sequential: a few looks, each stricter. anytime: bounds that "
                  + "hold at every trial.")
          .source("the plan's author");

  static final Parameter CLAIM =
      Parameter.of("claim")
          .choice("within", "over_travel", "refused", "bias")
          .text("Claim that the rule decides.")
          .source("the plan's author");

  static final Parameter GOOD_SHARE =
      Parameter.of("good_share")
          .decimals(6)
          .range("0.000001", "0.999999")
          .initially("0.99")
          .text("sprt: share, in the sense of the claim, to accept.")
          .source("the plan's author");

  static final Parameter POWER =
      power("sprt: least probability of not rejecting the good share.", "0.5001");

  static final Parameter LOOKS =
      Parameter.of("looks")
          .range("2", "20")
          .initially("4")
          .text("group-sequential: number of looks at equal steps, the last at the end.")
          .source("common practice: three to five");

  static final Parameter SHAPE =
      Parameter.of("shape")
          .decimals(2)
          .range("0", "0.5")
          .initially("0")
          .text(
              "group-sequential: 0 is strict at first (O'Brien and Fleming); 0.5 is equal "
                  + "at every look (Pocock).")
          .source("Wang and Tsiatis, Biometrics 1987;43:193");

  static final ParameterTable STOPPING =
      new ParameterTable(List.of(RULE, CLAIM, GOOD_SHARE, POWER, LOOKS, SHAPE));

  static final Parameter TRUE_SHARE =
      Parameter.of("true_share")
          .decimals(6)
          .range("0", "1")
          .initially("0")
          .text("Expected share of trials that meet the claim; 0: all of them.")
          .source("no miss");

  static final Parameter SD =
      Parameter.of("sd_mm")
          .unit("mm", 3)
          .range("0.001", "5")
          .initially("0.15")
          .text("Expected standard deviation of the stop error, for a claim on the mean.")
          .source("assumed");

  static final Parameter BIAS =
      Parameter.of("bias_mm")
          .unit("mm", 3)
          .range("-5", "5")
          .initially("0")
          .text("Expected mean stop error, for a claim on the mean.")
          .source("assumed");

  static final Parameter SIZE_POWER = power("Wanted probability of showing a true claim.", "0.5");

  static final Parameter ICC =
      Parameter.of("icc")
          .decimals(3)
          .range("0", "1")
          .initially("0")
          .text(
              "Intraclass correlation of the trials in one canal; required, above 0, when "
                  + "canal_trials is above 1. Decides the planned number of trials only, no claim.")
          .source("assumed: a canal each");

  static final Parameter LOST =
      Parameter.of("lost")
          .decimals(3)
          .range("0", "0.9")
          .initially("0")
          .text("Expected share of trials lost to the rig. A lost trial counts against a claim.")
          .source("assumed");

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

  private static Parameter power(String text, String least) {
    return Parameter.of("power")
        .decimals(4)
        .range(least, "0.9999")
        .initially("0.9")
        .text(text)
        .source("common practice");
  }
}
