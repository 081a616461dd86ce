package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.harness.trace.TraceScore;
import org.stopwell.harness.trace.TraceScorer;
import org.stopwell.harness.trace.TracedApproach;
import org.stopwell.harness.trace.TruthTrace;

class SurveyTracesTest {
  private static final int TEETH = 8;

  @TempDir Path dir;

  @Test
  void aSurveyIsReadAsWhatItIs() throws Exception {
    SurveyTraces survey = new SurveyTraces(7, "lumped", 20);
    assertEquals(6, survey.write(dir, 2, SurveyTraces.FLUIDS, () -> {}));
    TraceDirectory traces = TraceDirectory.read(dir);
    assertTrue(traces.simulated());
    assertEquals(List.of(300, 1_500, 7_000, 20_000), traces.frequencies());
    assertEquals(6, traces.approaches().size());
    TracedApproach first = traces.approaches().get(0);
    assertEquals("lumped0001", first.tooth());
    assertEquals("brimful", first.fluid());
    TruthTrace trace = first.read();
    assertTrue(trace.truthMicrons(0) > 8_000, "from above the orifice");
    assertTrue(trace.truthMicrons(trace.rows() - 1) < -600, "to past the foramen");
    assertEquals(20_000_000, trace.nowNs(1) - trace.nowNs(0));
  }

  @Test
  void theSameSurveyHasTheSameBytes() throws Exception {
    for (String name : List.of("a", "b")) {
      new SurveyTraces(7, "tooth", 50)
          .write(dir.resolve(name), 2, List.of(CanalCondition.BRIMFUL), () -> {});
    }
    for (String file : List.of("manifest.csv", "tooth0002_brimful.csv")) {
      assertArrayEquals(
          Files.readAllBytes(dir.resolve("a").resolve(file)),
          Files.readAllBytes(dir.resolve("b").resolve(file)));
    }
  }

  /** A trace scores a stop where the bench, with motor and hand in the loop, finds it. */
  @Test
  void aTraceScoresWhatTheBenchSays() throws Exception {
    Settings settings =
        Settings.read(
            new Source(
                "approach.yaml",
                """
                settings: 1
                name: approach
                file: {size: 15, taper: 0.02}
                sense: {policy: approach}
                stages:
                  length:
                    {torque_ncm: 0.1, standoff_mm: 0.5, on_doubtful: ease, on_none: hold}
                """));
    SurveyTraces survey = new SurveyTraces(7, "tooth", 5);
    survey.write(dir, TEETH, List.of(CanalCondition.HALF_WET), () -> {});
    List<TraceScore> scores =
        new TraceScorer(settings, Stage.LENGTH, TraceScorer.COAST_OF_SETTINGS)
            .score(TraceDirectory.read(dir), 2, done -> {});
    int both = 0;
    for (int tooth = 0; tooth < TEETH; tooth++) {
      VisitOutcome bench =
          new Visit(settings.controller())
              .work(survey.scene(tooth, CanalCondition.HALF_WET), Stage.LENGTH);
      TraceScore score = scores.get(tooth);
      if (bench.stopped() && score.stopped() && !bench.pecking()) {
        both++;
        assertEquals(bench.stopNs() / 1e9, score.endNs() / 1e9, 0.1, "tooth " + tooth);
        // A file that has only begun its way is fed faster, and a hand stops late.
        if (score.within(3)) {
          assertEquals(bench.errorMicrons(), score.errorMicrons(), 250, "tooth " + tooth);
        }
      }
    }
    assertTrue(both >= 2, both + " stops to compare");
  }
}
