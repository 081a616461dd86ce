package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.ToothSection;

/** A plan names extracted teeth. Their measured lengths are the truth of its trials. */
class TeethPlanTest {
  private static final String PLAN =
      """
      plan: 1
      name: teeth
      settings: told.yaml
      stage: length
      trials: 2
      expect: stop_or_refuse
      scene:
        canal: {kind: tooth}
      factors:
        fluid:
          half-wet:
            fluid: {fill: half_wet}
          brimful:
            fluid: {fill: brimful}
      teeth:
        - {name: T01, length_mm: 12.43, uncertainty_mm: 0.12, k: 2, medium: alginate, temperature_c: 23}
        - {name: T02, length_mm: 14.1, uncertainty_mm: 0.1, k: 1.73, medium: alginate}
      """;

  private static final String SETTINGS =
      """
      settings: 1
      name: told
      file: {size: 15, taper: 0.02}
      sense:
        policy: approach
        weights: my.weights
      stages:
        length: {standoff_mm: 0.5, torque_ncm: 0.1}
      """;

  @TempDir Path directory;

  @BeforeEach
  void settings() throws Exception {
    Files.writeString(directory.resolve("told.yaml"), SETTINGS);
    weights(List.of());
  }

  private void weights(List<String> teeth) throws Exception {
    DepthWeights weights =
        new DepthWeights(
            new DepthWeights.Origin("test", "0", 1, 1, teeth, "none"),
            new DepthWeights.Validity(
                List.of(300, 1500, 7000, 20_000), List.of(10, 15), List.of(200, 400), List.of()),
            DepthNetwork.silent(DepthWeights.INPUTS, 2 * DepthWeights.TARGETS),
            Optional.empty(),
            DepthBound.NORMAL);
    Files.writeString(directory.resolve("my.weights"), DepthWeightsText.encode(weights));
  }

  private Plan read(String text) throws Exception {
    Path file = directory.resolve("plan.yaml");
    Files.writeString(file, text);
    return Plan.read(Source.of(file));
  }

  private List<String> mistakes(String text) {
    return assertThrows(PlanException.class, () -> read(text)).mistakes().stream()
        .map(Mistake::toString)
        .map(line -> line.replace(directory + "/", ""))
        .toList();
  }

  @Test
  void theMeasuredLengthIsTheTruthAndEveryFluidComesInEveryTooth() throws Exception {
    Plan plan = read(PLAN);
    assertEquals(List.of("T01", "T01", "T02", "T02"), names(plan));
    TrialSpec trial = plan.trial(2);
    assertEquals(14_100, trial.scene().section("canal").getInt(CanalSection.LENGTH));
    assertEquals(CanalKind.TOOTH, CanalSection.kind(trial.scene().section("canal")));
    assertEquals(11_100, trial.scene().section("hand").getInt(HandSection.PASSIVE_DEPTH));
    assertEquals(plan.teeth().get(1).number(), ToothSection.number(trial.scene()));
    TrialSpec brimful = plan.trial(0).condition().equals("brimful") ? plan.trial(0) : plan.trial(1);
    assertEquals(12_430, brimful.scene().section("fluid").getInt(FluidSection.LEVEL));
    assertEquals(230, brimful.scene().section("fluid").getInt(FluidSection.TEMPERATURE));
    assertEquals(60, plan.teeth().get(0).standardMicrons(), "0.12 mm with k = 2");
    assertEquals(58, plan.teeth().get(1).standardMicrons(), "0.1 mm with k = 1.73");
    assertTrue(plan.protocol().commonCanals(), "the trials in a tooth are not independent");
  }

  private static List<String> names(Plan plan) {
    return java.util.stream.IntStream.range(0, plan.trials())
        .mapToObj(i -> plan.tooth(i).orElseThrow().name())
        .toList();
  }

  @Test
  void aToothHasTheSameNumberInEveryPlan() throws Exception {
    ExtractedTooth tooth = read(PLAN).teeth().get(0);
    assertEquals(
        tooth.number(), read(PLAN.replace("name: T01", "name: t01 ")).teeth().get(0).number());
    assertNotEquals(tooth.number(), read(PLAN).teeth().get(1).number());
  }

  @Test
  void whatIsWrongWithATooth() {
    assertEquals(
        List.of(
            "plan.yaml:16: teeth.length_mm: 3 mm is outside 4 to 29.4 mm",
            "plan.yaml:17: teeth.medium: missing",
            "plan.yaml:17: teeth.uncertainty_mm: missing; Expanded uncertainty of length_mm: coverage"
                + " factor k times the standard one."),
        mistakes(
            PLAN.replace("12.43", "3")
                .replace("uncertainty_mm: 0.1, k: 1.73, medium: alginate", "k: 1.73")));
    assertEquals(
        List.of("plan.yaml:17: teeth.name: T01 is also on line 16"),
        mistakes(PLAN.replace("T02", "T01")));
    assertEquals(
        List.of("plan.yaml:5: trials: 3, must be 2: 2 teeth times canal_trials 1"),
        mistakes(PLAN.replace("trials: 2", "trials: 3")));
  }

  @Test
  void aPlanCannotStateTheCanalOfAnExtractedTooth() {
    assertEquals(
        List.of(
            "plan.yaml:8: scene.canal.kind: resistors, must be tooth where teeth names extracted"
                + " teeth"),
        mistakes(PLAN.replace("kind: tooth", "kind: resistors")));
    assertEquals(
        List.of(
            "plan.yaml:8: scene.canal.taper: describes a model; the plan names extracted teeth, so"
                + " remove this key"),
        mistakes(PLAN.replace("kind: tooth", "kind: tooth, taper: 0.05")));
    assertEquals(
        List.of("plan.yaml:7: draw: population draws models of canals; remove it, or remove teeth"),
        mistakes(PLAN.replace("scene:", "draw: population\nscene:")));
  }

  @Test
  void aSurveyNeedsTeethAndGoesPastTheForamen() throws Exception {
    String survey = PLAN.replace("stop_or_refuse", "survey");
    Plan plan = read(survey);
    assertEquals(13_030, plan.trial(0).scene().section("hand").getInt(HandSection.PASSIVE_DEPTH));
    String without = survey.substring(0, survey.indexOf("teeth:\n"));
    assertTrue(
        mistakes(without.replaceAll("fill: \\w+", "level_mm: 8"))
            .contains(
                "plan.yaml:6: expect: condition half-wet: survey needs teeth, the extracted teeth"));
  }

  @Test
  void weightsDoNotJudgeAToothThatTheyWereTaughtWith() throws Exception {
    weights(List.of("t02", "X1"));
    assertEquals(
        List.of(
            "plan.yaml:17: teeth: T02: the weights file my.weights was taught with this tooth, so it"
                + " cannot be judged in it; remove the tooth from the plan, or teach weights without"
                + " it (settings told.yaml)"),
        mistakes(PLAN));
    read(PLAN.replace("stop_or_refuse", "survey"));
    read(PLAN.replace("T02", "T03"));
  }
}
