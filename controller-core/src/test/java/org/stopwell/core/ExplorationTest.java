package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.State;

/** The state space, visited in full over a small alphabet. */
class ExplorationTest {
  private static final Path PAGE = Path.of("..", "docs", "states.md");

  /** More changes of state than this within half a second of equal input is a livelock. */
  private static final int MOST_CHANGES = 6;

  private static final int SEEDS = 6;
  private static final int LETTERS = 3_000;

  @Test
  void nothingForbiddenHappensInAnyReachableModeAndTheDiagramShowsAllOfIt() throws IOException {
    Set<Exploration.Transition> transitions = new TreeSet<>();
    for (Exploration exploration : Exploration.all()) {
      assertTrue(exploration.worstChanges <= MOST_CHANGES, "livelock");
      transitions.addAll(exploration.transitions.keySet());
    }
    Set<State> seen = EnumSet.noneOf(State.class);
    transitions.forEach(t -> seen.add(t.to()));
    System.out.printf("%d states, %d transitions%n", seen.size(), transitions.size());
    assertEquals(EnumSet.allOf(State.class), seen);
    checkPage(page(transitions));
  }

  /** Letters of any length, two at once: the page shows all that random frames reach. */
  @Test
  void aRandomWalkFindsNoChangeOfStateThatThePageLacks() {
    List<Exploration> all = Exploration.all();
    Set<Exploration.Transition> shown = new TreeSet<>();
    all.forEach(e -> shown.addAll(e.transitions.keySet()));
    Set<Exploration.Transition> missing =
        LongStream.rangeClosed(1, SEEDS)
            .parallel()
            .boxed()
            .flatMap(
                seed -> all.stream().flatMap(e -> e.atRandom(new Random(seed), LETTERS).stream()))
            .collect(Collectors.toCollection(TreeSet::new));
    missing.removeAll(shown);
    assertEquals(
        Set.of(), missing, "seeds 1 to " + SEEDS + ": the exploration needs a scene that shows it");
  }

  private static void checkPage(String page) throws IOException {
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PAGE, page);
    }
    assertEquals(page, Files.readString(PAGE), PAGE + " is stale; run with -Dstopwell.write=true");
  }

  private static String page(Set<Exploration.Transition> transitions) {
    Map<State, Map<State, Set<String>>> grouped = new EnumMap<>(State.class);
    for (Exploration.Transition t : transitions) {
      grouped
          .computeIfAbsent(t.from(), s -> new EnumMap<>(State.class))
          .computeIfAbsent(t.to(), s -> new TreeSet<>())
          .add(t.reason());
    }
    StringBuilder diagram = new StringBuilder();
    StringBuilder table = new StringBuilder();
    grouped.forEach(
        (from, targets) ->
            targets.forEach(
                (to, reasons) -> {
                  diagram.append("  ").append(from).append(" --> ").append(to).append('\n');
                  table.append("| `").append(from).append("` | `").append(to).append("` | `");
                  table.append(String.join("`, `", reasons)).append("` |\n");
                }));
    return """
        # States of the controller

        The diagram and the table show every change of state that the controller can make, with the reasons that it
        records. `ExplorationTest` generates this page from the code:

        1. It visits every mode that the controller can reach with a small set of places and faults.
        2. In every state, under several stages, each pair of events (places and faults) then occurs in sequence.
        3. A random walk, with two events at once at any time, must find no change of state beyond these.

        The test fails if the walk finds one, or if this page is out of date.

        ```mermaid
        stateDiagram-v2
          [*] --> PARKED
        %s```

        | from | to | reasons |
        |---|---|---|
        %s"""
        .formatted(diagram, table);
  }
}
