package org.stopwell.harness.advice;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;

/** What {@code check} says of a chain that takes the place of the teeth of a plan. */
class ChainAdviceTest {
  @TempDir Path directory;

  /** One line for each tooth: levels that change the device alone share it. */
  @Test
  void theGreatestErrorOfEachToothIsStated() throws Exception {
    Path file = directory.resolve("chain.yaml");
    Files.writeString(
        file,
        """
        plan: 1
        name: chain
        settings: %s
        stage: length
        trials: 2
        controller: external
        device: {model: m1, unit: u1, operator: op-1, setting: s5, standoff_mm: 0.5}
        scene:
          canal: {kind: chain}
        factors:
          unit:
            first:
            second:
              device: {unit: u2}
          fluid:
            wet:
              fluid: {level_mm: 12}
            film:
              fluid: {level_mm: 1}
        """
            .formatted(
                TestPlans.file("first-stop")
                    .resolveSibling("../settings/reference-canal.yaml")
                    .normalize()));
    List<String> lines = new ArrayList<>();
    PlanAdvice.of(Plan.read(Source.of(file)), lines::add);
    List<String> chain = lines.stream().filter(line -> line.startsWith("  chain, ")).toList();
    assertEquals(2, chain.size(), lines.toString());
    String wet = chain.stream().filter(line -> line.contains("wet")).findFirst().orElseThrow();
    String film = chain.stream().filter(line -> line.contains("film")).findFirst().orElseThrow();
    assertTrue(wet.contains(": magnitude within 1."), wet);
    assertTrue(wet.endsWith("from 0.2 to 20 kHz"), wet);
    assertTrue(film.contains("outside of 3 % or 5°"), film);
  }
}
