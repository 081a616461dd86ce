package org.stopwell.harness.tryout;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.weights.ShippedWeights;

/** The page and the files that ship say the same. */
class SavedPlanTest {
  private static final Path DOCS = Path.of("../../docs");

  private static LaneSettings lanes() throws Exception {
    return new LaneSettings(
        Files.readString(DOCS.resolve("settings/ratio.yaml")), ShippedWeights.get());
  }

  @Test
  void theLanesHaveTheSettingsThatShip() throws Exception {
    assertEquals(shipped("length"), page(LaneSettings.APPROACH));
    assertEquals(shipped("ratio"), page(LaneSettings.RATIO));
  }

  private static long shipped(String name) throws PlanException {
    return Settings.read(Source.of(DOCS.resolve("settings/" + name + ".yaml")))
        .controller()
        .fingerprint();
  }

  private static long page(String reading) throws Exception {
    return lanes().of(reading, "15", "0.04", Stage.LENGTH, Map.of()).fingerprint();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "fluid.level_mm=19&speed_rpm=500&standoff_mm=1",
        "draw=2&seed=7",
        "stage=shape&lane.0=ratio&lane.1=ratio&file.size=25&file.taper=0.06",
        "canal.constriction=none&canal.foramen_diameter_mm=1&fluid.irrigant=edta_17",
        "stage=open&canal.length_mm=20&canal.taper=0.04&hand.press_n=2"
      })
  void theSavedPlanRunsTheSameScene(String text) throws Exception {
    TryMachine machine = TryMachine.open(text, lanes());
    assertEquals("", machine.setting("fluid.level_mm", "9.5"));
    String yaml = machine.plan();
    Plan plan = Plan.read(new Source(DOCS.resolve("plans/by-hand.yaml").toString(), yaml));
    Scene scene = plan.trial(0).scene();
    assertEquals(9_500, scene.section("fluid").get(FluidSection.LEVEL), yaml);
    for (String section : new String[] {"canal", "file"}) {
      machine
          .opened()
          .section(section)
          .table()
          .parameters()
          .forEach(
              p ->
                  assertEquals(
                      machine.opened().section(section).get(p),
                      scene.section(section).get(p),
                      section + "." + p.key()));
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "fluid.level_mm=99 -> level_mm: 99 mm is outside 0 to 40 mm",
        "canal.depth=3 -> depth: unknown key",
        "nonsense -> \"nonsense\" is not a pair key=value",
        "speed=3 -> speed: unknown key",
        "speed_rpm=9000 -> speed_rpm: 9000 rpm is outside 10 to 5000 rpm",
        "seed=1&seed=2 -> seed: given twice",
        "lane.0=locator -> lane.0: locator is not one of ratio, approach"
      })
  void aSceneThatCannotBeIsRefusedWithKeyValueAndLimit(String row) throws Exception {
    String[] both = row.split(" -> ", 2);
    LaneSettings lanes = lanes();
    SettingsException refused =
        assertThrows(SettingsException.class, () -> TryMachine.open(both[0], lanes));
    assertTrue(
        refused.faults().stream().anyMatch(f -> f.message().endsWith(both[1])),
        () -> refused.faults().toString());
  }
}
