package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.harness.evidence.BadSentinel;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.evidence.Service;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFile.Note;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.virtual.VirtualBench;

/** A ladder of resistors that warms up, trial by trial, and what a campaign makes of it. */
class DriftingLadderTest {
  private static final int TRIALS = 20;
  private static final int EVERY = 4;

  /** The ladder is sound up to here; then it gains 2 % with every trial. */
  private static final int DRIFTS_FROM = 12;

  private final List<RunFile.Entry> kept = new ArrayList<>();

  /** Resistances that are too high by a share. */
  private static final class WarmBench extends ForwardingBench {
    private final Map<Long, Double> gains;
    private double gain = 1;

    WarmBench(Bench bench, Map<Long, Double> gains) {
      super(bench);
      this.gains = gains;
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      gain = gains.getOrDefault(scene.seed(), 1.0);
      bench.mount(scene);
    }

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
        throws BenchException {
      bench.exchange(nowNs, command, reading);
      for (int i = 0; i < reading.frequencyCount; i++) {
        reading.zRealMilliOhms[i] = (int) (reading.zRealMilliOhms[i] * gain);
      }
    }
  }

  @Test
  void aBadSentinelStopsTheCampaignAtTheSameTrialHoweverManyRunAtOnce() throws Exception {
    Plan plan = plan("stop");
    List<Integer> lengths = new ArrayList<>();
    for (int jobs : new int[] {1, 4}) {
      kept.clear();
      assertEquals(Campaign.End.BAD_SENTINEL, run(plan, List.of(), jobs, DRIFTS_FROM));
      List<TrialResult> results = results();
      TrialResult last = results.get(results.size() - 1);
      assertEquals(SentinelRule.CONDITION, last.condition());
      assertTrue(last.index() >= DRIFTS_FROM && last.index() < plan.trials() - 1);
      for (int i = 0; i < results.size(); i++) {
        assertEquals(i, results.get(i).index(), "no gap, and nothing beyond the bad sentinel");
      }
      lengths.add(results.size());
    }
    assertEquals(lengths.get(0), lengths.get(1));

    BadSentinel bad = waiting(plan, List.of()).orElseThrow();
    int good =
        results().stream()
            .filter(t -> t.condition().equals(SentinelRule.CONDITION))
            .mapToInt(TrialResult::index)
            .filter(i -> i < bad.trial().index())
            .max()
            .orElseThrow();
    assertEquals(good + 1, bad.firstUnproven(), "back to the last good one");
    String said = bad.sentence();
    assertTrue(said.startsWith("Trial " + lengths.get(0) + " was a sentinel and rests "), said);
    assertTrue(said.contains("one beyond 3.85 SD"), said);
    assertTrue(
        said.contains("Trials " + (good + 2) + " to " + bad.trial().index() + " are excluded"),
        said);
    assertTrue(!said.contains("sound") && !said.contains("leaking"), "no condition is named");
  }

  @Test
  void afterServiceTheCampaignGoesOnToItsEnd() throws Exception {
    Plan plan = plan("stop");
    assertEquals(Campaign.End.BAD_SENTINEL, run(plan, List.of(), 1, DRIFTS_FROM));
    BadSentinel bad = waiting(plan, List.of()).orElseThrow();
    Note elsewhere = new Note(Service.KIND, new Service(2, "2026-01-01", "cleaned").text());
    assertTrue(waiting(plan, List.of(elsewhere)).isPresent(), "another sentinel's service");
    Note note =
        new Note(Service.KIND, new Service(bad.trial().index(), "2026-01-01", "cooled").text());
    assertTrue(waiting(plan, List.of(elsewhere, note)).isEmpty());

    assertEquals(Campaign.End.COMPLETE, run(plan, results(), 2, plan.trials()));
    assertEquals(plan.trials(), kept.size());
    assertTrue(waiting(plan, List.of()).isEmpty(), "the newest trial is a good sentinel");
  }

  @Test
  void aLadderThatGoesOnDriftingStopsTheCampaignAgain() throws Exception {
    Plan plan = plan("stop");
    assertEquals(Campaign.End.BAD_SENTINEL, run(plan, List.of(), 1, DRIFTS_FROM));
    int first = kept.size();
    assertEquals(Campaign.End.BAD_SENTINEL, run(plan, results(), 1, DRIFTS_FROM));
    BadSentinel again = waiting(plan, List.of()).orElseThrow();
    assertTrue(kept.size() > first && again.firstUnproven() == first, "from after the first one");
  }

  @Test
  void aPlanMayGoOnAndAWrongLastSentinelStopsNothing() throws Exception {
    Plan plan = plan("go_on");
    assertEquals(Campaign.End.COMPLETE, run(plan, List.of(), 2, DRIFTS_FROM));
    assertEquals(plan.trials(), kept.size());
    assertTrue(waiting(plan, List.of()).isEmpty(), "nobody is waited for");
    kept.clear();
    Plan stopping = plan("stop");
    assertEquals(Campaign.End.COMPLETE, run(stopping, List.of(), 2, stopping.trials() - 1));
  }

  private Optional<BadSentinel> waiting(Plan plan, List<Note> notes) {
    return SentinelWatch.waiting(plan.protocol(), results(), notes);
  }

  private List<TrialResult> results() {
    return kept.stream().map(RunFile.Entry::result).toList();
  }

  private Campaign.End run(Plan plan, List<TrialResult> done, int jobs, int driftsFrom)
      throws Exception {
    Map<Long, Double> gains = new HashMap<>();
    for (int i = driftsFrom; i < plan.trials(); i++) {
      gains.put(plan.trial(i).scene().seed(), 1 + 0.02 * (i - driftsFrom + 1));
    }
    BenchMaker maker =
        () -> {
          Bench bench = new VirtualBench(1_000_000);
          bench.open();
          return new WarmBench(bench, gains);
        };
    return new Campaign(plan, done, jobs, () -> false, kept::addAll).run(maker.open(), maker);
  }

  /** With the known answer that a sound ladder gives. */
  private Plan plan(String onBad) throws Exception {
    run(plan("go_on", 0.5, 0.1), List.of(), 2, Integer.MAX_VALUE);
    Moments sound =
        Moments.of(
            results().stream()
                .filter(t -> t.condition().equals(SentinelRule.CONDITION))
                .mapToLong(TrialResult::remainingMicrons));
    kept.clear();
    return plan(
        onBad,
        sound.mean().orElseThrow() / 1e3,
        Math.max(0.002, sound.standardDeviation().orElseThrow() / 1e3));
  }

  private static Plan plan(String onBad, double expectedMm, double deviationMm)
      throws PlanException {
    String text =
        TestPlans.quick(TRIALS / 2).source().text()
            + String.format(
                Locale.ROOT,
                """
                blind: network
                sentinels:
                  every: %d
                  expected_mm: %.3f
                  sd_mm: %.3f
                  on_bad: %s
                  scene:
                    canal: {body_ohm: 6500}
                    # A calm hand: tremor widens the known answer, and a small drift hides in it.
                    hand: {tremor_um: 0}
                """,
                EVERY,
                expectedMm,
                deviationMm,
                onBad);
    return Plan.read(
        new Source("drift.yaml", text),
        new Source("settings.yaml", TestPlans.quick(1).settings().source().text()));
  }
}
