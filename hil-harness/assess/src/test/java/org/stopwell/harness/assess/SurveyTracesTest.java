package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
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
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;

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
                file: {size: 15, taper: 0.04}
                sense: {policy: approach}
                stages:
                  length:
                    {torque_ncm: 0.24, standoff_mm: 0.5, on_doubtful: ease, on_none: hold}
                """));
    TraceScorer scorer = new TraceScorer(settings, Stage.LENGTH, TraceScorer.COAST_OF_SETTINGS);
    Map<String, Map<String, String>> steady = new HashMap<>(Training.FREQUENCIES);
    steady.put("file", Map.of("size", "15", "taper", "0.04"));
    steady.put("hand", Map.of("start_above_mm", "3", "motion", "steady"));
    int both = 0;
    for (int tooth = 0; tooth < TEETH; tooth++) {
      Scene scene = new Population(7).member(tooth, Population.Fill.HALF_WET, steady);
      Path file = dir.resolve("T" + tooth + "_1.csv");
      try (Writer to = Files.newBufferedWriter(file)) {
        SurveyTraces.record(scene, to);
      }
      TraceScore score = scorer.score(new TracedApproach(file, "T", "half-wet", 0));
      VisitOutcome bench = new Visit(settings.controller()).work(scene, Stage.LENGTH);
      String pair = bench + " " + score;
      assertEquals(bench.stopped(), score.stopped(), pair);
      if (bench.stopped()) {
        both++;
        assertEquals(bench.stopNs() / 1e9, score.endNs() / 1e9, 0.2, pair);
        // Far from the foramen the hand still carries the file, whatever the motor does.
        if (score.within(3)) {
          assertEquals(bench.errorMicrons(), score.errorMicrons(), 250, pair);
        }
      }
    }
    assertTrue(both >= 2, both + " stops to compare");
  }
}
