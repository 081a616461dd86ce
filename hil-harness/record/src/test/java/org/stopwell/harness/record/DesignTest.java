package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.trial.TestPlans;

class DesignTest {
  @TempDir Path directory;

  @Test
  void theCheckedPlanComesBackAsItWas() throws Exception {
    Plan plan = plan();
    Design design = Design.of(plan);
    assertEquals(List.of("canal"), design.analysis().orElseThrow().groups());
    assertEquals(2, design.told().size());
    assertEquals(2, design.faults().size());
    assertEquals(design, DesignText.read(DesignText.of(design)));
  }

  @Test
  void theZeroThatObserversReadComesBackToo() throws Exception {
    String text =
        """
        plan: 1
        name: zero
        settings: settings.yaml
        stage: length
        trials: 1
        controller: external
        device: {model: m1, unit: u1, operator: op-1, standoff_mm: 0.5}
        teeth:
          - name: T01
            length_mm: 12.43
            uncertainty_mm: 0.04
            zero_readings_um: {o1: [95, 100, 105], o2: [105, 110, 115]}
        mount: {medium: agar, temperature_c: 23, conductivity_s_per_m: 0.5, age_h: 1}
        """;
    Plan plan = Plan.read(new Source("plan.yaml", text), TestPlans.quick(1).settings().source());
    Design design = Design.of(plan);
    double u95 = plan.teeth().get(0).zero().orElseThrow().expandedMicrons();
    assertEquals(u95 / 2, design.budget().orElseThrow().zeroMicrons().orElseThrow());
    assertEquals(design, DesignText.read(DesignText.of(design)));
    Design without = Design.of(plan());
    assertFalse(DesignText.of(without).contains("zero_um"), "older plans are written as before");
  }

  @Test
  void nobodyReadsThePlansTextAgain() throws Exception {
    Plan plan = plan();
    RunHeader header =
        RunHeader.of(
            plan, "0.1.0", SampleRun.header(1, 0).bench(), "now", "run", Registration.NONE);
    RunHeader garbled =
        new RunHeader(
            header.planName(),
            "not: [yaml",
            "nor: [this",
            header.build(),
            header.bench(),
            header.campaignSeed(),
            header.conditions(),
            header.claims(),
            header.startedAt(),
            header.command(),
            header.protocol(),
            header.registration(),
            header.design());
    RunFile.create(directory, garbled).close();
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(garbled, run.header());
    }
  }

  @Test
  void aDesignWithAWrongValueIsDamage() {
    String text = DesignText.of(Design.PLAIN);
    IllegalArgumentException e =
        assertThrows(
            IllegalArgumentException.class,
            () -> DesignText.read(text.replace("\"share\":0.95", "\"share\":\"much\"")));
    assertTrue(String.valueOf(e.getMessage()).contains("share"), e.getMessage());
    assertThrows(IllegalArgumentException.class, () -> DesignText.read(""));
    assertThrows(IllegalArgumentException.class, () -> DesignText.read("{}"));
  }

  private static Plan plan() throws Exception {
    String text =
        """
        plan: 1
        name: grouped
        settings: settings.yaml
        stage: length
        seed: 7
        trials: 2
        factors:
          canal:
            c1:
            c2: {faults: [{kind: port_gone, since: turn, at_ms: 1500, expect: rig_fault}]}
          told:
            as-written:
            further-out: {settings: {stages: {length: {standoff_mm: 1}}}}
        analysis: {groups: [canal], margin_mm: 0.1}
        """;
    return Plan.read(new Source("plan.yaml", text), TestPlans.quick(1).settings().source());
  }
}
