package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.virtual.VirtualBench;

/** How many trials run at once changes nothing, under any sensing policy that ships. */
class JobsTest {
  private static final String APPROACH =
      """
      settings: 1
      name: approach
      file: {size: 20, taper: 0.04}
      sense: {policy: approach, refuse_bound_mm: 10}
      stages:
        length: {speed_rpm: 300, torque_ncm: 0.4, standoff_mm: 0.5, apical: hold}
      """;

  @ParameterizedTest
  @ValueSource(strings = {"ratio", "resistance", "locator", "approach"})
  void oneTwoAndFourJobsGiveTheSameBytes(String policy) throws Exception {
    Plan plan = plan(policy);
    List<RunFile.Entry> alone = run(plan, 1);
    for (int jobs : new int[] {2, 4}) {
      List<RunFile.Entry> together = run(plan, jobs);
      for (int i = 0; i < plan.trials(); i++) {
        assertEquals(alone.get(i).result(), together.get(i).result());
        assertArrayEquals(alone.get(i).trace(), together.get(i).trace());
      }
    }
    List<TrialResult> stops =
        alone.stream().map(RunFile.Entry::result).filter(TrialResult::stopped).toList();
    assertTrue(stops.size() >= plan.trials() / 4, stops.size() + " of " + plan.trials() + " stop");
    for (TrialResult stop : stops) {
      assertEquals(stop.stopErrorMicrons(), stop.chain().totalMicrons(), stop.toString());
      int read = Math.abs(stop.chain().senseMicrons()) + Math.abs(stop.chain().filterMicrons());
      assertTrue(read < 1_000, "sense and filter are out of place: " + stop.chain());
    }
  }

  private static Plan plan(String policy) throws Exception {
    boolean resistors = policy.equals("resistance");
    String settings =
        policy.equals("approach")
            ? APPROACH
            : Source.of(
                    TestPlans.file("first-stop")
                        .resolveSibling(
                            "../settings/"
                                + (policy.equals("ratio") ? "reference-canal" : policy)
                                + ".yaml"))
                .text();
    String plan =
        """
        plan: 1
        name: jobs
        settings: settings.yaml
        stage: length
        seed: 5
        trials: 4
        time_limit_s: 30
        scene:
          canal: {%s}
          hand: {feed_mm_per_s: 1, passive_mm: 12}
        factors:
          hand:
            slow: {hand: {feed_mm_per_s: 0.7}}
            quick: {hand: {feed_mm_per_s: 0.9}}
        """
            .formatted(resistors ? "kind: resistors, body_ohm: 6500" : "body_ohm: 6500");
    return Plan.read(new Source("jobs.yaml", plan), new Source("settings.yaml", settings));
  }

  private static List<RunFile.Entry> run(Plan plan, int jobs) throws Exception {
    List<RunFile.Entry> kept = new ArrayList<>();
    Campaign campaign = new Campaign(plan, List.of(), jobs, () -> false, kept::addAll);
    assertEquals(Campaign.End.COMPLETE, campaign.run(open(), JobsTest::open));
    return kept;
  }

  private static Bench open() {
    VirtualBench bench = new VirtualBench(1_000_000);
    bench.open();
    return bench;
  }
}
