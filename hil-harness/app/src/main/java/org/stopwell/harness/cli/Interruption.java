package org.stopwell.harness.cli;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
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
  private static volatile int exitCode;

  private Interruption() {}

  /** From here on Ctrl-C is a request, not an end. */
  static void watch() {
    if (WATCHING.compareAndSet(false, true)) {
      Runtime.getRuntime().addShutdownHook(new Thread(Interruption::request, "interruption"));
    }
  }

  /** Whether a stop was requested. */
  static boolean requested() {
    return ProgramEnd.hasBegun();
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
        Runtime.getRuntime().halt(exitCode);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
