package org.stopwell.harness.replay;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.time.Pace;

/**
 * A trial that did not pass, repeated from its seed to classify its cause. The recorded result
 * counts: a repetition never replaces it.
 *
 * @param recorded the recorded result
 * @param again the results of the repetitions
 * @param finding whose fault it looks like
 */
public record Triage(TrialResult recorded, List<TrialResult> again, Finding finding) {
  /** The classified cause. */
  public enum Finding {
    /** Identical result, bit for bit: the controller or the plan. */
    SAME("the controller repeats the failure, bit for bit"),
    /** Same outcome with other numbers, as on a physical bench. */
    ALIKE("the controller repeats the failure, with other numbers"),
    /** Another outcome at least once. */
    FLAKY("the result is not reproducible, cause unknown"),
    /** The rig failed, and did not fail again. */
    RIG_ONCE("the rig failed once and did not fail again"),
    /** The rig fails again. */
    RIG_AGAIN("the rig fails again");

    private final String text;

    Finding(String text) {
      this.text = text;
    }

    /**
     * The finding in plain words.
     *
     * @return a few words
     */
    public String text() {
      return text;
    }
  }

  /** Takes a copy. */
  public Triage {
    again = List.copyOf(again);
  }

  /**
   * Repeats a trial.
   *
   * @param plan the plan as it was recorded
   * @param recorded a trial that did not pass
   * @param bench an open bench
   * @param times how often
   * @param abandon asked before every step; when true nothing more is run
   * @return what was found, empty when it was abandoned
   */
  public static Optional<Triage> of(
      Plan plan, TrialResult recorded, Bench bench, int times, BooleanSupplier abandon) {
    List<TrialResult> again = new ArrayList<>();
    TrialSpec spec = plan.trial(recorded.index());
    ControllerSettings settings = plan.controller(spec);
    for (int i = 0; i < times; i++) {
      BenchDescription description = bench.describe();
      Optional<TrialResult> one =
          Trials.run(
              bench, settings, plan.policies(), spec, null, () -> pace(description), abandon);
      if (one.isEmpty()) {
        return Optional.empty();
      }
      again.add(one.get());
    }
    return Optional.of(new Triage(recorded, again, finding(recorded, again)));
  }

  /**
   * Classifies a trial by its repetitions.
   *
   * @param recorded the recorded result
   * @param again the results of the repetitions
   * @return whose fault it looks like
   */
  public static Finding finding(TrialResult recorded, List<TrialResult> again) {
    if (recorded.verdict() == Verdict.RIG_FAULT) {
      return again.stream().anyMatch(t -> t.verdict() == Verdict.RIG_FAULT)
          ? Finding.RIG_AGAIN
          : Finding.RIG_ONCE;
    }
    boolean alike =
        again.stream()
            .allMatch(t -> t.verdict() == recorded.verdict() && t.code().equals(recorded.code()));
    if (!alike) {
      return Finding.FLAKY;
    }
    return again.stream()
            .allMatch(t -> t.stateHash() == recorded.stateHash() && t.steps() == recorded.steps())
        ? Finding.SAME
        : Finding.ALIKE;
  }

  private static Pace pace(BenchDescription bench) {
    return bench.lockstep() ? Pace.lockstep(bench.periodNs()) : Pace.realTime(bench.periodNs());
  }
}
