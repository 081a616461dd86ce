package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.trial.TestPlans;

/** A plan names a device with a motor of its own, which then takes the place of the controller. */
class DevicePlanTest {
  private static final String PLAN =
      """
      plan: 1
      name: devices
      settings: ../settings/reference-canal.yaml
      stage: length
      trials: 2
      controller: external
      device: {model: m1, unit: u1, operator: op-3, setting: s2, standoff_mm: 0.7, battery: full}
      factors:
        unit:
          first:
          second:
            device: {unit: u2, standoff_mm: 1.1}
      """;

  @Test
  void theDeviceOfALevelChangesThatOfThePlan() throws PlanException {
    Plan plan = Plan.read(source(PLAN));
    assertTrue(plan.isExternal());
    assertEquals(
        List.of(
            new Device("m1", "u1", "op-3", "unstated", "s2", 700, "full", false),
            new Device("m1", "u2", "op-3", "unstated", "s2", 1100, "full", false)),
        plan.plannedConditions().stream().flatMap(c -> c.device().stream()).toList());
    for (int i = 0; i < plan.trials(); i++) {
      Device device = plan.device(plan.trial(i)).orElseThrow();
      assertEquals(
          device.standoffMicrons(), plan.trial(i).standoffMicrons(), "the claim is the standoff");
    }
  }

  @Test
  void aPlanWithoutTheKeyHasTheControllerOfItsSettings() throws PlanException {
    Plan plan =
        Plan.read(source(PLAN.replaceAll("(?m)^(controller|device|factors|  .*)[^\n]*", "")));
    assertFalse(plan.isExternal());
    assertEquals(Optional.empty(), plan.device(plan.trial(0)));
    assertEquals(500, plan.trial(0).standoffMicrons());
  }

  @Test
  void everyMistakeInADeviceIsNamedAtOnce() {
    assertEquals(
        List.of(
            "device.model: \"A b/c\" is not a code: letters, digits and . _ + -, at most 40",
            "device.operator: missing",
            "device.colour: unknown key",
            "device.standoff_mm: 9 mm is outside -2 to 5 mm",
            "device.battery: empty is not one of unstated, full, half, low, mains"),
        mistakes(
            PLAN.replaceAll(
                "(?m)^device:.*$",
                "device: {model: A b/c, unit: u1, setting: s2, standoff_mm: 9, battery: empty,"
                    + " colour: red}")));
  }

  @Test
  void aDeviceNeedsAnExternalControllerAndTheOtherWayRound() {
    assertEquals(
        List.of(
            "device: needs controller: external at the top",
            "factors.unit.second.device: needs controller: external at the top"),
        mistakes(PLAN.replace("controller: external\n", "")));
    assertEquals(
        List.of(
            "device.model: missing",
            "device.unit: missing",
            "device.operator: missing",
            "device.standoff_mm: missing; " + DeviceReader.STANDOFF.text(),
            "device.model: missing",
            "device.operator: missing"),
        mistakes(PLAN.replaceAll("(?m)^device:.*\n", "")));
  }

  @Test
  void whatADeviceWouldNotFollowIsRefused() {
    List<String> found =
        mistakes(
            PLAN.replace(
                    "    first:\n",
                    "    first:\n      settings: {stages: {length: {speed_rpm: 250}}}\n      expect:"
                        + " depth_limit\n")
                + "faults:\n  - {kind: jam, at_ms: 10}\n");
    assertTrue(
        found.stream()
            .anyMatch(
                m ->
                    m.startsWith("factors.unit.first.settings: has no effect on a device")
                        && m.endsWith("device.setting")),
        found.toString());
    assertTrue(
        found.stream().anyMatch(m -> m.startsWith("expect: depth_limit needs the controller")),
        found.toString());
    assertTrue(
        found.stream()
            .anyMatch(m -> m.startsWith("faults: jam acts on a controller and has no effect")),
        found.toString());
  }

  /** A fault of a device needs a device, and begins where the file is, not at a time. */
  @Test
  void aFaultThatCannotActIsRefused() {
    assertEquals(
        List.of("faults: device_leak acts on a device: it needs controller: external"),
        mistakes(
            PLAN.replaceAll("(?m)^(controller|device):.*\n", "")
                    .replaceAll("(?m)^ *device:.*\n", "")
                + "faults: [{kind: device_leak}]\n"));
    assertEquals(
        List.of(
            "faults.at_ms: device_leak begins at a place of the file, not at a time: remove the"
                + " key"),
        mistakes(PLAN + "faults: [{kind: device_leak, at_ms: 10}]\n"));
    assertEquals(
        List.of(
            "faults: host_stall: since: turn needs a command to turn; write since: mount",
            "faults: host_stall: within_ms needs a command to rest; remove the key"),
        mistakes(
            PLAN
                + "faults: [{kind: host_stall, since: turn}, {kind: host_stall, within_ms: 5}]\n"));
    List<String> two = mistakes(PLAN + "faults: [{kind: device_leak}, {kind: device_mark_off}]\n");
    assertTrue(
        two.get(0).endsWith("a bench plays one fault of a device in one trial"), two.toString());
  }

  @Test
  void anAdvanceNeedsAnExtractedTooth() {
    List<String> found =
        mistakes(PLAN.replaceFirst("(?m)^device: \\{", "device: {rest_by: advance, "));
    assertTrue(
        found.contains(
            "device.rest_by: advance in condition first needs teeth, the extracted teeth"),
        found.toString());
  }

  private static Source source(String text) {
    return new Source(TestPlans.root().resolve("docs/plans/devices.yaml").toString(), text);
  }

  private static List<String> mistakes(String text) {
    PlanException e = assertThrows(PlanException.class, () -> Plan.read(source(text)));
    return e.mistakes().stream().map(m -> m.key() + ": " + m.message()).toList();
  }
}
