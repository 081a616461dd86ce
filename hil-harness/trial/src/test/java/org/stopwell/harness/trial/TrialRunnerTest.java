package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.FaultPlan;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

class TrialRunnerTest {
  private static final long MS = 1_000_000;

  private Plan plan;
  private TrialSpec sound;
  private TrialSpec leaking;

  @BeforeEach
  void readPlan() throws Exception {
    plan = TestPlans.quick(2);
    sound = plan.trial(0).condition().equals("sound") ? plan.trial(0) : plan.trial(1);
    leaking = plan.trial(0).condition().equals("leaking") ? plan.trial(0) : plan.trial(1);
  }

  @Test
  void aSoundNetworkIsStoppedIn() {
    TrialResult result = run(open(), sound, null).orElseThrow();
    assertEquals(Verdict.PASS, result.verdict(), result.message());
    assertTrue(result.stopped());
    assertEquals(result.remainingMicrons() - 500, result.stopErrorMicrons());
    assertTrue(result.deepestMicrons() <= result.remainingMicrons() + 20);
    assertTrue(result.stopTimeNs() > 0 && result.stopTimeNs() < result.durationNs());
  }

  @ParameterizedTest
  @EnumSource(
      value = Ability.class,
      names = {"MOTOR", "POSITION", "TRUTH"})
  void aBenchThatLacksWhatEveryTrialNeedsMountsNothing(Ability ability) {
    ForwardingBench blind =
        new ForwardingBench(open()) {
          @Override
          public List<Lack> lacks() {
            return List.of(new Lack(ability, "port X: board T-0001"));
          }

          @Override
          public void mount(Scene scene) {
            throw new AssertionError("mounted");
          }
        };
    TrialResult result =
        new TrialRunner(blind, plan.controller(sound))
            .run(sound, null, () -> Pace.lockstep(MS), () -> false)
            .orElseThrow();
    assertEquals(Verdict.RIG_FAULT, result.verdict());
    assertEquals("REFUSED", result.code());
    assertTrue(
        result.message().startsWith("port X: board T-0001 states " + ability.flag() + " 0; use "),
        result.message());
  }

  @Test
  void aLeakIsRefused() {
    TrialResult result = run(open(), leaking, null).orElseThrow();
    assertEquals(Verdict.PASS, result.verdict(), result.message());
    assertFalse(result.stopped());
    assertEquals(0, result.stopErrorMicrons());
  }

  /** 50 MPa: a file of 0.37 mm, 3 mm from its tip, bears 0.497 mN·m, τπd³/16. */
  @Test
  void aWeakFileInANarrowCanalBreaksAndTheTrialSaysSo() throws Exception {
    String settings =
        Source.of(TestPlans.file("first-stop").resolveSibling("../settings/reference-canal.yaml"))
            .text();
    String text =
        """
        plan: 1
        name: weak-file
        settings: settings.yaml
        stage: length
        trials: 1
        scene:
          canal: {constriction_diameter_mm: 0.24, taper: 0.035}
          file: {size: 25, taper: 0.04, shear_strength_mpa: 50}
          hand: {feed_mm_per_s: 1}
        factors:
          file:
            weak: {}
        """;
    Plan weak = Plan.read(new Source("weak.yaml", text), new Source("settings.yaml", settings));
    TraceRecorder recorder = new TraceRecorder();
    TrialResult result = run(open(), weak.trial(0), recorder).orElseThrow();
    assertEquals("FILE_BROKE", result.code(), result.message());
    assertEquals(Verdict.FAIL, result.verdict());
    assertTrue(result.message().startsWith("The file separated by torsion"), result.message());
    TraceReader trace = new TraceReader(recorder.bytes());
    while (trace.next()) {
      assertTrue(trace.truth.file == FileCondition.WHOLE || trace.nowNs == result.durationNs());
    }
    assertEquals(FileCondition.TWISTED_OFF, trace.truth.file);
  }

  @Test
  void theSameTrialComesToTheSameEndOnAUsedBench() {
    TraceRecorder first = new TraceRecorder();
    TraceRecorder again = new TraceRecorder();
    VirtualBench bench = open();
    TrialResult one = run(bench, sound, first).orElseThrow();
    run(bench, leaking, null);
    TrialResult two = run(bench, sound, again).orElseThrow();
    assertEquals(one, two);
    assertArrayEquals(first.bytes(), again.bytes());
  }

  @Test
  void theTraceHoldsEveryStepAsItWas() {
    TraceRecorder recorder = new TraceRecorder();
    TrialResult result = run(open(), sound, recorder).orElseThrow();
    TraceReader trace = new TraceReader(recorder.bytes());
    assertEquals(result.steps(), trace.steps());
    StopController controller = new StopController(plan.settings().controller());
    ControllerOutput out = new ControllerOutput();
    int deepest = Integer.MAX_VALUE;
    while (trace.next()) {
      controller.step(trace.nowNs, trace.in, out);
      assertEquals(trace.stateHash, controller.stateHash(), "at " + trace.nowNs + " ns");
      assertEquals(trace.out.state, out.state);
      assertEquals(trace.out.speedMilliRpm, out.speedMilliRpm);
      deepest = Math.min(deepest, trace.truth.remainingMicrons);
    }
    assertEquals(result.stateHash(), trace.stateHash);
    assertEquals(result.deepestMicrons(), deepest);
  }

  @Test
  void aDamagedTraceIsRefused() {
    TraceRecorder recorder = new TraceRecorder();
    run(open(), leaking, recorder);
    byte[] bytes = recorder.bytes();
    byte[] otherVersion = bytes.clone();
    otherVersion[4]++;
    for (byte[] wrong :
        new byte[][] {
          {},
          "no trace at all ".getBytes(java.nio.charset.StandardCharsets.US_ASCII),
          Arrays.copyOf(bytes, bytes.length - 1),
          otherVersion
        }) {
      assertThrows(IllegalArgumentException.class, () -> new TraceReader(wrong));
    }
  }

  @Test
  void aPulledCableIsTheRigsFaultAndLeavesTheMotorSafe() {
    FailingBench bench = new FailingBench(open(), sound.scene().seed(), 500 * MS);
    TrialResult result = run(bench, sound, null).orElseThrow();
    assertEquals(Verdict.RIG_FAULT, result.verdict());
    assertEquals("PORT_GONE", result.code());
    assertEquals("port X: gone at 500000000 ns", result.message());
    assertEquals(500, result.steps());
    assertEquals(1, bench.safeStops);
  }

  @Test
  void aTrialThatIsGivenUpGivesNoResultAndLeavesTheMotorSafe() {
    FailingBench bench = new FailingBench(open(), 0, 0);
    AtomicInteger asked = new AtomicInteger();
    Optional<TrialResult> result =
        new TrialRunner(bench, plan.settings().controller())
            .run(sound, null, () -> Pace.lockstep(MS), () -> asked.incrementAndGet() > 100);
    assertTrue(result.isEmpty());
    assertEquals(1, bench.safeStops);
  }

  @Test
  void aLateStepIsTheRigsFault() {
    Pace late =
        new Pace() {
          private final Pace pace = Pace.lockstep(MS);

          @Override
          public long next() {
            return pace.next();
          }

          @Override
          public long latenessNs() {
            return 20 * MS + 1;
          }
        };
    TrialResult result =
        new TrialRunner(open(), plan.settings().controller())
            .run(leaking, null, () -> late, () -> false)
            .orElseThrow();
    assertEquals(Verdict.RIG_FAULT + " LATE", result.verdict() + " " + result.code());
    assertEquals(20 * MS + 1, result.worstLatenessNs());
  }

  /** A device is not blamed for what the host did: the same trial fails when nothing is late. */
  @Test
  void aTrialThatWouldFailIsTheRigsFaultWhenAStepIsLate() {
    TrialSpec failing =
        new TrialSpec(
            0,
            leaking.condition(),
            Expectation.STOP,
            leaking.stage(),
            leaking.standoffMicrons(),
            leaking.toleranceMicrons(),
            leaking.depthLimitMicrons(),
            leaking.torqueLimitMicroNewtonMetres(),
            leaking.timeLimitNs(),
            leaking.scene(),
            List.of());
    assertEquals(Verdict.FAIL, run(open(), failing, null).orElseThrow().verdict());
    FaultPlan stall =
        new FaultPlan(
            1, List.of(new Injection(FaultKind.HOST_STALL, 100 * MS, Long.MAX_VALUE, 21)));
    FaultyBench bench = new FaultyBench(open(), stall);
    TrialResult late =
        new TrialRunner(bench, plan.settings().controller())
            .run(failing, null, () -> bench.pace(Pace.lockstep(MS)), () -> false)
            .orElseThrow();
    assertEquals(Verdict.RIG_FAULT + " LATE", late.verdict() + " " + late.code());
    assertEquals(21 * MS, late.worstLatenessNs());
  }

  @Test
  void aBoardThatTakesThePowerFromALateComputerIsNotToBlame() throws Exception {
    FaultPlan stall =
        new FaultPlan(
            1,
            List.of(
                new Injection(
                    FaultKind.HOST_STALL, Injection.Since.TURN, 100 * MS, Long.MAX_VALUE, 500)));
    try (EmulatedBench board = EmulatedBench.lockstep(MS)) {
      board.open();
      FaultyBench bench = new FaultyBench(board, stall);
      TrialResult late =
          new TrialRunner(bench, plan.settings().controller())
              .run(sound, null, () -> bench.pace(Pace.lockstep(MS)), () -> false)
              .orElseThrow();
      assertEquals(Verdict.RIG_FAULT + " LATE", late.verdict() + " " + late.code());
      assertTrue(late.message().contains("the board cut the power by itself"), late.message());
    }
  }

  @Test
  void aBoardThatIsNotHeardAfterALateStepIsNotTheFirstCause() {
    FaultPlan stall =
        new FaultPlan(
            1,
            List.of(
                new Injection(FaultKind.HOST_STALL, 100 * MS, Long.MAX_VALUE, 21),
                new Injection(FaultKind.NO_ANSWER, 200 * MS, Long.MAX_VALUE, 0)));
    FaultyBench bench = new FaultyBench(open(), stall);
    TrialResult late =
        new TrialRunner(bench, plan.settings().controller())
            .run(sound, null, () -> bench.pace(Pace.lockstep(MS)), () -> false)
            .orElseThrow();
    assertEquals(Verdict.RIG_FAULT + " LATE", late.verdict() + " " + late.code());
    assertTrue(late.message().startsWith("A step came 21 ms late; 20 ms is allowed. Then: "));
  }

  private Optional<TrialResult> run(
      org.stopwell.rig.bench.Bench bench,
      TrialSpec spec,
      @org.jspecify.annotations.Nullable TraceRecorder trace) {
    return new TrialRunner(bench, plan.settings().controller())
        .run(spec, trace, () -> Pace.lockstep(MS), () -> false);
  }

  private static VirtualBench open() {
    VirtualBench bench = new VirtualBench(MS);
    bench.open();
    return bench;
  }
}
