package org.stopwell.harness.fault;

import java.util.Objects;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.PolicyGuard;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** Runs trials as planned, with or without faults. */
public final class Trials {
  private Trials() {}

  /**
   * Runs one trial, with its faults if it has any, and leaves the bench safe.
   *
   * @param bench an open, sound bench
   * @param settings the settings of the controller
   * @param policies the policies that the settings may name
   * @param spec what to do
   * @param trace receives every step, or null
   * @param paces gives a time line once the scene is mounted
   * @param abandon asked before every step; when true the trial is given up
   * @return the result; of a trial with stated faults, whether that is what was stated; empty when
   *     it was given up
   */
  public static Optional<TrialResult> run(
      Bench bench,
      ControllerSettings settings,
      Policies policies,
      TrialSpec spec,
      @Nullable TraceRecorder trace,
      Supplier<Pace> paces,
      BooleanSupplier abandon) {
    return run(bench, settings, policies, spec, trace, paces, abandon, Onlooker.NOBODY);
  }

  /**
   * Runs one trial before an onlooker.
   *
   * @param bench an open, sound bench
   * @param settings the settings of the controller
   * @param policies the policies that the settings may name
   * @param spec what to do
   * @param trace receives every step, or null
   * @param paces gives a time line once the scene is mounted
   * @param abandon asked before every step; when true the trial is given up
   * @param onlooker sees every step
   * @return as without onlooker
   */
  public static Optional<TrialResult> run(
      Bench bench,
      ControllerSettings settings,
      Policies policies,
      TrialSpec spec,
      @Nullable TraceRecorder trace,
      Supplier<Pace> paces,
      BooleanSupplier abandon,
      Onlooker onlooker) {
    return PolicyGuard.call(
        policies,
        () -> alone(bench, settings, policies, spec, trace, paces, abandon, onlooker),
        failure -> {
          bench.safeStop();
          return Optional.of(TrialRunner.failed(spec, failure));
        });
  }

  /**
   * Runs one trial on a virtual bench of its own.
   *
   * @param periodNs period of the bench, ns
   * @param settings the settings of the controller
   * @param policies the policies that the settings may name
   * @param spec what to do
   * @param trace receives every step, or null
   * @param abandon asked before every step; when true the trial is given up
   * @return as {@link #run}
   */
  public static Optional<TrialResult> simulate(
      long periodNs,
      ControllerSettings settings,
      Policies policies,
      TrialSpec spec,
      @Nullable TraceRecorder trace,
      BooleanSupplier abandon) {
    try (VirtualBench bench = new VirtualBench(periodNs)) {
      bench.open();
      return run(bench, settings, policies, spec, trace, () -> Pace.lockstep(periodNs), abandon);
    }
  }

  private static Optional<TrialResult> alone(
      Bench bench,
      ControllerSettings settings,
      Policies policies,
      TrialSpec spec,
      @Nullable TraceRecorder trace,
      Supplier<Pace> paces,
      BooleanSupplier abandon,
      Onlooker onlooker) {
    if (spec.faults().isEmpty()) {
      return new TrialRunner(bench, settings, policies)
          .watchedBy(onlooker)
          .run(spec, trace, paces, abandon);
    }
    FaultyBench faulty = new FaultyBench(bench, spec.faultPlan());
    TraceRecorder steps = Objects.requireNonNullElseGet(trace, TraceRecorder::new);
    return new TrialRunner(faulty, settings, policies)
        .watchedBy(onlooker)
        .run(spec, steps, () -> faulty.pace(paces.get()), abandon)
        .map(
            r ->
                PolicyFailure.isIn(r) || DutException.isCode(r.code())
                    ? r
                    : FaultOutcome.judge(spec, r, steps.bytes(), faulty::onsetNs));
  }
}
