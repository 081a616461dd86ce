package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;

/** Canals drawn from the population, and settings files of levels. */
class DrawnCanalsTest {
  private static final String PLAN =
      """
      plan: 1
      name: drawn
      settings: length.yaml
      stage: length
      seed: 3
      trials: 6
      draw: population
      factors:
        fluid:
          half-wet:
          brimful:
            expect: stop_or_refuse
            fluid: {fill: brimful}
        reading:
          own:
          other:
            expect: compare
            settings: other.yaml
      """;

  @TempDir Path dir;

  @Test
  void theConditionsOfABlockShareTheCanalAndNoTwoBlocksDo() throws Exception {
    Plan plan = read(PLAN);
    Map<String, Integer> trialsIn = new HashMap<>();
    for (int block = 0; block < 6; block++) {
      String canal = canal(plan.trial(4 * block));
      for (int i = 1; i < 4; i++) {
        assertEquals(canal, canal(plan.trial(4 * block + i)));
        assertNotEquals(
            plan.trial(4 * block).scene().seed(), plan.trial(4 * block + i).scene().seed());
      }
      trialsIn.merge(canal, 4, Integer::sum);
    }
    assertEquals(6, trialsIn.size());
    assertTrue(plan.protocol().sharesCanals(), "intervals count canals");
    Plan again = read(PLAN.replace("trials: 6", "trials: 6\ncanal_trials: 3"));
    assertEquals(canal(again.trial(0)), canal(again.trial(11)));
    assertNotEquals(canal(again.trial(0)), canal(again.trial(12)));
    assertNotEquals(canal(plan.trial(0)), canal(plan.with(4, 6).trial(0)), "by the seed");
  }

  @Test
  void whatThePlanStatesReplacesWhatIsDrawn() throws Exception {
    Plan plan = read(PLAN.replace("factors:", "scene: {canal: {length_mm: 11}}\nfactors:"));
    for (int i = 0; i < plan.trials(); i++) {
      TrialSpec trial = plan.trial(i);
      long level = trial.scene().section("fluid").get(FluidSection.LEVEL);
      assertEquals(11_000, trial.scene().section("canal").get(CanalSection.LENGTH));
      assertEquals(25, trial.scene().section("file").get(FileSection.SIZE), "as in the settings");
      if (trial.condition().startsWith("brimful")) {
        assertEquals(11_000, level);
      } else {
        assertTrue(level > 4_000 && level < 7_000, trial.condition() + " " + level);
      }
    }
  }

  @Test
  void aCanalThatContradictsThePlanIsDrawnAgain() throws Exception {
    // Many foramina of the population are narrower than this.
    Plan plan =
        read(PLAN.replace("factors:", "scene: {canal: {constriction_diameter_mm: 0.5}}\nfactors:"))
            .with(3, 50);
    for (int i = 0; i < plan.trials(); i += 4) {
      assertTrue(plan.trial(i).scene().section("canal").get(CanalSection.FORAMEN_DIAMETER) >= 500);
    }
  }

  @Test
  void aLevelMayNameAnotherSettingsFile() throws Exception {
    Plan plan = read(PLAN);
    assertEquals(Expectation.STOP, plan.plannedConditions().get(0).expectation());
    assertEquals(Expectation.COMPARE, plan.plannedConditions().get(1).expectation());
    assertEquals(Expectation.STOP_OR_REFUSE, plan.plannedConditions().get(2).expectation());
    assertEquals(Expectation.COMPARE, plan.plannedConditions().get(3).expectation());
    assertEquals("reference-canal", plan.plannedConditions().get(0).settings().name());
    assertEquals("resistance", plan.plannedConditions().get(1).settings().name());
    assertEquals(
        List.of("as in the settings", "settings reference-canal → resistance"),
        SettingsGroup.of(plan).stream().map(SettingsGroup::changeWords).toList());
    // A run file keeps all settings in one text; the files may be gone.
    Plan recorded =
        Plan.read(
            new Source("the recorded plan", PLAN),
            new Source("the recorded settings", plan.settingsText()),
            Policies.BUILT_IN);
    for (int i = 0; i < plan.trials(); i++) {
      assertEquals(
          plan.controller(plan.trial(i)).fingerprint(),
          recorded.controller(recorded.trial(i)).fingerprint());
    }
    assertEquals(plan.settingsText(), recorded.settingsText());
    assertTrue(
        Canonical.of(plan, null).containsKey("settings file other.yaml.name"),
        "a freeze covers every settings file");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          draw: population   | draw: none      | plan.yaml:13: factors.fluid.brimful.fluid.fill: needs draw: population or teeth; without it state level_mm or remove this key
          {fill: brimful}    | {fill: full}    | plan.yaml:13: factors.fluid.brimful.fluid.fill: full is none of half_wet, brimful, flooded, dry
          {fill: brimful}    | {fill: brimful, level_mm: 9} | plan.yaml:13: factors.fluid.brimful.fluid.level_mm: is stated together with fill on line 13; remove one of the two
          settings: other.yaml | settings: gone.yaml | gone.yaml: no such file
          {fill: brimful}    | {fill: brimful, level: 9}    | unknown key; did you mean level_mm?
          """)
  void aMistakeIsNamedWithItsLine(String right, String wrong, String message) {
    PlanException e = assertThrows(PlanException.class, () -> read(PLAN.replace(right, wrong)));
    assertTrue(
        e.mistakes().stream().anyMatch(m -> m.toString().endsWith(message)),
        e.mistakes().toString());
  }

  @Test
  void groupsAndDrawnCanalsExcludeEachOther() {
    PlanException e =
        assertThrows(PlanException.class, () -> read(PLAN + "analysis: {groups: [fluid]}\n"));
    assertTrue(
        e.mistakes().get(0).toString().contains(":7: draw: population, must be none"), e::toString);
  }

  private static String canal(TrialSpec trial) {
    return trial.scene().section("canal").get(CanalSection.LENGTH)
        + " "
        + trial.scene().section("canal").get(CanalSection.BODY);
  }

  private Plan read(String plan) throws Exception {
    Path settings = TestPlans.root().resolve("docs/settings");
    Files.copy(
        settings.resolve("reference-canal.yaml"),
        Files.createDirectories(dir).resolve("length.yaml"),
        java.nio.file.StandardCopyOption.REPLACE_EXISTING);
    Files.writeString(
        dir.resolve("other.yaml"), Files.readString(settings.resolve("resistance.yaml")));
    Path file = dir.resolve("plan.yaml");
    Files.writeString(file, plan);
    return Plan.read(Source.of(file));
  }
}
