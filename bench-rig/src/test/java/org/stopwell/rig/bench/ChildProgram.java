package org.stopwell.rig.bench;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A Java program in a process of its own, and the signals that it gets. */
public final class ChildProgram {
  private static final long PATIENCE_S = 200;

  private ChildProgram() {}

  /**
   * Starts a main class on the class path of the tests. Its messages are seen; what it prints is
   * for {@link Process#getInputStream()}.
   */
  public static Process start(Class<?> main, List<String> words) throws IOException {
    // A build that runs in the background ignores INT, and so would this process.
    List<String> command =
        new ArrayList<>(
            List.of(
                "env",
                "--default-signal=INT",
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xshare:auto",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                main.getName()));
    command.addAll(words);
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  /** Waits for the end, and returns the exit code. */
  public static int await(Process process) throws InterruptedException {
    if (!process.waitFor(PATIENCE_S, TimeUnit.SECONDS)) {
      throw new AssertionError("the program goes on after " + PATIENCE_S + " s");
    }
    return process.exitValue();
  }

  /** Sends a signal, by the builtin of the shell: a minimal machine has no program for it. */
  public static void signal(Process process, String name) throws Exception {
    int code =
        new ProcessBuilder("/bin/sh", "-c", "kill -s " + name + " " + process.pid())
            .inheritIO()
            .start()
            .waitFor();
    if (code != 0) {
      throw new AssertionError("kill -s " + name + " ended with " + code);
    }
  }
}
