package org.stopwell.harness.casework;

import static java.util.Objects.requireNonNull;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.harness.trial.Expectation;

/** The plan of a step follows from the case and its record. */
class StepPlanTest {
  @TempDir Path dir;

  @SuppressWarnings("NullAway.Init")
  private CaseRecord record;

  @SuppressWarnings("NullAway.Init")
  private ToothCase tooth;

  @BeforeEach
  void aCase() throws Exception {
    CaseTemplate.write(dir, 36, List.of("MB", "ML"), "A1");
    tooth = CaseReader.read(dir);
    record = CaseRecord.open(dir);
  }

  @AfterEach
  void close() throws Exception {
    record.close();
  }

  @ParameterizedTest
  @EnumSource(
      value = CaseStep.class,
      names = {"OPEN", "MEASURE", "SHAPE", "RECHECK"})
  void everyPlanIsValidAndHasTheFileOfItsStage(CaseStep step) throws Exception {
    record.append(Entries.measured("MB", 19_700));
    Plan plan = plan("MB", step);
    PlannedCondition only = plan.plannedConditions().get(0);
    Stage stage = step.stage().orElseThrow();
    assertEquals("MB", only.name());
    assertEquals(stage, only.stage());
    assertEquals(
        Integer.toString(tooth.canal("MB").orElseThrow().file(stage).size()),
        requireNonNull(only.scene().get("file")).get("size"));
    assertEquals("present", requireNonNull(only.scene().get("hand")).get("depth_axis"));
  }

  /** 19.7 mm from the cusp, which is 7 mm above the orifice where the axis counts from. */
  @Test
  void theLimitOfShapingIsTheRecordedLengthBelowTheOrifice() throws Exception {
    record.append(Entries.measured("MB", 19_700));
    PlannedCondition shape = plan("MB", CaseStep.SHAPE, 500).plannedConditions().get(0);
    assertEquals(12_200, shape.depthLimitMicrons());
    assertEquals(Expectation.DEPTH_LIMIT, shape.expectation());
    assertEquals(
        StageParameters.NONE,
        shape.settings().controller().stage(Stage.SHAPE).choice(StageParameters.APICAL));
    assertEquals(
        "13.2",
        requireNonNull(shape.scene().get("fluid")).get("level_mm"),
        "filled to the orifice");
  }

  @Test
  void aShapedCanalIsPlayedAsShaped() throws Exception {
    record.append(Entries.measured("MB", 19_700));
    record.append(Entries.shaped("MB", 1, 19_700));
    PlannedCondition recheck = plan("MB", CaseStep.RECHECK).plannedConditions().get(0);
    assertEquals("25", requireNonNull(recheck.scene().get("canal")).get("shaped_size"));
    assertEquals("0.06", requireNonNull(recheck.scene().get("canal")).get("shaped_taper"));
    assertEquals(
        "0.5",
        requireNonNull(recheck.scene().get("canal")).get("shaped_to_mm"),
        "13.2 - (19.7 - 7)");
  }

  @Test
  void shapingNeedsALengthThatNothingContradicts() throws Exception {
    StepRefusedException none =
        assertThrows(StepRefusedException.class, () -> plan("MB", CaseStep.SHAPE));
    assertTrue(String.valueOf(none.getMessage()).contains("measure first"), none.getMessage());
    record.append(Entries.measured("MB", 19_700));
    record.append(Entries.radiographed("MB", 1, Finding.CONTRADICTS));
    StepRefusedException contradicted =
        assertThrows(StepRefusedException.class, () -> plan("MB", CaseStep.SHAPE));
    assertTrue(
        String.valueOf(contradicted.getMessage()).contains("radiograph"),
        contradicted.getMessage());
    assertThrows(StepRefusedException.class, () -> plan("MB", CaseStep.FILL));
  }

  private Plan plan(String canal, CaseStep step) throws Exception {
    return plan(canal, step, 0);
  }

  private Plan plan(String canal, CaseStep step, int lessMicrons) throws Exception {
    StepPlan plan =
        StepPlan.of(
            tooth, tooth.canal(canal).orElseThrow(), step, record.history(canal), lessMicrons);
    return Plan.read(plan.source(dir));
  }
}
