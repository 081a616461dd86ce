package org.stopwell.harness.campaign;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;

/**
 * Which traces are kept. A physical bench cannot repeat a trial exactly, and no device can, so all
 * their traces are kept. Another simulated trial can be repeated at any time; kept are each trial
 * that is worse than all earlier ones of its condition, the first that did not pass, and every
 * survey: its trace is its result.
 *
 * <p>Hardly any trial of a large campaign is kept with its trace, and to record one takes two
 * fifths of its time. So a worker asks here first, before the trial and after it.
 */
final class TraceChoice {
  /** Largest number of kept traces of trials that did not pass; assumed. */
  private static final int NOT_PASSED = 50;

  private final boolean all;
  private final Map<String, Integer> worst = new ConcurrentHashMap<>();
  private final AtomicInteger notPassed = new AtomicInteger();

  TraceChoice(boolean all) {
    this.all = all;
  }

  /** Whether the trace of a trial will be kept, as far as is known before it; any job may ask. */
  boolean expects(TrialSpec spec) {
    return all || spec.expectation() == Expectation.SURVEY || !worst.containsKey(spec.condition());
  }

  /**
   * Whether {@link #choose} may still keep the trace of a trial; any job may ask. What is chosen
   * before it can only make that a no.
   */
  boolean mayKeep(TrialResult result) {
    return all
        || result.expectation() == Expectation.SURVEY
        || isWorse(result)
        || (result.verdict() != Verdict.PASS && notPassed.get() < NOT_PASSED);
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
    boolean worse = isWorse(result);
    if (worse) {
      worst.put(result.condition(), Math.abs(result.stopErrorMicrons()));
    }
    boolean failed = result.verdict() != Verdict.PASS && notPassed.getAndIncrement() < NOT_PASSED;
    return worse || failed;
  }

  private boolean isWorse(TrialResult result) {
    return Math.abs(result.stopErrorMicrons()) > worst.getOrDefault(result.condition(), -1);
  }
}
