package org.stopwell.core.policy;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.Explain;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SensingNeeds;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.trace.Event;

class PoliciesTest {
  private static final ParameterTable NONE = new ParameterTable(List.of());

  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private long nowNs;

  @Test
  void thePolicyOfTheExampleStopsByItsFixedLead() throws Exception {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("policies", Map.of("stopping", "fixed-lead"));
    settings.put("policy.fixed-lead", Map.of("lead_mm", "0.25"));
    StopController controller = controller(settings, FixedLeadExample.POLICIES);
    assertEquals(750, stopAt(controller), 15);
    assertEquals(Reason.STANDOFF_REACHED, out.reason);
  }

  @Test
  void withoutPredictionTheStopIsDecidedAtTheStandoff() throws Exception {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("policies", Map.of("stopping", "plain"));
    assertEquals(500, stopAt(controller(settings, Policies.BUILT_IN)), 15);
  }

  @Test
  void aStoppingPolicyCannotPutTheStopOff() throws Exception {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("policies", Map.of("stopping", "late"));
    Policies late =
        Policies.BUILT_IN.withStopping(
            "late", NONE, (all, own) -> (remaining, closing, coast) -> remaining + 5_000);
    assertEquals(500, stopAt(controller(settings, late)), 15);
  }

  @Test
  void aTrustPolicyMayGoOnButNotOnAStaleSignal() throws Exception {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("policies", Map.of("trust", "bold"));
    Policies bold =
        Policies.BUILT_IN.withTrust(
            "bold", NONE, (all, own) -> (trust, cause, doubtful, none) -> Reaction.NONE);
    StopController controller = controller(settings, bold);
    start(controller);
    distance(controller, 5_000, 30, 1);
    assertEquals(Cause.JUMPY, out.cause);
    assertEquals(State.TURNING, out.state);
    for (int i = 0; i < 70; i++) {
      nowNs += 1_000_000;
      controller.step(nowNs, in, out);
    }
    assertEquals(Reason.SIGNAL_STALE, out.reason);
    assertEquals(State.HOLDING, out.state);
  }

  @Test
  void aTorquePolicyThatAsksForLessThanRockingHolds() throws Exception {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("policies", Map.of("torque", "deaf"));
    Policies deaf =
        Policies.BUILT_IN.withTorque(
            "deaf", NONE, (all, own) -> (set, used, retries) -> Reaction.NONE);
    StopController controller = controller(settings, deaf);
    start(controller);
    in.torqueMicroNewtonMetres = 6_000;
    distance(controller, 15_000, 20, 0);
    assertEquals(State.HOLDING, out.state);
  }

  /** A policy that reads a share of the distance, with a standard error. */
  private static Policies sensing(String name, double share, double standardErrorMicrons) {
    return Policies.BUILT_IN.withSensing(
        name,
        SensingNeeds.distance().reading(SenseParameters.CAUTION),
        NONE,
        (all, own) ->
            (sample, m) -> {
              m.placed = true;
              m.inside = sample.distanceMicrons < 16_000;
              m.outside = !m.inside;
              m.remainingMicrons = share * sample.distanceMicrons;
              m.standardErrorMicrons = standardErrorMicrons;
              m.boundMicrons = 2 * standardErrorMicrons;
              m.sdMicrons = 30;
            });
  }

  @Test
  void aSensingPolicyReadsWhatItLikes() throws Exception {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("sense", Map.of("policy", "halved"));
    StopController controller = controller(settings, sensing("halved", 0.5, 0));
    start(controller);
    assertEquals(7_500, out.remainingMicrons, 20);
    assertEquals(Trust.DOUBTFUL, out.trust);
    assertEquals(Cause.WIDE, out.cause, "it states no bound");
    controller = controller(settings, sensing("halved", 0.5, 250));
    start(controller);
    assertEquals(Trust.SURE, out.trust, "the bound is the tolerance, 0.5 mm");
    assertEquals(500, out.boundMicrons);
    controller = controller(settings, sensing("halved", 0.5, 251));
    start(controller);
    assertEquals(Cause.WIDE, out.cause);
  }

  /** Standoff 0.5 mm, one and a half times 0.2 mm before it. */
  @Test
  void aCautiousStopComesSoManyStandardErrorsEarlierAndItsSentenceSaysWhere() throws Exception {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("sense", Map.of("policy", "unsure", "caution_errors", "1.5"));
    settings.put("policies", Map.of("stopping", "plain"));
    StopController controller = controller(settings, sensing("unsure", 1, 200));
    assertEquals(800, stopAt(controller), 15);
    Event event = new Event();
    controller.events().get(controller.events().count() - 1, event);
    assertTrue(
        Explain.event(event)
            .startsWith("Stopped so that the file rests at the standoff of 0.80 mm"),
        Explain.event(event));
  }

  @Test
  void anUnknownPolicyAndAParameterOutOfRangeAreNamed() {
    Map<String, Map<String, Object>> settings = locator();
    settings.put("policies", Map.of("stopping", "hope"));
    settings.put("policy.fixed-lead", Map.of("lead_mm", 3));
    assertEquals(
        "stopping: hope is not one of predict, plain, fixed-lead\n"
            + "lead_mm: 3 mm is outside 0 to 1 mm\n"
            + "policy.fixed-lead: policy fixed-lead is not chosen; remove this section, or write"
            + " policies.stopping: fixed-lead",
        assertThrows(
                SettingsException.class,
                () ->
                    ControllerSettings.of(
                        settings, Calibration.NONE, FixedLeadExample.POLICIES.tables()))
            .getMessage());
    assertThrows(
        IllegalArgumentException.class,
        () -> Policies.BUILT_IN.withTrust("by-stage", NONE, (all, own) -> (t, c, d, n) -> n));
  }

  @Test
  void thePoliciesOfTheCoreAreThoseThatItsSettingsKnow() {
    assertEquals(PolicyTables.BUILT_IN, Policies.BUILT_IN.tables());
  }

  /** What is chosen is required; what is not chosen asks for nothing. */
  @Test
  void aRequiredParameterIsAskedForOnlyWhereItsPolicyIsChosen() throws Exception {
    Parameter must =
        Parameter.of("lead_mm")
            .unit("mm", 3)
            .range("0", "1")
            .required()
            .text(FixedLeadExample.LEAD.text())
            .source("assumed");
    Policies policies =
        Policies.BUILT_IN.withStopping(
            "strict",
            new ParameterTable(List.of(must)),
            (all, own) -> (remaining, closing, coast) -> remaining - own.get(must));
    Map<String, Map<String, Object>> settings = locator();
    controller(settings, policies);
    settings.put("policies", Map.of("stopping", "strict"));
    assertEquals(
        "lead_mm: missing; How much earlier the stop is decided.",
        assertThrows(SettingsException.class, () -> controller(settings, policies)).getMessage());
  }

  /** Its frequencies follow its own parameters; scene and wire follow them. */
  @Test
  void aSensingPolicyStatesItsFrequencies() throws Exception {
    Parameter third =
        Parameter.of("third_hz")
            .unit("Hz")
            .range("100", "20000")
            .initially("9000")
            .text("Upper one.")
            .source("assumed");
    Policies policies =
        Policies.BUILT_IN.withSensing(
            "three",
            SensingNeeds.impedance(
                    (sense, own) ->
                        new int[] {sense.getInt(SenseParameters.LOW), own.getInt(third)})
                .reading(SenseParameters.LOW),
            new ParameterTable(List.of(third)),
            (all, own) -> (sample, m) -> {});
    Map<String, Map<String, Object>> settings = locator();
    settings.put("sense", Map.of("policy", "three", "low_hz", 400));
    ControllerSettings read = ControllerSettings.of(settings, Calibration.NONE, policies.tables());
    assertArrayEquals(new int[] {400, 9000}, read.sensedHertz());
    settings.put("sense", Map.of("policy", "three", "high_hz", 400));
    assertEquals(
        "sense.high_hz: policy three does not read this key; remove it",
        assertThrows(
                SettingsException.class,
                () -> ControllerSettings.of(settings, Calibration.NONE, policies.tables()))
            .getMessage());
  }

  private static Map<String, Map<String, Object>> locator() {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>();
    settings.put("file", Map.of());
    settings.put(
        "sense",
        Map.of(
            "policy",
            "locator",
            "locator_step_mm",
            "0.001",
            "locator_rate_hz",
            200,
            "locator_error_mm",
            "0.2",
            "distance_noise_mm",
            "0.001"));
    settings.put("stages.length", Map.of());
    return settings;
  }

  private static StopController controller(
      Map<String, Map<String, Object>> settings, Policies policies) throws SettingsException {
    return new StopController(
        ControllerSettings.of(settings, Calibration.NONE, policies.tables()), policies);
  }

  private void start(StopController controller) {
    distance(controller, 40_000, 400, 0);
    distance(controller, 15_000, 400, 0);
    assertTrue(out.drive.turns());
  }

  private int stopAt(StopController controller) {
    start(controller);
    int microns = 15_000;
    while (out.drive.turns() && microns > 0) {
      microns--;
      distance(controller, microns, 1, 0);
    }
    return microns;
  }

  private void distance(StopController controller, int microns, int ms, int slope) {
    in.positionKind = PositionKind.DISTANCE;
    for (int i = 0; i < ms; i++) {
      nowNs += 1_000_000;
      in.sampleSequence++;
      in.sampleTimeNs = nowNs;
      in.distanceMicrons = microns + i % 2 + slope * i * 200;
      controller.step(nowNs, in, out);
      in.speedMilliRpm = out.speedMilliRpm;
    }
  }
}
