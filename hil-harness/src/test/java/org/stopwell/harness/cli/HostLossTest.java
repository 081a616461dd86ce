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
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.firmware.EmulatedDriveBoard;
import org.stopwell.rig.firmware.TwoBoards;

/**
 * The program that coordinates a bench is lost while the motor turns: it hangs, and it is killed.
 * It runs as a process of its own, on the real binaries of both boards.
 */
class HostLossTest {
  /** The watchdog of the board, 100 ms, and what its monostable holds, 100 ms, and a slice. */
  private static final int WITHOUT_POWER_MS = 250;

  private static final int TRIALS = 2;

  @TempDir Path directory;

  @Test
  void aHostThatHangsOrIsKilledLeavesTheMotorWithoutPowerAndNoTrialCountsTwice() throws Exception {
    Path run = directory.resolve("run");
    try (TwoBoards boards = new TwoBoards()) {
      String ports = " --port " + boards.canal.port() + " --drive-port " + boards.drive.port();
      Process host =
          start("run " + plan() + " --bench boards" + ports + " --out " + run + records());
      try {
        boards.drive.await("power 1");
        signal(host, "STOP");
        losesItsPower(boards.drive);
        signal(host, "CONT");
        boards.drive.await("power 1");
        host.toHandle().destroyForcibly();
        losesItsPower(boards.drive);
      } finally {
        host.destroyForcibly();
      }
      host.waitFor();
      List<TrialResult> before = results(run);
      assertFalse(before.isEmpty(), "the trial in which the host hung is on record");
      assertEquals(Verdict.RIG_FAULT, before.get(0).verdict(), before.get(0).message());
      assertTrue(
          List.of("WATCHDOG", "LATE", "SESSION_LOST").contains(before.get(0).code()),
          before.get(0).toString());

      StringWriter out = new StringWriter();
      int code =
          Main.run(
              ("resume " + run + ports + records()).split(" ", -1),
              new PrintWriter(out, true),
              new PrintWriter(out, true));
      assertTrue(code == 3 || code == 5, code + ": " + out);
      List<TrialResult> after = results(run);
      assertEquals(List.of(0, 1), after.stream().map(TrialResult::index).toList());
      assertEquals(before, after.subList(0, before.size()), "what was finished stays as it was");
      assertTrue(
          after.stream().noneMatch(r -> r.verdict() == Verdict.FAIL),
          "a lost host is never the controller's failure: " + after);
    }
  }

  private static void losesItsPower(EmulatedDriveBoard drive) throws Exception {
    drive.tell("after " + WITHOUT_POWER_MS);
    List<String> seen = drive.until("after");
    String last = "";
    for (String event : seen) {
      last = event.startsWith("power ") ? event : last;
    }
    assertEquals("power 0", last, seen.toString());
  }

  private static List<TrialResult> results(Path run) throws Exception {
    try (RunFile file = RunFile.load(run)) {
      return file.results();
    }
  }

  private String records() {
    return " --records " + directory;
  }

  private Path plan() throws IOException {
    Path plan = directory.resolve("short.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: short
        settings: %s
        stage: length
        seed: 3
        trials: %d
        time_limit_s: 20
        scene:
          canal: {kind: resistors, length_mm: 4, body_ohm: 6500, ohm_per_mm: 3000}
          fluid: {level_mm: 4}
          hand: {motion: stage, feed_mm_per_s: 1.2, start_above_mm: 0.2, passive_mm: 1}
        """
            .formatted(
                TestPlans.file("first-stop")
                    .resolveSibling("../settings/resistance.yaml")
                    .normalize(),
                TRIALS));
    return plan;
  }

  private static void signal(Process process, String name) throws Exception {
    String kill = "kill -" + name + " " + process.pid(); // of the shell: not every machine has one
    assertEquals(0, new ProcessBuilder("sh", "-c", kill).start().waitFor(), kill);
  }

  private static Process start(String line) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xshare:auto",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName()));
    command.addAll(List.of(line.split(" ", -1)));
    return new ProcessBuilder(command)
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .redirectError(ProcessBuilder.Redirect.INHERIT)
        .start();
  }
}
