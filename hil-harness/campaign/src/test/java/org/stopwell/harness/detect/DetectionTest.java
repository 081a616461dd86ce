package org.stopwell.harness.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.policy.Stopping;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** Defects that are put in on purpose do what they say, and a plan notices the great ones. */
class DetectionTest {
  private static final long MS = 1_000_000;

  @Test
  void aPlanPassesASoundControllerAndNoticesAWrongSignAndAGreatStandoff() throws Exception {
    Plan plan = TestPlans.quick(2);
    int[] campaigns = new int[1];
    try (Detection detection = new Detection(plan, 2, 2, MS, n -> campaigns[0] += n)) {
      assertEquals(0, detection.falseAlarms().count());
      Detection.Finding sign = detection.search(DefectKind.DISTANCE_SIGN);
      assertEquals(2, sign.smallest().orElseThrow().noticed().count());
      Detection.Finding standoff = detection.search(DefectKind.STANDOFF_MORE);
      // 150 % more is 0.75 mm further out, and 0.5 mm is allowed; 5 % is 0.025 mm.
      assertTrue(standoff.smallest().orElseThrow().size() > 5, standoff.toString());
      assertTrue(standoff.missed().orElseThrow().size() >= 5, standoff.toString());
    }
    assertTrue(campaigns[0] >= 8, campaigns[0] + " campaigns");
  }

  /** Both signs: a defect may move a stop either way. */
  @Test
  void theEffectIsTheLargestShiftOfAStopWhateverItsSign() {
    List<TrialResult> sound = List.of(stop(0, 40), stop(1, -10), stop(2, 0), SampleRun.refusal(3));
    assertEquals(
        new Detection.Effect(4, 0, 90),
        Detection.Effect.of(
            sound, List.of(stop(0, -50), stop(1, 10), stop(2, 0), SampleRun.refusal(3))));
    assertEquals(
        new Detection.Effect(4, 0, 90),
        Detection.Effect.of(
            sound, List.of(stop(0, 130), stop(1, -20), stop(2, 0), SampleRun.refusal(3))));
  }

  /** The same verdict for another reason counts; a trial that no longer stops has no shift. */
  @Test
  void theEffectCountsVerdictsAndCausesThatChanged() {
    List<TrialResult> sound = List.of(stop(0, 40), stop(1, 0), stop(2, 0), stop(3, 0));
    assertEquals(
        new Detection.Effect(3, 2, 7),
        Detection.Effect.of(
            sound,
            List.of(
                SampleRun.rigFault(0, "LATE"),
                stop(1, 7),
                stop(2, 0).with(Verdict.PASS, "AT_DEPTH_LIMIT", "Rests."))));
    assertEquals(new Detection.Effect(4, 0, 0), Detection.Effect.of(sound, sound));
  }

  private static TrialResult stop(int index, int errorMicrons) {
    return SampleRun.stop(index, errorMicrons);
  }

  @Test
  void thePlanForBuildsNoticesWhatAPatientPlanMustNotBlameItselfFor() throws Exception {
    Plan shipped = Plan.read(Source.of(TestPlans.file("build")));
    try (Detection build =
            new Detection(shipped.with(shipped.head().seed(), 1), 2, 2, MS, n -> {});
        Detection patient = new Detection(TestPlans.quick(2), 2, 2, MS, n -> {})) {
      assertEquals(0, build.falseAlarms().count());
      for (DefectKind kind : List.of(DefectKind.LEAD_SIGN, DefectKind.NO_DEBOUNCE)) {
        assertEquals(2, build.search(kind).smallest().orElseThrow().noticed().count(), kind.name());
      }
      Detection.Finding debounce = patient.search(DefectKind.NO_DEBOUNCE);
      assertTrue(debounce.smallest().isEmpty(), "nothing bounces there");
      Detection.Effect effect = debounce.missed().orElseThrow().effect().orElseThrow();
      assertEquals(4, effect.trials());
      assertEquals(0, effect.verdicts());
    }
  }

  @ParameterizedTest
  @EnumSource(DefectKind.class)
  void everyDefectOfEverySizeMakesSettingsThatAreRight(DefectKind kind) throws Exception {
    ControllerSettings sound = TestPlans.quick(1).settings().controller();
    List<Long> fingerprints = new ArrayList<>();
    for (int size : kind.sizes()) {
      fingerprints.add(
          new Defect(kind, size).settings(sound, Policies.BUILT_IN, Stage.LENGTH).fingerprint());
    }
    boolean inSettings = kind != DefectKind.LATE && kind != DefectKind.STALE_HOLD;
    assertTrue(
        inSettings == !fingerprints.contains(sound.fingerprint()), "changed: " + fingerprints);
  }

  @Test
  void theStandoffIsOffByTheSize() throws Exception {
    ControllerSettings sound = TestPlans.quick(1).settings().controller();
    int right = sound.stage(Stage.LENGTH).getInt(StageParameters.STANDOFF);
    ControllerSettings wrong =
        new Defect(DefectKind.STANDOFF_LESS, 20).settings(sound, Policies.BUILT_IN, Stage.LENGTH);
    assertEquals(right * 80 / 100, wrong.stage(Stage.LENGTH).getInt(StageParameters.STANDOFF));
  }

  @Test
  void aLateSignalIsOldAndClaimsToBeFresh() throws Exception {
    Bench late = new Defect(DefectKind.LATE, 20).bench(new Clockwork());
    late.mount(Scene.of(java.util.Map.of(), 1));
    ControllerInput in = new ControllerInput();
    for (long now = 0; now <= 200 * MS; now += MS) {
      late.exchange(now, new ControllerOutput(), in);
      if (now >= 20 * MS) {
        assertEquals(now / MS - 20, in.distanceMicrons, "at " + now / MS + " ms");
      }
      assertEquals(now, in.sampleTimeNs);
      assertEquals(now / MS, in.sampleSequence);
    }
  }

  /** All that belongs to a sample is old; what motor and link say is that of now. */
  @Test
  void aLateSignalHasAllFieldsOfItsOldSample() throws Exception {
    Bench late = new Defect(DefectKind.LATE, 20).bench(new Clockwork());
    late.mount(Scene.of(java.util.Map.of(), 1));
    ControllerInput in = new ControllerInput();
    for (long now = 0; now <= 100 * MS; now += MS) {
      late.exchange(now, new ControllerOutput(), in);
    }
    ControllerInput old = new ControllerInput();
    new Clockwork().exchange(80 * MS, new ControllerOutput(), old);
    assertEquals(old.positionKind, in.positionKind);
    assertEquals(old.frequencyCount, in.frequencyCount);
    assertEquals(old.railed, in.railed);
    for (int i = 0; i < old.frequencyCount; i++) {
      assertEquals(old.frequencyHz[i], in.frequencyHz[i]);
      assertEquals(old.zRealMilliOhms[i], in.zRealMilliOhms[i]);
      assertEquals(old.zImagMilliOhms[i], in.zImagMilliOhms[i]);
    }
    assertEquals(100, in.speedMilliRpm);
  }

  /** Half a millimetre short, 2 mm/s inwards, 30 ms of coast; and withdrawing. */
  @ParameterizedTest
  @CsvSource({
    "DISTANCE_SIGN, 1, 0, -1, 0",
    "LEAD_SIGN, 1, 2, -1, 0",
    "UNIT, 10, 0, 0.1, 0",
    "EARLY, 100, 0, 1, 0.1",
    "LATE, 100, 0, 1, 0",
  })
  void aDefectOfTheDecisionIsOffByItsFormula(
      DefectKind kind, int size, double ofRemaining, double ofSound, double seconds)
      throws Exception {
    ControllerSettings settings = TestPlans.quick(1).settings().controller();
    Defect defect = new Defect(kind, size);
    Stopping sound = Policies.BUILT_IN.stopping(settings);
    Stopping wrong =
        defect
            .policies(settings, Policies.BUILT_IN)
            .stopping(defect.settings(settings, Policies.BUILT_IN, Stage.LENGTH));
    for (double v : new double[] {2_000, -2_000}) {
      double right = sound.atRest(500, v, 30 * MS);
      assertTrue(v < 0 || right < 500, "it leads by " + (500 - right) + " µm");
      assertEquals(
          500 * ofRemaining + right * ofSound - Math.max(0, v) * seconds,
          wrong.atRest(500, v, 30 * MS),
          1e-9,
          v + " µm/s");
    }
  }

  @Test
  void aHeldSignalStandsStillOnceASecond() throws Exception {
    Bench held = new Defect(DefectKind.STALE_HOLD, 100).bench(new Clockwork());
    held.mount(Scene.of(java.util.Map.of(), 1));
    ControllerInput in = new ControllerInput();
    int stale = 0;
    int oldest = 0;
    for (long now = 0; now < 5000 * MS; now += MS) {
      held.exchange(now, new ControllerOutput(), in);
      int age = (int) (now / MS) - in.distanceMicrons;
      stale += age > 0 ? 1 : 0;
      oldest = Math.max(oldest, age);
    }
    assertTrue(stale >= 4 * 98 && stale <= 5 * 100, stale + " ms of 5 s are held");
    assertTrue(oldest >= 98 && oldest <= 100, oldest + " ms old at most");
  }

  /** A bench whose distance is the time, a sample every millisecond. */
  private static final class Clockwork implements Bench {
    @Override
    public BenchDescription describe() {
      return new BenchDescription("virtual", "clockwork", "none", true, true, MS);
    }

    @Override
    public void open() {}

    @Override
    public void mount(Scene scene) {}

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading) {
      reading.distanceMicrons = (int) (nowNs / MS);
      reading.sampleTimeNs = nowNs;
      reading.sampleSequence = nowNs / MS;
      int ms = (int) (nowNs / MS);
      reading.positionKind = ms < 90 ? PositionKind.IMPEDANCE : PositionKind.NO_CONTACT;
      reading.frequencyCount = ms < 90 ? 2 : 1;
      reading.railed = ms < 90;
      for (int i = 0; i < 2; i++) {
        reading.frequencyHz[i] = 1_000 + 100 * i + ms;
        reading.zRealMilliOhms[i] = 9_000 + i + ms;
        reading.zImagMilliOhms[i] = -500 - i - ms;
      }
      reading.speedMilliRpm = ms;
    }

    @Override
    public Truth truth() {
      return new Truth();
    }

    @Override
    public void safeStop() {}

    @Override
    public void close() {}
  }
}
