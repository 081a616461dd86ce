package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.advice.PlanAdvice;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.FluidSection;

/** A plan states how its teeth are mounted; the medium may be a factor. */
class MountPlanTest {
  private static final String MOUNT =
      "mount: {medium: alginate, temperature_c: 23.4, conductivity_s_per_m: 0.52, age_h: 2.5}\n";

  private static final String DEVICE =
      """
      plan: 1
      name: mounted
      settings: ../settings/reference-canal.yaml
      stage: length
      trials: 2
      controller: external
      device: {model: m1, unit: u1, operator: op-3, standoff_mm: 0.7}
      factors:
        medium:
          alginate:
          agar:
            mount: {medium: agar, temperature_c: 35, conductivity_s_per_m: 0.8}
      """
          + MOUNT;

  private static final String TEETH =
      """
      plan: 1
      name: teeth
      settings: ../settings/length.yaml
      stage: length
      trials: 1
      expect: survey
      scene:
        canal: {kind: tooth}
        fluid: {irrigant: saline_0.9, fill: flooded}
      teeth:
        - {name: T01, length_mm: 12.43, uncertainty_mm: 0.1}
      """
          + MOUNT;

  @Test
  void theMediumMayBeAFactorAndTheFluidIsAsWarm() throws PlanException {
    Plan plan = Plan.read(source(DEVICE));
    Mount alginate = new Mount("alginate", 234, 520, 25);
    Mount agar = new Mount("agar", 350, 800, 25);
    assertEquals(
        List.of(alginate, agar),
        plan.plannedConditions().stream().flatMap(c -> c.mount().stream()).toList());
    for (int i = 0; i < plan.trials(); i++) {
      TrialSpec trial = plan.trial(i);
      Mount mount = trial.condition().equals("agar") ? agar : alginate;
      assertEquals(Optional.of(mount), plan.mount(trial.scene()));
      assertEquals(
          mount.temperatureTenths(),
          trial.scene().section("fluid").getInt(FluidSection.TEMPERATURE));
    }
    List<String> said = new ArrayList<>();
    PlanAdvice.of(plan, said::add);
    assertTrue(
        said.contains(
            "  tooth mount: alginate at 23.4 °C, 0.520 S/m, 2.5 h old; agar at 35.0 °C, 0.800 S/m,"
                + " 2.5 h old"),
        said::toString);
  }

  @Test
  void aMountStandsInThePlaceOfTheWordsOfATooth() throws PlanException {
    Plan plan = Plan.read(source(TEETH));
    assertEquals(234, plan.trial(0).scene().section("fluid").getInt(FluidSection.TEMPERATURE));
    assertEquals(
        List.of(
            "scene.fluid.temperature_c: is stated by mount.temperature_c on line 12; remove it here",
            "teeth.medium: is stated by mount; remove it here",
            "teeth.temperature_c: is stated by mount; remove it here"),
        mistakes(
            TEETH
                .replace(
                    "uncertainty_mm: 0.1", "uncertainty_mm: 0.1, medium: agar, temperature_c: 20")
                .replace("fill: flooded", "fill: flooded, temperature_c: 20")));
  }

  @Test
  void everyMistakeInAMountIsNamedAtOnce() {
    assertEquals(
        List.of(
            "mount.colour: unknown key",
            "mount.medium: water is not one of gelatine, alginate, agar",
            "mount.conductivity_s_per_m: 11 S/m is outside 0.01 to 10 S/m",
            "mount.age_h: missing; " + MountReader.AGE.text(),
            "mount.temperature_c: 28 °C, must be 22 to 24 °C (23 ± 1) or 34 to 36 °C (35 ± 1)"),
        mistakes(
            TEETH.replace(
                MOUNT,
                "mount: {medium: water, temperature_c: 28, conductivity_s_per_m: 11, colour: red}\n")));
    for (String edge : List.of("21.9", "24.1", "33.9", "36.1")) {
      assertEquals(1, mistakes(TEETH.replace("23.4", edge)).size(), edge);
    }
  }

  @Test
  void whatHasNoMediumHasNoMount() {
    assertEquals(
        List.of("mount: needs teeth, the extracted teeth, or controller: external at the top"),
        mistakes(
            TEETH
                .replaceAll("(?m)^(teeth|  - ).*\n", "")
                .replace("survey", "stop")
                .replace("fill: flooded", "level_mm: 8")));
    assertEquals(
        List.of("scene.canal.kind: resistors is a network without a medium; remove mount"),
        mistakes(DEVICE + "scene: {canal: {kind: resistors}}\n"));
    assertEquals(
        List.of(
            "mount: condition alginate has none; state it at the top, or in every level of a factor"),
        mistakes(
            DEVICE
                .replace(MOUNT, "")
                .replace("conductivity_s_per_m: 0.8", "conductivity_s_per_m: 0.8, age_h: 1")));
  }

  private static Source source(String text) {
    return new Source(TestPlans.root().resolve("docs/plans/mounted.yaml").toString(), text);
  }

  private static List<String> mistakes(String text) {
    PlanException e = assertThrows(PlanException.class, () -> Plan.read(source(text)));
    return e.mistakes().stream().map(m -> m.key() + ": " + m.message()).toList();
  }
}
