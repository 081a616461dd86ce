package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Verification;
import org.stopwell.harness.trial.TestPlans;

/** The program as processes of its own: what fails in it accuses neither controller nor rig. */
class ProgramFailureTest {
  @TempDir Path dir;

  @BeforeEach
  void writePlan() throws Exception {
    Files.writeString(dir.resolve("plan.yaml"), TestPlans.quick(5).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
  }

  /** 10 MB start the program, but do not run a trial. */
  @Test
  void outOfMemoryIsTheFailureOfTheProgram() throws Exception {
    Process program = start(" --out run", List.of("-Xmx10m"), "one");
    assertEquals(6, end(program), said("one"));
    assertFalse(said("one").contains("RIG_FAULT"), said("one"));
  }

  @Test
  void anUnexpectedErrorSaysWhatIsSafeAndHowToContinue() {
    StringWriter err = new StringWriter();
    Throwable failure = new ProgramFailure(Path.of("runs/a"), new IllegalStateException("odd"));
    assertEquals(6, ProgramFailure.report(failure, new PrintWriter(err)));
    String said = err.toString();
    assertTrue(said.contains("This says nothing about controller or rig.\n"), said);
    assertTrue(
        said.contains("Every recorded trial is safe; continue with: stopwell resume runs/a\n"),
        said);
    assertTrue(said.contains("IllegalStateException: odd"), said);
  }

  @Test
  void outOfMemoryNeedsNoStackTrace() {
    StringWriter err = new StringWriter();
    Throwable failure = new IllegalStateException("a trial", new OutOfMemoryError("Java heap"));
    assertEquals(6, ProgramFailure.report(failure, new PrintWriter(err)));
    String said = err.toString();
    assertTrue(said.startsWith("stopwell: out of memory (Java heap)\n"), said);
    assertFalse(said.contains("\tat "), said);
  }

  @Test
  void twoRunsThatStartTogetherTakeTwoDirectories() throws Exception {
    Process one = start("", List.of(), "one");
    Process two = start("", List.of(), "two");
    assertEquals(0, end(one), said("one"));
    assertEquals(0, end(two), said("two"));
    assertNotEquals(
        said("one").lines().reduce((a, b) -> b), said("two").lines().reduce((a, b) -> b));
    for (String run : List.of("quick-001", "quick-002")) {
      Verification found = Verification.of(dir.resolve("runs").resolve(run));
      assertTrue(found.isWhole() && found.finished(), found.toString());
      assertEquals(10, found.trials());
    }
  }

  @Test
  void aReaderThatLeavesChangesNoVerdict() throws Exception {
    Process program = start(" --out run 2>&1 | true; exit ${PIPESTATUS[0]}", List.of(), "one");
    assertEquals(0, end(program), said("one"));
    try (RunFile run = RunFile.load(dir.resolve("run"))) {
      assertTrue(run.finishedAt().isPresent());
    }
  }

  private Process start(String rest, List<String> options, String name) throws Exception {
    List<String> command = new ArrayList<>(List.of("bash", "-c"));
    command.add(
        "\"$0\" -XX:TieredStopAtLevel=1 "
            + String.join(" ", options)
            + " -cp \"$1\" "
            + Main.class.getName()
            + " run plan.yaml"
            + rest);
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.add(System.getProperty("java.class.path"));
    return new ProcessBuilder(command)
        .directory(dir.toFile())
        .redirectErrorStream(true)
        .redirectOutput(dir.resolve(name).toFile())
        .start();
  }

  private static int end(Process process) throws InterruptedException {
    try {
      assertTrue(process.waitFor(200, TimeUnit.SECONDS), "still running");
    } finally {
      process.destroyForcibly();
    }
    return process.exitValue();
  }

  private String said(String name) throws Exception {
    return Files.readString(dir.resolve(name));
  }
}
