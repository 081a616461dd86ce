package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.State;

/** The state space, walked through in full over a small alphabet. */
class ExplorationTest {
  private static final Path PAGE = Path.of("..", "docs", "states.md");

  /** More changes of state than this within half a second of sameness would be a livelock. */
  private static final int MOST_CHANGES = 6;

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

        Made from the code by `ExplorationTest`, which walks through every mode that the controller can reach over a small
        alphabet of places and faults, and which fails when this page is stale. A transition that stands here has happened
        in that walk; the reasons are those of the event ring.

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
