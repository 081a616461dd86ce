package org.stopwell.harness.campaign;

import java.util.HashMap;
import java.util.Map;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * Which traces are kept. What matter did cannot be done again, so every trace of a real bench is
 * kept. A simulated trial can be run again at any time; kept are those people will want to look at:
 * each that is worse than all before it in its condition, and the first that did not pass.
 */
final class TraceChoice {
  /** Traces of trials that did not pass, at most; assumed: more than anybody looks at. */
  private static final int NOT_PASSED = 50;

  private final boolean all;
  private final Map<String, Integer> worst = new HashMap<>();
  private int notPassed;

  TraceChoice(boolean all) {
    this.all = all;
  }

  /** The entry with its trace, or without. Asked once per trial, in run order. */
  RunFile.Entry choose(RunFile.Entry entry) {
    return isWanted(entry.result()) || all ? entry : new RunFile.Entry(entry.result(), null);
  }

  /**
   * Takes note of a trial that was run before, so that going on chooses as if never interrupted.
   */
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
