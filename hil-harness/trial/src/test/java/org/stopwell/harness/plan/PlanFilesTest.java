package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialSpec;

/** A plan is refused before anything moves: every mistake at once, each with its line. */
class PlanFilesTest {
  private static final String SETTINGS =
      """
      settings: 1
      name: length
      file: {size: 25, taper: 0.04}
      sense:
        policy: ratio
        low_hz: 630
        high_hz: 6300
      stages:
        length:
          speed_rpm: 300
          standoff_mm: 0.5
      calibration:
        - {ratio: 0.4, remaining_mm: -0.5}
        - {ratio: 0.5, remaining_mm: 0.5}
        - {ratio: 0.9, remaining_mm: 3}
      """;

  private static final String PLAN =
      """
      plan: 1
      name: small
      settings: length.yaml
      stage: length
      seed: 7
      trials: 3
      scene:
        canal: {length_mm: 16}
      factors:
        fluid:
          half-wet:
            fluid: {level_mm: 8}
          dry:
            expect: refuse
            fluid: {level_mm: 0}
        hand:
          slow:
            hand: {feed_mm_per_s: 0.3}
          quick:
            hand: {feed_mm_per_s: 1.2}
      vary:
        canal:
          foramen_diameter_mm: {from: 0.35, to: 0.6}
          body_ohm: {mean: 6500, sd: 500}
      claims:
        within: {share: 0.95}
        over_travel: {share: 0.05, confidence: 0.99}
      """;

  @TempDir Path dir;

  @BeforeEach
  void writeFiles() throws IOException {
    write("length.yaml", SETTINGS);
    write("plan.yaml", PLAN);
  }

  @Test
  void everyLevelMeetsEveryOtherLevel() throws PlanException {
    Plan plan = read();
    assertEquals(
        List.of("half-wet/slow", "half-wet/quick", "dry/slow", "dry/quick"),
        plan.plannedConditions().stream().map(PlannedCondition::name).toList());
    assertEquals(Expectation.REFUSE, plan.plannedConditions().get(2).expectation());
    assertEquals(Stage.LENGTH, plan.head().stage());
    assertEquals(500, plan.head().standoffMicrons());
    assertEquals(12, plan.trials());
  }

  @Test
  void everyBlockHoldsEveryConditionOnce() throws PlanException {
    Plan plan = read();
    for (int block = 0; block < 3; block++) {
      Set<String> conditions = new HashSet<>();
      for (int i = 0; i < 4; i++) {
        conditions.add(plan.trial(block * 4 + i).condition());
      }
      assertEquals(4, conditions.size(), "block " + block);
    }
  }

  @Test
  void blocksStandInDifferentOrders() throws PlanException {
    Plan plan = read().with(7, 50);
    Set<List<String>> orders = new HashSet<>();
    for (int block = 0; block < 50; block++) {
      int from = block * 4;
      orders.add(
          List.of(
              plan.trial(from).condition(),
              plan.trial(from + 1).condition(),
              plan.trial(from + 2).condition(),
              plan.trial(from + 3).condition()));
    }
    assertTrue(orders.size() > 12, orders.size() + " of 24 orders in 50 blocks, seed 7");
  }

  @Test
  void aTrialFollowsFromSeedAndIndexAlone() throws PlanException {
    TrialSpec one = read().trial(5);
    TrialSpec again = read().with(7, 1000).trial(5);
    assertEquals(one.scene().seed(), again.scene().seed());
    assertEquals(one.condition(), again.condition());
    assertEquals(values(one, "canal"), values(again, "canal"));
    TrialSpec otherSeed = read().with(8, 3).trial(5);
    assertTrue(one.scene().seed() != otherSeed.scene().seed());
    assertTrue(!values(one, "canal").equals(values(otherSeed, "canal")));
  }

  @Test
  void drawnValuesFillTheirRange() throws PlanException {
    Plan plan = read().with(7, 500);
    long least = Long.MAX_VALUE;
    long greatest = Long.MIN_VALUE;
    double sum = 0;
    for (int i = 0; i < plan.trials(); i++) {
      var canal = plan.trial(i).scene().section("canal");
      long foramen = canal.get(org.stopwell.rig.bench.CanalSection.FORAMEN_DIAMETER);
      least = Math.min(least, foramen);
      greatest = Math.max(greatest, foramen);
      sum += canal.get(org.stopwell.rig.bench.CanalSection.BODY);
    }
    assertTrue(least >= 350 && least <= 352, "least " + least + " µm, seed 7");
    assertTrue(greatest <= 600 && greatest >= 598, "greatest " + greatest + " µm, seed 7");
    // The mean of 2000 draws has a standard error of 500/sqrt(2000) = 11 ohm.
    assertEquals(6500, sum / plan.trials(), 45, "seed 7");
  }

  @Test
  void theSceneUsesTheFileAndTheFrequenciesOfTheSettings() throws PlanException {
    TrialSpec trial = read().trial(0);
    assertEquals(25, trial.scene().section("file").get(org.stopwell.rig.bench.FileSection.SIZE));
    assertEquals(
        630,
        trial
            .scene()
            .section("front_end")
            .get(org.stopwell.rig.bench.FrontEndSection.FREQUENCIES.get(0)));
  }

  @Test
  void theSceneUsesTheFileOfTheStage() throws Exception {
    write(
        "length.yaml",
        SETTINGS.replace(
            "calibration:",
            """
              shape:
                torque_ncm: 1
                file: {size: 30, taper: 0.06}
            calibration:"""));
    write(
        "plan.yaml",
        PLAN.replace("fluid: {level_mm: 0}", "stage: shape\n      fluid: {level_mm: 0}"));
    Set<String> files = new HashSet<>();
    for (PlannedCondition condition : read().plannedConditions()) {
      files.add(condition.stage() + " " + condition.scene().get("file"));
    }
    assertEquals(
        Set.of(
            "LENGTH {size=25, taper=0.04, shear_strength_mpa=700}",
            "SHAPE {size=30, taper=0.06, shear_strength_mpa=700}"),
        files);
    write(
        "plan.yaml",
        PLAN.replace(
            "fluid: {level_mm: 0}",
            "stage: shape\n      settings: {file: {size: 28}}\n      fluid: {level_mm: 0}"));
    assertEquals(
        "factors.fluid.dry.settings.file.size: has no effect: stage shape names its own file; write"
            + " stages.shape.file",
        assertThrows(PlanException.class, this::read)
            .mistakes()
            .get(0)
            .toString()
            .replaceFirst(".*plan.yaml:16: ", ""));
    List<String> advice = new java.util.ArrayList<>();
    org.stopwell.harness.advice.PlanAdvice.of(
        Settings.read(Source.of(dir.resolve("length.yaml"))), advice::add);
    assertTrue(advice.get(0).endsWith("0.70 N·cm (nickel-titanium, size 25, taper 0.04)"));
    assertTrue(advice.get(1).endsWith("1.52 N·cm (nickel-titanium, size 30, taper 0.06)"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "trials: 3                | trails: 3               | plan.yaml:6: trails: unknown key; did you mean trials?",
        "trials: 3                | tolerance_um: 500       | plan.yaml:6: tolerance_um: unknown key; did you mean tolerance_mm?",
        "trials: 3                | trials: 0               | plan.yaml:6: trials: 0 trials is outside 1 to 1000000 trials",
        "trials: 3                | trials: three           | plan.yaml:6: trials: \"three\" is not a number in trials",
        "trials: 3                | seed: 8                 | plan.yaml:6: seed: given twice; first on line 5",
        "plan: 1                  | plan: 2                 | plan.yaml:1: plan: 2 is outside 1 to 1",
        "stage: length            | stage: shape            | plan.yaml:4: stage: shape is not described in length.yaml",
        "stage: length            | stage: lenght           | plan.yaml:4: stage: lenght is not one of open, length, shape, recheck",
        "settings: length.yaml    | settings: gone.yaml     | gone.yaml: no such file",
        "{length_mm: 16}          | {length_mm: 160}        | plan.yaml:8: scene.canal.length_mm: 160 mm is outside 4 to 30 mm",
        "{length_mm: 16}          | {length_um: 16000}      | plan.yaml:8: scene.canal.length_um: unknown key; did you mean length_mm?",
        "{length_mm: 16}          | {length_mm: \"16\"}     | plan.yaml:8: scene.canal.length_mm: \"16\" is not a number in mm",
        "{length_mm: 16}          | 16                      | plan.yaml:8: scene.canal: 16 is not a group of keys",
        "fluid: {level_mm: 0}     | fluid: {level_mm: -1}   | plan.yaml:15: factors.fluid.dry.fluid.level_mm: -1 mm is outside 0 to 40 mm",
        "expect: refuse           | expect: give up         | plan.yaml:14: factors.fluid.dry.expect: give up is not one of stop, refuse, patency, depth_limit, stop_or_refuse, compare, survey",
        "expect: refuse           | expect: patency         | plan.yaml:14: expect: condition dry/slow, stage length: standoff_mm 0.5 mm is not past the foramen; patency needs less than 0 mm",
        "expect: refuse           | expect: depth_limit     | plan.yaml:14: expect: condition dry/slow, stage length: depth_limit_mm of the stage is 0, which is no limit",
        "{from: 0.35, to: 0.6}    | {from: 0.6, to: 0.35}   | plan.yaml:23: vary.canal.foramen_diameter_mm: from 0.6 is above to 0.35",
        "{from: 0.35, to: 0.6}    | {from: 0.35}            | plan.yaml:23: vary.canal.foramen_diameter_mm.to: missing; Greatest value.",
        "{from: 0.35, to: 0.6}    | {from: 0.11, to: 0.6}   | plan.yaml:23: vary.canal.foramen_diameter_mm: with 0.11 mm, canal.constriction_diameter_mm: 0.25 mm is wider than foramen_diameter_mm 0.11 mm",
        "{mean: 6500, sd: 500}    | {mean: 1000, sd: 500}   | plan.yaml:24: vary.canal.body_ohm: mean ± 3 sd is -500 to 2500, outside 100 to 100000 Ω",
        "length_mm: 16            | body_ohm: 5000          | plan.yaml:8: scene.canal.body_ohm: is also drawn under vary, on line 24",
        "within: {share: 0.95}    | within: {share: 95}     | plan.yaml:26: claims.within.share: 95 is outside 0 to 1",
        "name: small              | name: a/b               | plan.yaml:2: name: \"a/b\" is not a name: letters, digits, space and . _ + -, at most 60",
        "length_mm: 16            | side_canal_mm: 3      | plan.yaml:8: scene.canal.side_canal_mm: unknown key; write lateral_canal_mm",
        "scene:                   | scene: &x               | plan.yaml:7: scene: anchors (&) are not supported; write the value",
        "plan: 1                  | plan: [1                | plan.yaml:2: not YAML: expected ',' or ']', but got :",
      })
  void aSlipIsNamedWithItsPlace(String right, String wrong, String message) throws IOException {
    write("plan.yaml", PLAN.replace(right, wrong));
    PlanException e = assertThrows(PlanException.class, this::read);
    List<String> found =
        e.mistakes().stream().map(m -> m.toString().replace(dir + "/", "")).toList();
    assertTrue(found.contains(message), () -> "wanted " + message + "\nfound  " + found);
  }

  @Test
  void aKeyGivenTwiceDoesNotHideTheOtherSlips() throws IOException {
    write("plan.yaml", PLAN.replace("trials: 3", "trials: 0\nseed: 8"));
    PlanException e = assertThrows(PlanException.class, this::read);
    List<String> found =
        e.mistakes().stream().map(m -> m.toString().replace(dir + "/", "")).toList();
    assertEquals(
        List.of(
            "plan.yaml:6: trials: 0 trials is outside 1 to 1000000 trials",
            "plan.yaml:7: seed: given twice; first on line 5"),
        found);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "standoff_mm: 0.5 | standoff_um: 500   | length.yaml:11: stages.length.standoff_um: unknown key; did you mean standoff_mm?",
        "standoff_mm: 0.5 | standoff_mm: -0.3  | plan.yaml:1: expect: condition half-wet/slow, stage length: standoff_mm -0.3 mm is past the foramen; write expect: patency",
        "standoff_mm: 0.5 | standoff_mm: 5     | length.yaml:11: stages.length.standoff_mm: 5 mm is outside -1 to 3 mm",
        "speed_rpm: 300   | speed_rpm: 2000    | length.yaml:10: stages.length.speed_rpm: 2000 rpm is above guard.speed_limit_rpm, 1000 rpm",
        "high_hz: 6300    | high_hz: 100       | length.yaml:6: sense.low_hz: 630 Hz is not below high_hz, 100 Hz",
        "ratio: 0.5       | ratio: 0.3         | length.yaml:14: calibration.ratio: 0.3 is not above 0.4 of the point before",
        "length:          | lengths:           | length.yaml:9: stages.lengths: unknown key; did you mean length?",
        "taper: 0.04      | taper_percent: 4   | length.yaml:3: file.taper_percent: unknown key; write taper",
        "speed_rpm: 300   | adapt_percent: 60  | length.yaml:10: stages.length.adapt_percent: unknown key; write load_percent",
        "speed_rpm: 300   | motion: adaptive   | length.yaml:10: stages.length.motion: adaptive is not one of forward, backward, reciprocate, by_load; write by_load",
        "speed_rpm: 300   | file: {size: 15}   | length.yaml:10: stages.length.file.taper: missing; Growth of the diameter, mm per mm of length.",
        "speed_rpm: 300   | file: {size: 15, taper: 0.04, tip: 1} | length.yaml:10: stages.length.file.tip: unknown key",
        "speed_rpm: 300   | file: 15           | length.yaml:10: stages.length.file: 15 is not a group of keys",
        "speed_rpm: 300   | file: {size: 15, taper: 0.04} | length.yaml:9: stages.length.torque_ncm: 0.6 N·cm is above the strength of the file, 0.2705 N·cm (size 15, taper 0.04)",
        "settings: 1      | setings: 1         | length.yaml:1: setings: unknown key; did you mean settings?",
      })
  void aSlipInTheSettingsIsNamedToo(String right, String wrong, String message) throws IOException {
    write("length.yaml", SETTINGS.replaceFirst(right, wrong));
    PlanException e = assertThrows(PlanException.class, this::read);
    List<String> found =
        e.mistakes().stream().map(m -> m.toString().replace(dir + "/", "")).toList();
    assertTrue(found.contains(message), () -> "wanted " + message + "\nfound  " + found);
  }

  @Test
  void allMistakesOfBothFilesComeAtOnce() throws IOException {
    write("plan.yaml", change(PLAN, p -> p.replace("trials: 3", "trials: 0").replace("16", "1")));
    write("length.yaml", SETTINGS.replace("speed_rpm: 300", "speed_rpm: 1"));
    PlanException e = assertThrows(PlanException.class, this::read);
    assertEquals(
        List.of("length.yaml:10", "plan.yaml:6", "plan.yaml:8"),
        e.mistakes().stream().map(m -> Path.of(m.file()).getFileName() + ":" + m.line()).toList());
  }

  @Test
  void aMistakeSharedByManyConditionsCountsOnce() throws IOException {
    write("plan.yaml", PLAN.replace("{length_mm: 16}", "{length_mm: 1}"));
    assertEquals(1, assertThrows(PlanException.class, this::read).mistakes().size());
  }

  @Test
  void whatIsNotAPlanIsRefusedInOneLine() throws IOException {
    for (String text :
        List.of("", "# nothing\n", "- a\n- b\n", "just words\n", "[".repeat(100_000), "\u0000")) {
      write("plan.yaml", text);
      PlanException e = assertThrows(PlanException.class, this::read);
      assertEquals(1, e.mistakes().size());
      assertTrue(!e.mistakes().get(0).toString().contains("\n"), e.mistakes().toString());
    }
    Files.write(dir.resolve("plan.yaml"), new byte[] {(byte) 0xff, (byte) 0xfe, 0});
    assertEquals(
        "is not UTF-8 text",
        assertThrows(PlanException.class, this::read).mistakes().get(0).message());
  }

  @Test
  void windowsLineEndsAndAByteOrderMarkAreRead() throws Exception {
    write("plan.yaml", "\uFEFF" + PLAN.replace("\n", "\r\n"));
    assertEquals(12, read().trials());
  }

  private static String change(String text, UnaryOperator<String> by) {
    return by.apply(text);
  }

  private static List<String> values(TrialSpec trial, String section) {
    var values = trial.scene().section(section);
    return values.table().parameters().stream().map(p -> p.human(values.get(p))).toList();
  }

  private Plan read() throws PlanException {
    return Plan.read(Source.of(dir.resolve("plan.yaml")));
  }

  private void write(String name, String text) throws IOException {
    Files.write(dir.resolve(name), text.getBytes(StandardCharsets.UTF_8));
  }
}
