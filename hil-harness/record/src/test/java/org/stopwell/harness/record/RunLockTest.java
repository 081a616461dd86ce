package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFileException.Kind;
import org.stopwell.rig.time.Utc;

/** One program at a time writes into a run directory. */
class RunLockTest {
  private static final int AT_ONCE = 8;

  @TempDir Path directory;

  @Test
  void programsThatStartTogetherGetDirectoriesOfTheirOwn() throws Exception {
    List<Path> claimed = atOnce(() -> FreeDirectory.claim(directory.resolve("runs"), "a plan"));
    assertEquals(AT_ONCE, new HashSet<>(claimed).size(), claimed.toString());
    assertTrue(claimed.contains(directory.resolve("runs/a-plan-001")), claimed.toString());
  }

  /** Whether a campaign runs is looked up, not guessed from the time of its last trial. */
  @Test
  void aRunIsHeldFromItsFirstMomentToTheEndOfItsProgram() throws Exception {
    Path run = directory.resolve("run");
    assertEquals(Optional.empty(), RunFile.holder(run));
    try (RunFile file = RunFile.create(run, SampleRun.header(1, 0))) {
      assertTrue(RunFile.holder(run).orElse("").startsWith("process "), "begun, no trial yet");
      assertEquals(file.header().planName(), SampleRun.header(1, 0).planName());
    }
    assertEquals(Optional.empty(), RunFile.holder(run), "closed");
    Path lock = run.resolve(RunLock.NAME);
    String me = "process " + ProcessHandle.current().pid() + " on " + host() + " since ";
    Files.writeString(lock, me + Utc.now());
    assertTrue(RunFile.holder(run).isPresent(), "the process lives");
    Files.writeString(lock, me + "2001-01-01T00:00:00Z");
    assertEquals(Optional.empty(), RunFile.holder(run), "a later process has the same number");
    Files.writeString(lock, me.replace(" on ", " on another-") + Utc.now());
    assertEquals(Optional.empty(), RunFile.holder(run), "another machine");
    Files.writeString(lock, "process 999999999 on " + host() + " since " + Utc.now());
    assertEquals(Optional.empty(), RunFile.holder(run), "killed");
    Files.writeString(lock, "process 1 on me since yesterday");
    assertEquals(Optional.empty(), RunFile.holder(run));
  }

  private static String host() throws IOException {
    return Files.readString(Path.of("/proc/sys/kernel/hostname")).strip();
  }

  @Test
  void ofThoseThatBeginTheSameRunOneBeginsIt() throws Exception {
    Path run = directory.resolve("run");
    List<Kind> refused = new ArrayList<>();
    List<RunFile> begun = new ArrayList<>();
    for (Object end :
        atOnce(
            () -> {
              try {
                return RunFile.create(run, SampleRun.header(1, 0));
              } catch (RunFileException e) {
                return e.kind();
              }
            })) {
      if (end instanceof RunFile file) {
        begun.add(file);
      } else {
        refused.add((Kind) end);
      }
    }
    assertEquals(1, begun.size(), refused.toString());
    assertTrue(List.of(Kind.HELD, Kind.EXISTS).containsAll(refused), refused.toString());
    try (RunFile file = begun.get(0)) {
      file.append(SampleRun.stop(0, 12), null);
      file.finish("then");
    }
    assertTrue(Verification.of(run).isWhole());
  }

  @Test
  void aLiveRunIsReadByAllAndWrittenByNobodyElse() throws IOException {
    try (RunFile live = RunFile.create(directory, SampleRun.header(2, 0))) {
      live.append(SampleRun.stop(0, 12), null);
      for (Callable<RunFile> writer :
          List.<Callable<RunFile>>of(
              () -> RunFile.open(directory), () -> RunFile.hold(directory))) {
        RunFileException e = assertThrows(RunFileException.class, () -> writer.call().close());
        assertEquals(Kind.HELD, e.kind());
        assertTrue(
            e.getMessage().contains("in use by process " + ProcessHandle.current().pid() + " on "),
            e.getMessage());
        assertTrue(e.getMessage().matches(".* since 20[0-9-]+T[0-9:]+Z; .*"), e.getMessage());
      }
      try (RunFile reader = RunFile.load(directory)) {
        assertEquals(1, reader.results().size());
      }
    }
    RunFile.hold(directory).close();
    RunFile.open(directory).close();
  }

  @Test
  void aKillFreesTheRun() throws Exception {
    RunFile.create(directory, SampleRun.header(1, 0)).close();
    Process holder =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Holder.class.getName(),
                directory.toString())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    try (BufferedReader said =
        new BufferedReader(
            new InputStreamReader(holder.getInputStream(), StandardCharsets.UTF_8))) {
      assertEquals("held", said.readLine());
      RunFileException e =
          assertThrows(RunFileException.class, () -> RunFile.open(directory).close());
      assertTrue(e.getMessage().contains("in use by process " + holder.pid()), e.getMessage());
    } finally {
      holder.destroyForcibly().waitFor();
    }
    try (RunFile again = RunFile.open(directory)) {
      again.append(SampleRun.stop(0, 12), null);
      again.finish("then");
    }
    assertFalse(Files.exists(directory.resolve(RunLock.NAME)), "nobody goes on with it");
  }

  /** Holds a run until it is killed. */
  static final class Holder {
    private Holder() {}

    public static void main(String[] arguments) throws IOException {
      try (RunFile run = RunFile.open(Path.of(arguments[0]))) {
        System.out.println("held");
        System.in.read();
        run.note("test", "never reached");
      }
    }
  }

  private static <T> List<T> atOnce(Callable<T> work) throws Exception {
    ExecutorService pool = Executors.newFixedThreadPool(AT_ONCE);
    try {
      List<T> ends = new ArrayList<>();
      for (Future<T> end : pool.invokeAll(java.util.Collections.nCopies(AT_ONCE, work))) {
        ends.add(end.get());
      }
      return ends;
    } finally {
      pool.shutdownNow();
    }
  }
}
