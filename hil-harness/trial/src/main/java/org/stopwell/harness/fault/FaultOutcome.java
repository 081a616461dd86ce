package org.stopwell.harness.fault;

import java.util.List;
import java.util.Locale;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.ToLongFunction;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/**
 * The result of one fault in one trial.
 *
 * @param fault what was planned
 * @param result the result of the trial without regard to the fault
 * @param turning whether the motor was commanded to turn when the fault struck
 * @param reactionNs time from the fault until the motor was commanded to rest or the bench gave up,
 *     ns; 0 when it rested already; the greatest long when it never was
 * @param overTravel whether the file went farther than the plan allows at any moment
 * @param named every code, reason and cause that the first reaction and the result give, and the
 *     kind of fault that the trace shows
 */
public record FaultOutcome(
    PlannedFault fault,
    TrialResult result,
    boolean turning,
    long reactionNs,
    boolean overTravel,
    NavigableSet<String> named) {
  /** Code of a trial whose faults had the stated result. */
  public static final String AS_EXPECTED = "AS_EXPECTED";

  /** Code of a trial whose faults had another result. */
  public static final String NOT_AS_EXPECTED = "NOT_AS_EXPECTED";

  /**
   * The result of a fault.
   *
   * @param fault what was planned
   * @param spec the trial
   * @param result what the trial gave
   * @param trace its trace
   * @param onsetNs when the fault struck, time since the mount, ns; the greatest long when it did
   *     not
   * @return the outcome
   */
  public static FaultOutcome of(
      PlannedFault fault, TrialSpec spec, TrialResult result, byte[] trace, long onsetNs) {
    NavigableSet<String> named = new TreeSet<>();
    named.add(result.code());
    named.add(result.reason().name());
    Diagnosis.of(result, trace).map(FaultKind::name).ifPresent(named::add);
    TraceReader reader = new TraceReader(trace);
    boolean turning = false;
    long restNs = Long.MAX_VALUE;
    long lastNs = 0;
    while (reader.next()) {
      boolean turns = reader.out.drive.turns();
      lastNs = reader.nowNs;
      if (reader.nowNs < onsetNs) {
        turning = turns;
      } else if (!turns && restNs == Long.MAX_VALUE) {
        restNs = reader.nowNs;
        named.add(reader.out.reason.name());
        named.add(reader.out.cause.name());
      }
    }
    if (restNs == Long.MAX_VALUE && result.verdict() == Verdict.RIG_FAULT) {
      restNs = Math.max(lastNs, onsetNs); // the bench gave up, and is safe
    }
    named.remove("NO_CAUSE");
    boolean struck = onsetNs != Long.MAX_VALUE && restNs != Long.MAX_VALUE;
    long reactionNs = !turning ? 0 : struck ? restNs - onsetNs : Long.MAX_VALUE;
    boolean overTravel = result.deepestMicrons() < spec.overTravelBelowMicrons();
    return new FaultOutcome(fault, result, turning, reactionNs, overTravel, named);
  }

  /**
   * The result of a trial with faults: unchanged if the plan states no result of the faults;
   * otherwise whether everything stated occurred.
   *
   * @param spec the trial
   * @param result its result without regard to the faults
   * @param trace its trace
   * @param onsetNs when a fault struck, ns
   * @return the result to be kept; every number is as it was
   */
  public static TrialResult judge(
      TrialSpec spec, TrialResult result, byte[] trace, ToLongFunction<Injection> onsetNs) {
    List<FaultOutcome> outcomes =
        spec.faults().stream()
            .filter(PlannedFault::isJudged)
            .map(f -> of(f, spec, result, trace, onsetNs.applyAsLong(f.injection())))
            .toList();
    if (outcomes.isEmpty()) {
      return result;
    }
    StringBuilder text = new StringBuilder();
    boolean asExpected = true;
    for (FaultOutcome outcome : outcomes) {
      Optional<String> against = outcome.against();
      asExpected &= against.isEmpty();
      text.append(outcome.sentence())
          .append(against.map(a -> " Deviation: the plan expects " + a).orElse(""));
      text.append(' ');
    }
    return stated(result, asExpected, text.toString());
  }

  /**
   * The result of a trial whose faults had a stated result.
   *
   * @param result its result without regard to the faults
   * @param asExpected whether everything stated occurred
   * @param text what happened, as whole sentences with a space behind
   * @return the result to be kept; every number is as it was
   */
  public static TrialResult stated(TrialResult result, boolean asExpected, String text) {
    return result.with(
        asExpected ? Verdict.PASS : Verdict.FAIL,
        asExpected ? AS_EXPECTED : NOT_AS_EXPECTED,
        text
            + "Result without the expectation of the plan: "
            + result.verdict()
            + " "
            + result.code()
            + ". "
            + result.message());
  }

  /**
   * The deviation from the expectation of the plan.
   *
   * @return what the plan expects and did not occur, as the end of a sentence; empty when all is as
   *     expected
   */
  public Optional<String> against() {
    @Nullable Verdict wanted = fault.verdict();
    if (wanted != null && result.verdict() != wanted) {
      return Optional.of("verdict " + wanted + ".");
    }
    if (!fault.cause().isEmpty() && !named.contains(fault.cause())) {
      return Optional.of("cause " + fault.cause() + ".");
    }
    if (fault.withinNs() > 0 && reactionNs > fault.withinNs()) {
      return Optional.of("rest within " + ms(fault.withinNs()) + ".");
    }
    // No software can correct power that stays on. Every other over-travel is a deviation.
    return overTravel && fault.injection().kind() != FaultKind.RUNS_ON
        ? Optional.of(
            "that the file never passes the foramen, or the far edge of a band beyond it.")
        : Optional.empty();
  }

  private String sentence() {
    return "Fault "
        + fault.injection().kind()
        + (turning
            ? reactionNs == Long.MAX_VALUE
                ? ": the motor was never commanded to stop."
                : ": the motor was commanded to stop after " + ms(reactionNs) + "."
            : ": the motor was at rest.")
        + " Names in the record: "
        + String.join(", ", named)
        + ".";
  }

  private static String ms(long ns) {
    return String.format(Locale.ROOT, "%.0f ms", ns / 1e6);
  }
}
