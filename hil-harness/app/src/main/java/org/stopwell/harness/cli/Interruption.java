package org.stopwell.harness.cli;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.ProgramEnd;

/**
 * Ctrl-C or the signal TERM: stops every bench, asks the command to end, waits for it, and exits
 * with the exit code of the command.
 */
final class Interruption {
  /** Longest wait for the command, s; assumed: longer than a report takes. */
  private static final int LONGEST_S = 20;

  private static final AtomicBoolean WATCHING = new AtomicBoolean();
  private static final CountDownLatch FINISHED = new CountDownLatch(1);

  /**
   * What the launcher asks to be added to every exit code. The Java machine ends with 1 by itself
   * when it cannot start or gets no memory, and 1 is the verdict FAIL.
   */
  private static final int LAUNCHED = Integer.getInteger("stopwell.exit.add", 0);

  /** Whether this process is the program, and not another one that runs its commands. */
  private static volatile boolean program;

  private static volatile int exitCode;
  private static volatile boolean failed;

  private Interruption() {}

  /** This process is the program: its end may wait for the command. */
  static void begin() {
    program = true;
  }

  /** From here on Ctrl-C is a request, not an end. */
  static void watch() {
    if (program && WATCHING.compareAndSet(false, true)) {
      Runtime.getRuntime().addShutdownHook(new Thread(Interruption::request, "interruption"));
    }
  }

  /** Whether a stop was requested. */
  static boolean requested() {
    return ProgramEnd.hasBegun();
  }

  /** The exit code of the process, for a command's exit code. */
  static int launched(int code) {
    return LAUNCHED + code;
  }

  /** The program itself failed: stops every bench, whatever the command is doing. */
  static void fail() {
    failed = true;
    ProgramEnd.begin();
  }

  /** Reports that everything is safe and written. */
  static void finished(int code) {
    exitCode = code;
    FINISHED.countDown();
  }

  private static void request() {
    if (FINISHED.getCount() == 0) {
      return;
    }
    ProgramEnd.begin();
    try {
      if (FINISHED.await(LONGEST_S, TimeUnit.SECONDS)) {
        Runtime.getRuntime().halt(launched(failed ? Verdict.PROGRAM_FAILED : exitCode));
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
