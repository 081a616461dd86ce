package org.stopwell.harness.replay;

import java.util.Optional;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.trial.PolicyGuard;
import org.stopwell.harness.trial.TraceReader;

/**
 * Feeds a recorded trial to a controller and compares every step with the recording. The replay is
 * exact up to the first different motor command; after it the recording no longer applies.
 *
 * @param steps how many steps were recorded
 * @param firstHash the first step whose state hash differs, empty when none does
 * @param firstOutput the first step whose output differs, empty when none does
 */
public record StepComparison(
    int steps, Optional<Difference> firstHash, Optional<Difference> firstOutput) {

  /**
   * One differing step.
   *
   * @param step its position, from 0
   * @param timeNs its time, ns
   * @param remainingMicrons where the file really was, µm
   * @param recorded what the controller said then
   * @param replayed what it says now
   */
  public record Difference(
      int step, long timeNs, int remainingMicrons, String recorded, String replayed) {}

  /**
   * Compares.
   *
   * @param trace a recorded trial
   * @param settings the settings of the controller now
   * @param policies the policies that the settings may name
   * @return what differs
   */
  public static StepComparison of(byte[] trace, ControllerSettings settings, Policies policies) {
    return PolicyGuard.call(
        policies,
        () -> alone(trace, settings, policies),
        failure -> {
          throw failure;
        });
  }

  private static StepComparison alone(
      byte[] trace, ControllerSettings settings, Policies policies) {
    TraceReader reader = new TraceReader(trace);
    StopController controller = new StopController(settings, policies);
    ControllerOutput out = new ControllerOutput();
    Optional<Difference> hash = Optional.empty();
    Optional<Difference> output = Optional.empty();
    for (int step = 0; reader.next(); step++) {
      controller.step(reader.nowNs, reader.in, out);
      if (hash.isEmpty() && controller.stateHash() != reader.stateHash) {
        hash = Optional.of(difference(step, reader, out));
      }
      if (output.isEmpty() && !same(out, reader.out)) {
        output = Optional.of(difference(step, reader, out));
      }
    }
    return new StepComparison(reader.steps(), hash, output);
  }

  /**
   * Whether every step gave the same output and left the same state.
   *
   * @return true when nothing differs
   */
  public boolean identical() {
    return firstHash.isEmpty() && firstOutput.isEmpty();
  }

  /**
   * The first step that differs, in the motor command or else in the state.
   *
   * @return empty when nothing differs
   */
  public Optional<Difference> first() {
    return firstOutput.or(() -> firstHash);
  }

  private static Difference difference(int step, TraceReader reader, ControllerOutput now) {
    return new Difference(
        step, reader.nowNs, reader.truth.remainingMicrons, words(reader.out), words(now));
  }

  private static boolean same(ControllerOutput a, ControllerOutput b) {
    return a.drive == b.drive
        && a.speedMilliRpm == b.speedMilliRpm
        && a.torqueLimitMicroNewtonMetres == b.torqueLimitMicroNewtonMetres
        && a.state == b.state
        && a.readingPresent == b.readingPresent
        && a.remainingMicrons == b.remainingMicrons
        && a.boundMicrons == b.boundMicrons
        && a.trust == b.trust
        && a.cause == b.cause
        && a.reason == b.reason;
  }

  private static String words(ControllerOutput out) {
    return out.state
        + " "
        + out.drive
        + " "
        + out.speedMilliRpm
        + " milli-rpm, limit "
        + out.torqueLimitMicroNewtonMetres
        + " µN m, reading "
        + (out.readingPresent
            ? out.remainingMicrons + " µm within " + out.boundMicrons + " µm "
            : "none ")
        + out.trust
        + " "
        + out.cause
        + ", "
        + out.reason;
  }
}
