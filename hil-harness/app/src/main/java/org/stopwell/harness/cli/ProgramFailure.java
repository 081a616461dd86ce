package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import org.stopwell.harness.trial.Verdict;

/** The program itself failed while a campaign was running. */
final class ProgramFailure extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** Causes to look through; assumed: more than any chain is long. */
  private static final int DEEPEST = 20;

  /** A failure in a campaign: its trials up to then are recorded. */
  ProgramFailure(Path directory, Throwable cause) {
    super("Every recorded trial is safe; continue with: stopwell resume " + directory, cause);
  }

  /**
   * Reports what failed and that it says nothing about controller or rig; returns the exit code.
   */
  static int report(Throwable failure, PrintWriter err) {
    boolean memory = isMemory(failure);
    err.println(
        memory
            ? "stopwell: out of memory (" + rootMessage(failure) + ")"
            : "stopwell: internal error; please report it with the lines below");
    err.println("The program failed. This says nothing about controller or rig.");
    if (memory) {
      err.println("More memory: STOPWELL_JAVA_OPTS=-Xmx2g ./stopwell …");
    }
    if (failure instanceof ProgramFailure) {
      err.println(failure.getMessage());
    }
    if (!memory) {
      failure.printStackTrace(err);
    }
    err.flush();
    return Verdict.PROGRAM_FAILED;
  }

  private static boolean isMemory(Throwable failure) {
    return root(failure) instanceof OutOfMemoryError;
  }

  private static String rootMessage(Throwable failure) {
    return String.valueOf(root(failure).getMessage());
  }

  private static Throwable root(Throwable failure) {
    Throwable root = failure;
    for (int i = 0; i < DEEPEST; i++) {
      Throwable cause = root.getCause();
      if (cause == null) {
        break;
      }
      root = cause;
    }
    return root;
  }
}
