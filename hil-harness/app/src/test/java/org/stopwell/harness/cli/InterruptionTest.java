package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.bench.ChildProgram;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.board.WatchedBoard;

/**
 * Ctrl-C, or a polite kill, while the motor turns: the program runs as a process of its own, with
 * the real serial library, and the board says in what order it heard what.
 */
class InterruptionTest {
  private static final long PERIOD_NS = 1_000_000;

  @TempDir Path directory;
  private WatchedBoard board;

  @BeforeEach
  void plug() throws IOException {
    // In lockstep, so that no busy machine makes a step late.
    board = new WatchedBoard(EmulatedBoard.identity(true, PERIOD_NS));
  }

  @AfterEach
  void unplug() {
    board.close();
  }

  @ParameterizedTest
  @ValueSource(strings = {"INT", "TERM"})
  void afterTheSignalNothingButASafeStopGoesOutAndTheTrialIsNotCounted(String signal)
      throws Exception {
    Path run = directory.resolve("run");
    board.slow(true);
    Process host =
        ChildProgram.start(
            Main.class,
            words("run " + plan() + " --bench serial --port " + board.port() + " --out " + run));
    try {
      board.await(WatchedBoard.TURNING);
      ChildProgram.signal(host, signal);
      assertEquals(5, ChildProgram.await(host), "UNDECIDED");
    } finally {
      host.destroyForcibly();
    }
    List<String> heard = board.heard();
    int stop = heard.indexOf("SAFE_STOP");
    assertTrue(stop >= 0, "no SAFE_STOP: " + heard);
    assertEquals(Set.of("SAFE_STOP"), Set.copyOf(heard.subList(stop, heard.size())));
    assertTrue(heard.subList(0, stop).stream().allMatch(WatchedBoard.TURNING::equals));
    assertEquals(List.of(), results(run));

    board.slow(false);
    StringWriter out = new StringWriter();
    PrintWriter said = new PrintWriter(out, true);
    String[] resume = words("resume " + run).toArray(String[]::new);
    assertEquals(0, Main.run(resume, said, said), out.toString());
  }

  private static List<String> words(String line) {
    return List.of(line.split(" ", -1));
  }

  private static List<?> results(Path run) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      return file.results();
    }
  }

  private Path plan() throws Exception {
    Path plan = directory.resolve("plan.yaml");
    String quick = TestPlans.quick(1).source().text();
    Files.writeString(plan, quick.substring(0, quick.indexOf("factors:")));
    Files.writeString(
        directory.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
    return plan;
  }
}
