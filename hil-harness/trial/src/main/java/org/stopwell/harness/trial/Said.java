package org.stopwell.harness.trial;

import java.util.Locale;
import org.stopwell.core.frame.State;

/**
 * A change of state, as the controller explains it.
 *
 * @param timeNs when, ns
 * @param to the new state
 * @param sentence why, one sentence
 */
public record Said(long timeNs, State to, String sentence) {
  /**
   * The change on one line.
   *
   * @return time, state and sentence in columns
   */
  public String line() {
    return String.format(Locale.ROOT, "%10.1f ms  %-7s  %s", timeNs / 1e6, to.name(), sentence);
  }
}
