package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.firmware.EmulatedDriveBoard;
import org.stopwell.rig.firmware.TwoBoards;
import org.stopwell.rig.time.MachineClock;

/**
 * The program that coordinates a bench is lost while the motor turns: it hangs, and it is killed.
 * It runs as a process of its own, on the real binaries of both boards, whose own clocks judge. A
 * busy machine may spoil any trial, so there are more than are needed, and a campaign that gives up
 * is resumed.
 */
class HostLossTest {
  private static final long MS = 1_000_000;

  /** The watchdog of the board, 100 ms, and what its monostable holds, 100 ms, and a slice. */
  private static final int WITHOUT_POWER_MS = 250;

  private static final int TRIALS = 40;

  @TempDir Path directory;

  @Test
  void aHostThatHangsOrIsKilledLeavesTheMotorWithoutPowerAndNoTrialCountsTwice() throws Exception {
    Path run = directory.resolve("run");
    try (TwoBoards boards = new TwoBoards()) {
      String ports = " --port " + boards.canal.port() + " --drive-port " + boards.drive.port();
      String resume = "resume " + run + ports + records();
      Process host =
          start("run " + plan() + " --bench boards" + ports + " --out " + run + records());
      int hung;
      try {
        host = onceItsMotorTurns(host, boards.drive, resume);
        signal(host, "STOP");
        losesItsPower(boards.drive);
        hung = results(run).size();
        signal(host, "CONT");
        host = onceItsMotorTurns(host, boards.drive, resume);
        host.toHandle().destroyForcibly();
        losesItsPower(boards.drive);
      } finally {
        host.destroyForcibly();
      }
      host.waitFor();
      List<TrialResult> before = results(run);
      assertTrue(before.size() > hung, "the trial in which the host hung is on record: " + before);
      assertEquals(Verdict.RIG_FAULT, before.get(hung).verdict(), before.get(hung).message());
      assertTrue(
          List.of("WATCHDOG", "LATE", "SESSION_LOST").contains(before.get(hung).code()),
          before.get(hung).toString());

      StringWriter out = new StringWriter();
      int code = oneMoreTrial(resume, run, before.size(), new PrintWriter(out, true));
      assertTrue(code == 3 || code == 5, code + ": " + out);
      List<TrialResult> after = results(run);
      assertTrue(after.size() > before.size(), out.toString());
      assertEquals(
          IntStream.range(0, after.size()).boxed().toList(),
          after.stream().map(TrialResult::index).toList());
      assertEquals(before, after.subList(0, before.size()), "what was finished stays as it was");
      assertTrue(
          after.stream().noneMatch(r -> r.verdict() == Verdict.FAIL),
          "a lost host is never the controller's failure: " + after);
    }
  }

  /** The host whose motor turns: this one, or the one that goes on when it has given up. */
  private static Process onceItsMotorTurns(Process first, EmulatedDriveBoard drive, String resume)
      throws Exception {
    Process host = first;
    while (!drive.await("power 1", host::isAlive)) {
      assertEquals(3, host.exitValue(), "the exit code of a rig that failed too often in a row");
      host = start(resume);
    }
    return host;
  }

  /** Resumes the campaign and asks it to stop once one more trial is on record. */
  private static int oneMoreTrial(String resume, Path run, int before, PrintWriter out)
      throws Exception {
    CompletableFuture<Integer> resumed =
        CompletableFuture.supplyAsync(() -> Main.run(resume.split(" ", -1), out, out));
    while (results(run).size() <= before && !resumed.isDone()) {
      MachineClock.waitNs(50 * MS);
    }
    StopRequest.make(run);
    return resumed.get();
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

  /**
   * A slow feed, so that the motor turns for seconds; and a controller and a verdict that bear what
   * a busy machine does to the program: what is tried here is the boards, not the controller.
   */
  private Path plan() throws IOException {
    Path shipped = TestPlans.file("first-stop").resolveSibling("../settings/resistance.yaml");
    Files.writeString(
        directory.resolve("patient.yaml"),
        Files.readString(shipped)
            + """

            guard: {step_gap_ms: 1000, link_age_ms: 1000, signal_age_ms: 1000, stall_ms: 2000}
            """);
    Path plan = directory.resolve("short.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: short
        settings: patient.yaml
        stage: length
        seed: 3
        trials: %d
        time_limit_s: 60
        tolerance_mm: 1
        scene:
          canal: {kind: resistors, length_mm: 4, body_ohm: 6500, ohm_per_mm: 3000}
          fluid: {level_mm: 4}
          hand: {motion: stage, feed_mm_per_s: 0.8, start_above_mm: 0.2, passive_mm: 0.5}
        """
            .formatted(TRIALS));
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
