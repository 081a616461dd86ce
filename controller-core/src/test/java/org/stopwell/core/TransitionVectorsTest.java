package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.settings.ControllerSettings;

/**
 * Golden vectors that show the whole state machine, left where whoever ports the core finds them.
 */
class TransitionVectorsTest {
  private static final Path KEPT = Path.of("target", "vectors");

  @TempDir Path dir;

  @Test
  void theVectorsShowEveryTransitionOfTheStateMachine() throws Exception {
    Path runner = GoldenVectorsTest.compile(dir);
    Files.createDirectories(KEPT);
    List<Path> vectors = new ArrayList<>();
    Set<Exploration.Transition> shown = new TreeSet<>();
    Set<Exploration.Transition> wanted = new TreeSet<>();
    for (Exploration exploration : Exploration.all()) {
      wanted.addAll(exploration.transitions.keySet());
      for (Map.Entry<Exploration.Transition, List<Exploration.Letter>> each :
          exploration.transitions.entrySet()) {
        if (!shown.contains(each.getKey())) {
          List<Recording.Step> steps = exploration.record(each.getValue());
          ControllerSettings settings =
              ControllerSettings.of(exploration.settings, TestBench.curve());
          shown.addAll(exploration.shownBy(each.getValue()));
          Path file = KEPT.resolve(String.format(Locale.ROOT, "%03d.swv", vectors.size()));
          Files.write(file, GoldenVectorsTest.vector(settings, steps));
          vectors.add(file);
        }
      }
    }
    assertEquals(wanted, shown);
    GoldenVectorsTest.Outcome outcome =
        GoldenVectorsTest.run(KEPT, runner, vectors.toArray(new Path[0]));
    assertEquals(0, outcome.code(), outcome.text());
    System.out.println(shown.size() + " transitions in " + vectors.size() + " vectors");
  }
}
