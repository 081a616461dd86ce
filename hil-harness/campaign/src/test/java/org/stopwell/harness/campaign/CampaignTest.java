package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.FailingBench;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.virtual.VirtualBench;

class CampaignTest {
  private static final long MS = 1_000_000;

  private final List<FailingBench> made = Collections.synchronizedList(new ArrayList<>());
  private final List<RunFile.Entry> kept = new ArrayList<>();

  @ParameterizedTest
  @ValueSource(ints = {2, 5})
  void anyNumberOfJobsGivesTheSameResultsInTheSameOrder(int jobs) throws Exception {
    Plan plan = TestPlans.quick(8);
    assertEquals(Campaign.End.COMPLETE, run(plan, 1, -1, 0));
    List<RunFile.Entry> alone = List.copyOf(kept);
    kept.clear();
    assertEquals(Campaign.End.COMPLETE, run(plan, jobs, -1, 0));
    assertEquals(16, kept.size());
    for (int i = 0; i < 16; i++) {
      assertEquals(i, kept.get(i).result().index());
      assertEquals(alone.get(i).result(), kept.get(i).result());
      assertTrue(Arrays.equals(alone.get(i).trace(), kept.get(i).trace()), "trace " + i);
    }
  }

  /** A model repeats the trials whose traces are kept; any other bench records all of them. */
  @Test
  void aRepeatedTrialHasTheTraceThatARecordedOneHas() throws Exception {
    Plan plan = TestPlans.quick(12);
    assertEquals(Campaign.End.COMPLETE, run(plan, 1, -1, 0));
    List<RunFile.Entry> recorded = List.copyOf(kept);
    kept.clear();
    VirtualBench first = new VirtualBench(MS);
    first.open();
    BenchMaker more =
        () -> {
          VirtualBench bench = new VirtualBench(MS);
          bench.open();
          return bench;
        };
    Campaign campaign = new Campaign(plan, List.of(), 2, () -> false, kept::addAll);
    assertEquals(Campaign.End.COMPLETE, campaign.run(first, more));
    assertEquals(recorded.size(), kept.size());
    int traces = 0;
    for (int i = 0; i < kept.size(); i++) {
      assertEquals(recorded.get(i).result(), kept.get(i).result());
      assertArrayEquals(recorded.get(i).trace(), kept.get(i).trace(), "trace " + i);
      traces += kept.get(i).trace() == null ? 0 : 1;
    }
    assertTrue(traces > 2 && traces < kept.size(), traces + " traces");
  }

  @Test
  void aPulledCableCostsOneTrialAndNoOther() throws Exception {
    Plan plan = TestPlans.quick(4);
    assertEquals(Campaign.End.COMPLETE, run(plan, 2, 3, 200 * MS));
    assertEquals(8, kept.size());
    for (RunFile.Entry entry : kept) {
      TrialResult result = entry.result();
      Verdict expected = result.index() == 3 ? Verdict.RIG_FAULT : Verdict.PASS;
      assertEquals(expected, result.verdict(), result.message());
    }
    assertEveryBenchIsSafeAndClosed();
  }

  @Test
  void anotherBoardInMidCampaignIsNoticedAndCountsForNothing() throws Exception {
    Plan plan = TestPlans.quick(20);
    FailingBench first = bench(plan.trial(2).scene().seed(), 100 * MS);
    BenchMaker other = () -> named(bench(-1, 0), "T-0002");
    Campaign campaign = new Campaign(plan, List.of(), 1, () -> false, kept::addAll);
    assertEquals(Campaign.End.RIG_BROKEN, campaign.run(named(first, "T-0001"), other));
    List<String> codes = kept.stream().map(e -> e.result().code()).toList();
    assertEquals(List.of("PORT_GONE", "BENCH_CHANGED", "BENCH_CHANGED"), codes.subList(2, 5));
    String said = kept.get(3).result().message();
    assertTrue(said.contains("serial number T-0001") && said.contains("T-0002"), said);
    assertEveryBenchIsSafeAndClosed();
  }

  private static Bench named(Bench bench, String serialNumber) {
    return new ForwardingBench(bench) {
      @Override
      public BenchDescription describe() {
        BenchDescription b = bench.describe();
        return new BenchDescription(
            b.kind(), serialNumber, b.firmware(), b.simulated(), b.lockstep(), b.periodNs());
      }
    };
  }

  @Test
  void aRigThatStaysBrokenEndsTheCampaign() throws Exception {
    Plan plan = TestPlans.quick(20);
    FailingBench first = bench(plan.trial(2).scene().seed(), 100 * MS);
    BenchMaker gone =
        () -> {
          throw new BenchException(RigFault.PORT_GONE, "port X: gone");
        };
    Campaign campaign = new Campaign(plan, List.of(), 1, () -> false, kept::addAll);
    assertEquals(Campaign.End.RIG_BROKEN, campaign.run(first, gone));
    List<Verdict> verdicts = kept.stream().map(e -> e.result().verdict()).toList();
    assertEquals(
        List.of(
            Verdict.PASS, Verdict.PASS, Verdict.RIG_FAULT, Verdict.RIG_FAULT, Verdict.RIG_FAULT),
        verdicts.subList(0, 5));
    assertTrue(kept.size() < 12, kept.size() + " trials on a broken rig");
    assertEveryBenchIsSafeAndClosed();
  }

  @Test
  void stoppingKeepsWhatIsFinishedAndNothingElse() throws Exception {
    Plan plan = TestPlans.quick(50);
    AtomicBoolean stop = new AtomicBoolean();
    Campaign campaign =
        new Campaign(
            plan,
            List.of(),
            2,
            stop::get,
            finished -> {
              kept.addAll(finished);
              stop.set(kept.size() >= 5);
            });
    assertEquals(Campaign.End.INTERRUPTED, campaign.run(bench(-1, 0), () -> bench(-1, 0)));
    assertTrue(kept.size() >= 5 && kept.size() < 100, kept.size() + " kept");
    for (int i = 0; i < kept.size(); i++) {
      assertEquals(i, kept.get(i).result().index(), "no run file has a gap");
      assertEquals(Verdict.PASS, kept.get(i).result().verdict(), kept.get(i).result().message());
    }
    assertEveryBenchIsSafeAndClosed();
  }

  @Test
  void onlyWhatIsNotDoneYetIsRun() throws Exception {
    Plan plan = TestPlans.quick(4);
    run(plan, 1, -1, 0);
    List<RunFile.Entry> whole = List.copyOf(kept);
    for (int cut = 1; cut < 8; cut++) {
      kept.clear();
      List<TrialResult> done = whole.subList(0, cut).stream().map(RunFile.Entry::result).toList();
      Campaign campaign = new Campaign(plan, done, 2, () -> false, kept::addAll);
      assertEquals(Campaign.End.COMPLETE, campaign.run(bench(-1, 0), () -> bench(-1, 0)));
      assertEquals(8 - cut, kept.size());
      for (int i = 0; i < kept.size(); i++) {
        assertEquals(whole.get(cut + i).result(), kept.get(i).result());
        assertTrue(Arrays.equals(whole.get(cut + i).trace(), kept.get(i).trace()), "trace " + i);
      }
    }
  }

  @Test
  void aDiskThatRefusesEndsTheCampaignAndLeavesTheBenchesSafe(@TempDir Path dir) throws Exception {
    Plan plan = TestPlans.quick(50);
    RunFile file = RunFile.create(dir, header(plan));
    int[] batches = new int[1];
    Campaign campaign =
        new Campaign(
            plan,
            List.of(),
            2,
            () -> false,
            finished -> {
              if (batches[0]++ == 2) {
                file.close();
              }
              file.append(finished);
              kept.addAll(finished);
            });
    assertThrows(RunFileException.class, () -> campaign.run(bench(-1, 0), () -> bench(-1, 0)));
    assertEveryBenchIsSafeAndClosed();
    try (RunFile again = RunFile.load(dir)) {
      assertEquals(kept.stream().map(RunFile.Entry::result).toList(), again.results());
    }
  }

  static RunHeader header(Plan plan) {
    return new RunHeader(
        plan.head().name(),
        plan.source().text(),
        plan.settings().source().text(),
        "test",
        new VirtualBench(MS).describe(),
        plan.head().seed(),
        plan.conditions(),
        plan.claims(),
        "2026-01-01T00:00:00Z",
        "test");
  }

  private Campaign.End run(Plan plan, int jobs, int doomed, long atNs) throws Exception {
    long seed = doomed < 0 ? -1 : plan.trial(doomed).scene().seed();
    return new Campaign(plan, List.of(), jobs, () -> false, kept::addAll)
        .run(bench(seed, atNs), () -> bench(seed, atNs));
  }

  private FailingBench bench(long seed, long atNs) {
    VirtualBench bench = new VirtualBench(MS);
    bench.open();
    FailingBench failing = new FailingBench(bench, seed, atNs);
    made.add(failing);
    return failing;
  }

  private void assertEveryBenchIsSafeAndClosed() {
    made.forEach(bench -> assertTrue(bench.closed));
  }
}
