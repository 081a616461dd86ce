package org.stopwell.harness.fault;

import java.nio.file.Path;

/**
 * A row of the list of what must be survived, made to happen, with what must come of it.
 *
 * @param what what is done
 * @param verdict the verdict of the trial or the run; of a file or a page {@code kept} or {@code
 *     refused}
 * @param cause the code or the words that it must be named with; empty when there is nothing wrong
 * @param limitNs time until the motor must have lost its power or been commanded to rest, ns, or
 *     one of the words below
 * @param happening makes it happen
 */
record Demonstration(String what, String verdict, String cause, long limitNs, Happening happening) {
  /** Nothing moves meanwhile, so there is nothing to stop. */
  static final long NO_MOTION = -1;

  /** The file stops where it was meant to. */
  static final long AS_PLANNED = -2;

  /** No limit can be held. */
  static final long NO_LIMIT = -3;

  /** Makes it happen. */
  interface Happening {
    /**
     * Makes it happen.
     *
     * @param directory an empty directory
     * @return what came of it
     */
    Came in(Path directory) throws Exception;
  }

  /**
   * What came.
   *
   * @param verdict as above
   * @param cause as above
   * @param tookNs as above, measured
   * @param also what else was counted; the same on every run
   */
  record Came(String verdict, String cause, long tookNs, String also) {
    Came(String verdict, String cause, String also) {
      this(verdict, cause, NO_MOTION, also);
    }
  }

  /** Whether it came as it must. */
  boolean isMetBy(Came came) {
    boolean inTime = limitNs >= 0 ? came.tookNs <= limitNs && came.tookNs >= 0 : sameWord(came);
    return came.verdict.equals(verdict) && came.cause.equals(cause) && inTime;
  }

  private boolean sameWord(Came came) {
    return limitNs == NO_LIMIT ? came.tookNs >= 0 : came.tookNs == limitNs;
  }

  /** A limit or a time as it stands in a table. */
  static String words(long ns) {
    return ns >= 0
        ? ns / 1_000_000 + " ms"
        : ns == NO_MOTION ? "no motion" : ns == AS_PLANNED ? "stops as planned" : "–";
  }
}
