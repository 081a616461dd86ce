package org.stopwell.harness.replay;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.PolicyGuard;
import org.stopwell.harness.trial.Said;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

/**
 * One trial to look at: every step of it, and what the controller said.
 *
 * @param trace every step
 * @param stored whether the trace comes from the run file; otherwise the trial was simulated again
 * @param exact whether this build reproduces every state of the trace
 * @param said every change of state with its reason; empty where the trace is not reproduced
 * @param result the result, where the trial was simulated with other settings
 * @param endsNs where a recording of a physical bench ends to apply to other settings: their first
 *     different motor command, ns; empty where it applies to its end
 */
@SuppressWarnings("ArrayRecordComponent") // A trace is large and is only passed through.
public record Playback(
    byte[] trace,
    boolean stored,
    boolean exact,
    List<Said> said,
    Optional<TrialResult> result,
    OptionalLong endsNs) {
  /** Takes a copy of the list. */
  public Playback {
    said = List.copyOf(said);
  }

  /**
   * A recorded trial: from its stored trace, or else simulated again from its seed.
   *
   * @param run the run file
   * @param plan its plan
   * @param index the trial
   * @return every step of it
   * @throws RunFileException when the run file cannot be read
   * @throws TraceException when no trace is kept and the trial cannot be simulated again
   */
  public static Playback of(RunFile run, Plan plan, int index)
      throws RunFileException, TraceException {
    if (plan.isExternal()) {
      throw new TraceException(
          List.of("trial " + (index + 1) + ": a device was watched; no controller ran"));
    }
    Optional<byte[]> stored = run.readableTrace(index);
    byte[] trace = stored.isPresent() ? stored.get() : Resimulation.of(run, plan, index).trace();
    Fed fed = Fed.of(trace, plan.controller(plan.trial(index)), plan.policies());
    return new Playback(
        trace,
        stored.isPresent(),
        fed.exact(),
        fed.exact() ? fed.said() : List.of(),
        Optional.empty(),
        OptionalLong.empty());
  }

  /**
   * The same trial with other settings. The virtual bench simulates it to its new end. A recording
   * of a physical bench applies up to the first different motor command.
   *
   * @param bench what the trial was run on
   * @param other the plan with these settings
   * @param index the trial
   * @return every step of it
   */
  public Playback with(BenchDescription bench, Plan other, int index) {
    ControllerSettings settings = other.controller(other.trial(index));
    if (bench.simulated() && bench.lockstep()) {
      Resimulation again = Resimulation.again(other, index, bench.periodNs(), true);
      Fed fed = Fed.of(again.trace(), settings, other.policies());
      return new Playback(
          again.trace(),
          false,
          true,
          fed.said(),
          Optional.of(again.result()),
          OptionalLong.empty());
    }
    Fed fed = Fed.of(trace, settings, other.policies());
    return new Playback(fed.trace(), stored, true, fed.said(), Optional.empty(), fed.endsNs());
  }

  /** What a controller makes of a trace, up to its first different motor command. */
  private record Fed(byte[] trace, boolean exact, List<Said> said, OptionalLong endsNs) {
    static Fed of(byte[] trace, ControllerSettings settings, Policies policies) {
      return PolicyGuard.call(
          policies,
          () -> alone(trace, settings, policies),
          failure -> {
            throw failure;
          });
    }

    private static Fed alone(byte[] trace, ControllerSettings settings, Policies policies) {
      TraceReader reader = new TraceReader(trace);
      StopController controller = new StopController(settings, policies);
      ControllerOutput out = new ControllerOutput();
      EventReader events = new EventReader(controller);
      TraceRecorder given = new TraceRecorder();
      boolean exact = true;
      while (reader.next()) {
        controller.step(reader.nowNs, reader.in, out);
        events.collect();
        exact &= controller.stateHash() == reader.stateHash;
        given.add(reader.nowNs, reader.in, out, controller.stateHash(), reader.truth);
        if (!commandsTheSame(out, reader.out)) {
          return new Fed(given.bytes(), false, events.said(), OptionalLong.of(reader.nowNs));
        }
      }
      return new Fed(given.bytes(), exact, events.said(), OptionalLong.empty());
    }

    private static boolean commandsTheSame(ControllerOutput a, ControllerOutput b) {
      return a.drive == b.drive
          && a.speedMilliRpm == b.speedMilliRpm
          && a.torqueLimitMicroNewtonMetres == b.torqueLimitMicroNewtonMetres;
    }
  }
}
