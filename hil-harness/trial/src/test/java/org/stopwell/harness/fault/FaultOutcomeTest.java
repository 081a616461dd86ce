package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/** What comes of a planned fault, against what the plan states: verdict, cause, time, no harm. */
class FaultOutcomeTest {
  private static final long MS = 1_000_000;

  /** The motor turns, the fault strikes at 100 ms, and the controller brakes at 140 ms. */
  private final byte[] braked =
      MadeTrace.of(
          400,
          (ms, in, out) -> {
            if (ms >= 140) {
              out.drive = Drive.BRAKE;
              out.reason = ms == 140 ? Reason.STALLED : Reason.TRUST_LOST;
              out.cause = Cause.JUMPY;
              in.speedMilliRpm = 0;
            }
          });

  @Test
  void theReactionIsTheTimeUntilTheFirstCommandToRest() {
    FaultOutcome outcome = outcome(braked, 100 * MS, fault(null, "", 0), failed(4_000));
    assertTrue(outcome.turning());
    assertEquals(40 * MS, outcome.reactionNs());
    assertTrue(outcome.named().containsAll(List.of("LOCKED", "STALLED", "JUMPY", "TRUST_LOST")));
  }

  @Test
  void aFaultThatStrikesAtRestHasNoReaction() {
    FaultOutcome outcome = outcome(braked, 200 * MS, fault(null, "", 0), failed(4_000));
    assertFalse(outcome.turning());
    assertEquals(0, outcome.reactionNs());
  }

  @Test
  void aMotorThatIsNeverToldToRestHasNoEndUnlessTheBenchGaveUp() {
    byte[] on = MadeTrace.of(300, (ms, in, out) -> {});
    FaultOutcome never = outcome(on, 100 * MS, fault(null, "", 0), failed(4_000));
    assertEquals(Long.MAX_VALUE, never.reactionNs());
    TrialResult gone = MadeTrace.result(Verdict.RIG_FAULT, "PORT_GONE");
    assertEquals(
        199 * MS, outcome(on, 100 * MS, fault(null, "", 0), gone).reactionNs(), "the last step");
    assertEquals(
        Long.MAX_VALUE, outcome(on, Long.MAX_VALUE, fault(null, "", 0), gone).reactionNs());
  }

  @Test
  void eachStatedResultIsComparedByItself() {
    TrialResult locked = failed(4_000);
    assertEquals(Optional.empty(), against(fault(Verdict.FAIL, "STALLED", 40 * MS), locked));
    assertEquals(Optional.of("verdict PASS."), against(fault(Verdict.PASS, "", 0), locked));
    assertEquals(Optional.of("cause LATE."), against(fault(null, "LATE", 0), locked));
    assertEquals(Optional.empty(), against(fault(null, "", 40 * MS), locked));
    assertEquals(
        Optional.of("rest within 39 ms."), against(fault(null, "", 39 * MS + MS / 4), locked));
  }

  @Test
  void overTravelIsADeviationExceptWhenThePowerStaysOn() {
    assertEquals(Optional.empty(), against(fault(Verdict.FAIL, "", 0), failed(0)), "at it");
    assertTrue(against(fault(Verdict.FAIL, "", 0), failed(-1)).isPresent());
    PlannedFault on = fault(FaultKind.RUNS_ON, Verdict.FAIL, "", 0);
    assertEquals(Optional.empty(), against(on, failed(-1)));
  }

  @Test
  void aTrialPassesWhenAllItsFaultsCameAsStated() {
    TrialResult locked = failed(4_000);
    TrialResult good = judged(locked, fault(Verdict.FAIL, "STALLED", 0));
    assertEquals("PASS AS_EXPECTED", good.verdict() + " " + good.code());
    assertTrue(good.message().contains("after 40 ms."), good.message());
    assertTrue(good.message().contains("FAIL LOCKED."), "what it was without the plan");
    TrialResult bad = judged(locked, fault(Verdict.FAIL, "STALLED", 0), fault(null, "", 30 * MS));
    assertEquals("FAIL NOT_AS_EXPECTED", bad.verdict() + " " + bad.code());
    assertTrue(bad.message().contains("the plan expects rest within 30 ms."), bad.message());
    assertSame(locked, judged(locked, fault(null, "", 0)), "nothing is stated, nothing is judged");
  }

  private static TrialResult failed(int deepestMicrons) {
    TrialResult r = MadeTrace.result(Verdict.FAIL, "LOCKED");
    return new TrialResult(
        r.index(),
        r.condition(),
        r.seed(),
        r.expectation(),
        r.verdict(),
        r.code(),
        r.message(),
        r.stopped(),
        r.remainingMicrons(),
        r.stopErrorMicrons(),
        deepestMicrons,
        r.readingMicrons(),
        r.state(),
        r.reason(),
        r.trust(),
        r.cause(),
        r.stopTimeNs(),
        r.durationNs(),
        r.steps(),
        r.worstLatenessNs(),
        r.stateHash(),
        r.chain());
  }

  private static PlannedFault fault(@Nullable Verdict verdict, String cause, long withinNs) {
    return fault(FaultKind.JAM, verdict, cause, withinNs);
  }

  private static PlannedFault fault(
      FaultKind kind, @Nullable Verdict verdict, String cause, long withinNs) {
    return new PlannedFault(
        new Injection(kind, 100 * MS, Long.MAX_VALUE, 0), 1, verdict, cause, withinNs);
  }

  private Optional<String> against(PlannedFault fault, TrialResult result) {
    return outcome(braked, 100 * MS, fault, result).against();
  }

  private static FaultOutcome outcome(
      byte[] trace, long onsetNs, PlannedFault fault, TrialResult result) {
    return FaultOutcome.of(fault, spec(List.of(fault)), result, trace, onsetNs);
  }

  private TrialResult judged(TrialResult result, PlannedFault... faults) {
    return FaultOutcome.judge(spec(List.of(faults)), result, braked, i -> i.startNs());
  }

  private static TrialSpec spec(List<PlannedFault> faults) {
    try {
      return new TrialSpec(
          0,
          "c",
          Expectation.STOP,
          Stage.LENGTH,
          500,
          500,
          11_000,
          6_000,
          20_000 * MS,
          Scene.of(Map.of(), 1),
          faults);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }
}
