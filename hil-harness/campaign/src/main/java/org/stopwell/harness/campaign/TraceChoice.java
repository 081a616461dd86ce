package org.stopwell.harness.campaign;

import java.util.HashMap;
import java.util.Map;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * Which traces are kept. A physical bench cannot repeat a trial exactly, so all its traces are
 * kept. A simulated trial can be repeated at any time; kept are each trial that is worse than all
 * earlier ones of its condition, the first that did not pass, and every survey: its trace is its
 * result.
 */
final class TraceChoice {
  /** Largest number of kept traces of trials that did not pass; assumed. */
  private static final int NOT_PASSED = 50;

  private final boolean all;
  private final Map<String, Integer> worst = new HashMap<>();
  private int notPassed;

  TraceChoice(boolean all) {
    this.all = all;
  }

  /** The entry with its trace, or without. Asked once per trial, in run order. */
  RunFile.Entry choose(RunFile.Entry entry) {
    boolean survey = entry.result().expectation() == Expectation.SURVEY;
    return isWanted(entry.result()) || all || survey
        ? entry
        : new RunFile.Entry(entry.result(), null);
  }

  /** Registers an earlier trial, so that a resumed campaign keeps the same traces. */
  void skip(TrialResult result) {
    isWanted(result);
  }

  private boolean isWanted(TrialResult result) {
    int badness = Math.abs(result.stopErrorMicrons());
    boolean worse = badness > worst.getOrDefault(result.condition(), -1);
    if (worse) {
      worst.put(result.condition(), badness);
    }
    boolean failed = result.verdict() != Verdict.PASS && notPassed++ < NOT_PASSED;
    return worse || failed;
  }
}
