package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.MachineClock;

/** Ctrl-C, a busy port, a pulled cable: no finished trial is lost. */
class MishapTest {
  private static final long MS = 1_000_000;
  private static final int LONG = 5_000;

  @TempDir Path dir;
  private Path plan = Path.of("");
  private Path run = Path.of("");

  @BeforeEach
  void writePlan() throws Exception {
    plan = dir.resolve("plan.yaml");
    run = dir.resolve("run");
    Files.writeString(plan, TestPlans.quick(LONG).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
  }

  @Test
  void ctrlCEndsSafelyAndKeepsEveryFinishedTrial() throws Exception {
    Process process = start();
    try {
      waitForTrials(process, 3);
      new ProcessBuilder("sh", "-c", "kill -INT " + process.pid()).start().waitFor();
      assertTrue(process.waitFor(200, TimeUnit.SECONDS), "still running");
    } finally {
      process.destroyForcibly();
    }
    String said = said();
    assertEquals(5, process.exitValue(), said);
    List<TrialResult> kept = kept();
    assertTrue(kept.size() >= 3 && kept.size() < 2 * LONG, kept.size() + " kept");
    kept.forEach(r -> assertEquals(Verdict.PASS, r.verdict(), r.message()));
    assertTrue(
        said.contains("interrupted; " + kept.size() + " of " + 2 * LONG + " trials are kept in "),
        said);
    assertTrue(Files.exists(run.resolve("report.html")));
    assertTrue(Files.exists(run.resolve("junit.xml")));
  }

  @Test
  void aBusyPortIsNamedAndIsTheRigsFault() throws Exception {
    try (EmulatedBoard board = EmulatedBoard.start(EmulatedBoard.identity(true, MS), 0)) {
      SerialLink other = new SerialLink(board.portName(), SerialLink.BAUD);
      other.open();
      try {
        StringWriter err = new StringWriter();
        assertEquals(3, serial(board, err));
        assertTrue(
            err.toString().startsWith("stopwell: PORT_BUSY: port " + board.portName()),
            err.toString());
        assertFalse(Files.exists(run));
      } finally {
        other.close();
      }
    }
  }

  @Test
  void aCablePulledInMidTrialIsTheRigsFaultAndLosesNoFinishedTrial() throws Exception {
    StringWriter err = new StringWriter();
    CompletableFuture<Integer> running;
    try (EmulatedBoard board = EmulatedBoard.start(EmulatedBoard.identity(true, MS), 0)) {
      running = CompletableFuture.supplyAsync(() -> serial(board, err));
      waitForTrials(null, 2);
    }
    // Closing the board took away the other end of its cable.
    assertEquals(3, running.get(200, TimeUnit.SECONDS), err.toString());
    List<TrialResult> kept = kept();
    int faults = 0;
    for (TrialResult result : kept) {
      if (result.verdict() == Verdict.RIG_FAULT) {
        faults++;
      } else {
        assertEquals(Verdict.PASS, result.verdict(), result.message());
        assertEquals(0, faults, "a trial passed after the cable was pulled");
      }
    }
    assertTrue(kept.size() - faults >= 2, kept.toString());
    // Three in a row end the campaign; up to three more were under way.
    assertTrue(faults >= 3 && faults <= 6, faults + " rig faults");
    assertTrue(err.toString().contains("the rig failed too often in a row"), err.toString());
  }

  private int serial(EmulatedBoard board, StringWriter err) {
    String[] args = {
      "run",
      plan.toString(),
      "--bench",
      "serial",
      "--port",
      board.portName(),
      "--port-wait-s",
      "0",
      "--out",
      run.toString()
    };
    return Main.run(args, new PrintWriter(new StringWriter()), new PrintWriter(err));
  }

  /** The program in a process of its own, as a shell would start it. */
  private Process start() throws IOException {
    List<String> command = new ArrayList<>(List.of("bash", "-c"));
    command.add(
        // A job in the background of a script would be born deaf to Ctrl-C.
        "exec env --default-signal=INT \"$0\" -XX:TieredStopAtLevel=1 -cp \"$1\" org.stopwell.harness.cli.Main run \"$2\""
            + " --out \"$3\" --jobs 2");
    command.add(
        Path.of(java.util.Objects.requireNonNull(System.getProperty("java.home")), "bin", "java")
            .toString());
    command.add(java.util.Objects.requireNonNull(System.getProperty("java.class.path")));
    command.add(plan.toString());
    command.add(run.toString());
    return new ProcessBuilder(command)
        .redirectErrorStream(true)
        .redirectOutput(dir.resolve("said.txt").toFile())
        .start();
  }

  private String said() throws IOException {
    return Files.readString(dir.resolve("said.txt"));
  }

  private void waitForTrials(@org.jspecify.annotations.Nullable Process process, int trials)
      throws IOException {
    for (int i = 0; i < 4_000; i++) {
      assertTrue(process == null || process.isAlive(), () -> "ended early");
      if (Files.exists(run.resolve(RunFile.NAME)) && kept().size() >= trials) {
        return;
      }
      MachineClock.waitNs(50 * MS);
    }
    throw new AssertionError("no trial in 200 s");
  }

  private List<TrialResult> kept() throws RunFileException {
    try (RunFile file = RunFile.load(run)) {
      return file.results();
    }
  }
}
