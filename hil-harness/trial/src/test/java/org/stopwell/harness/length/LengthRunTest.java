package org.stopwell.harness.length;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.hand.LocatorHand;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.Plant;
import org.stopwell.rig.virtual.VirtualBench;

class LengthRunTest {
  private static final long PERIOD_NS = 1_000_000;

  @Test
  void aHandFileIsReadAtTheStandoffAndNothingTurns() throws Exception {
    Plan plan = Plan.read(Source.of(TestPlans.file("length-readings")));
    TrialSpec trial = plan.trial(0);
    List<LocatorHand> hands = new ArrayList<>();
    Bench bench =
        new VirtualBench(
            PERIOD_NS,
            scene -> {
              LocatorHand hand = new LocatorHand(scene, trial.standoffMicrons(), Plant.TICK_NS);
              hands.add(hand);
              return new Plant(scene, hand);
            });
    bench.open();
    List<Integer> errors = new ArrayList<>();
    boolean[] turned = new boolean[1];
    LengthRun.End end =
        run(bench, plan, trial, MovedBy.HAND_FILE, DepthReader.axis(orifice()))
            .shownTo(
                out -> {
                  hands.get(0).shows(out.readingPresent, out.remainingMicrons);
                  turned[0] |= out.drive.turns() || bench.truth().speedMilliRpm != 0;
                })
            .take(
                trial,
                3,
                taken -> {
                  errors.add(taken.errorMicrons());
                  // 16 mm from orifice to foramen
                  assertEquals(15_500 + taken.errorMicrons(), taken.reading().lengthMicrons(), 10);
                });
    assertEquals(LengthRun.End.COMPLETE, end);
    assertEquals(3, errors.size());
    errors.forEach(error -> assertEquals(0, error, 150));
    assertFalse(turned[0], "a hand file turns by hand only");
  }

  @Test
  void aPersonReadsTheRubberStopOfASafeBench() throws Exception {
    Plan plan = Plan.read(Source.of(TestPlans.file("length-readings")));
    TrialSpec trial = plan.trial(0);
    Counting bench = new Counting(new VirtualBench(PERIOD_NS));
    bench.open();
    List<Integer> typed = new ArrayList<>(List.of(21_000, 21_100));
    DepthReader person =
        new DepthReader() {
          @Override
          public boolean stopsTheBench() {
            return true;
          }

          @Override
          public OptionalInt read(ControllerInput in, Truth truth) {
            assertTrue(bench.safe, "the bench is safe while a person reads");
            return typed.isEmpty() ? OptionalInt.empty() : OptionalInt.of(typed.remove(0));
          }
        };
    List<Integer> lengths = new ArrayList<>();
    LengthRun.End end =
        run(bench, plan, trial, MovedBy.MOTOR, person)
            .take(trial, 5, taken -> lengths.add(taken.reading().lengthMicrons()));
    assertEquals(LengthRun.End.GIVEN_UP, end, "nobody read the third");
    assertEquals(3, bench.mounts, "mounted again after each reading");
    assertEquals(2, lengths.size());
    assertEquals(100, lengths.get(1) - lengths.get(0));
    assertEquals(21_000, lengths.get(0), 400, "the stop error is put right by the reading");
  }

  private static ReferencePoint orifice() {
    return new ReferencePoint(ReferencePoint.ORIFICE, 0, 100);
  }

  private static LengthRun run(
      Bench bench, Plan plan, TrialSpec trial, MovedBy movedBy, DepthReader depth) {
    return new LengthRun(
        bench,
        plan.controller(trial),
        Policies.BUILT_IN,
        movedBy,
        25,
        depth,
        () -> Pace.lockstep(PERIOD_NS),
        () -> false);
  }

  private static final class Counting extends ForwardingBench {
    private int mounts;
    private boolean safe;

    Counting(Bench bench) {
      super(bench);
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      mounts++;
      safe = false;
      super.mount(scene);
    }

    @Override
    public void safeStop() {
      safe = true;
      super.safeStop();
    }
  }
}
