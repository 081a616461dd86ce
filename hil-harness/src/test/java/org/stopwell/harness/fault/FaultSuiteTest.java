package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.FaultPlan;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.virtual.VirtualBench;

/** Faults on simulated benches: what each must lead to, and that none is taken for another. */
class FaultSuiteTest {
  private static final long MS = 1_000_000;
  private static final long SEED = 4242;
  private static final int RANDOM_TRIALS = 1000;

  private final Plan plan;

  /** From the first turn of the motor until just before the stop, in the trial without a fault. */
  private final long firstNs;

  private final long lastNs;

  FaultSuiteTest() throws Exception {
    plan = FaultTrial.plan();
    FaultTrial sound =
        FaultTrial.run(plan, new VirtualBench(MS), one(FaultKind.JUMP, Long.MAX_VALUE));
    assertEquals(Verdict.PASS, sound.result().verdict(), sound.result().message());
    firstNs = sound.firstTurnNs() + 100 * MS;
    lastNs = sound.result().stopTimeNs() - 50 * MS;
  }

  @ParameterizedTest
  @EnumSource(FaultKind.class)
  void everyFaultIsNamedAndStopsTheMotorInTime(FaultKind kind) throws Exception {
    FaultTrial trial =
        FaultTrial.run(plan, new VirtualBench(MS), one(kind, (firstNs + lastNs) / 2));
    System.out.println(line(trial));
    assertAsExpected(trial);
  }

  @ParameterizedTest
  @EnumSource(
      value = FaultKind.class,
      names = {"OLD_READINGS", "FROZEN_SIGNAL", "REVERSED", "STOP_PRESSED", "PORT_GONE"})
  void theSameHoldsBehindTheWire(FaultKind kind) throws Exception {
    FaultTrial wired =
        FaultTrial.run(plan, EmulatedBench.lockstep(MS), one(kind, (firstNs + lastNs) / 2));
    assertAsExpected(wired);
    FaultTrial direct =
        FaultTrial.run(plan, new VirtualBench(MS), one(kind, (firstNs + lastNs) / 2));
    assertEquals(direct.result(), wired.result());
  }

  /** A thousand faults at random moments: none hangs, none is unsafe, nearly all are named. */
  @Test
  void randomFaultsAreNamedAndNeverUnsafe() throws Exception {
    System.out.println("seed " + SEED);
    List<FaultTrial> trials = randomTrials();
    assertEquals(RANDOM_TRIALS, trials.size());
    List<String> unsafe = new ArrayList<>();
    List<String> wrong = new ArrayList<>();
    for (FaultTrial trial : trials) {
      if (isUnsafe(trial)) {
        unsafe.add(line(trial));
      }
      if (!isNamed(trial)) {
        wrong.add(line(trial));
      }
    }
    System.out.printf(
        Locale.ROOT,
        "%d random faults, simulated: 0 hung, %d unsafe, %d not named%n",
        trials.size(),
        unsafe.size(),
        wrong.size());
    assertEquals(List.of(), unsafe);
    assertTrue(wrong.size() <= RANDOM_TRIALS / 100, String.join("\n", wrong));
  }

  @Test
  void thePageOfFaultsHoldsTheTable() throws Exception {
    Path page = TestPlans.file("first-stop").resolveSibling("../faults.md");
    String begin = "<!-- generated: faults -->\n";
    String text = Files.readString(page);
    int from = text.indexOf(begin) + begin.length();
    int to = text.indexOf("<!-- end: faults -->");
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(page, text.substring(0, from) + table() + text.substring(to));
    } else {
      assertEquals(table(), text.substring(from, to));
    }
  }

  private static String table() {
    StringBuilder table =
        new StringBuilder("| fault | what happens | verdict | named as | rest within |\n");
    table.append("|---|---|---|---|---:|\n");
    Expected.TABLE.forEach(
        (kind, expected) ->
            table.append(
                String.format(
                    Locale.ROOT,
                    "| `%s` | %s | `%s` | %s | %s |%n",
                    kind,
                    kind.text(),
                    expected.verdict(),
                    expected.causes().stream()
                        .sorted()
                        .map(cause -> "`" + cause + "`")
                        .collect(Collectors.joining(" or ")),
                    kind == FaultKind.RUNS_ON ? "—" : expected.withinMs() + " ms")));
    return table.toString();
  }

  private List<FaultTrial> randomTrials() throws Exception {
    ExecutorService pool = Executors.newFixedThreadPool(2);
    try {
      List<Future<FaultTrial>> futures = new ArrayList<>();
      for (int i = 0; i < RANDOM_TRIALS; i++) {
        FaultPlan faults = FaultPlan.random(SEED + i, firstNs, lastNs);
        futures.add(pool.submit(() -> FaultTrial.run(plan, new VirtualBench(MS), faults)));
      }
      List<FaultTrial> trials = new ArrayList<>();
      for (Future<FaultTrial> future : futures) {
        trials.add(future.get());
      }
      return trials;
    } finally {
      pool.shutdownNow();
    }
  }

  private static FaultPlan one(FaultKind kind, long startNs) {
    double strength =
        switch (kind) {
          case JUMP -> 0.7;
          case NOISE -> 0.4;
          case LOW_SUPPLY -> 2;
          default -> 0;
        };
    return new FaultPlan(SEED, List.of(new Injection(kind, startNs, Long.MAX_VALUE, strength)));
  }

  private static void assertAsExpected(FaultTrial trial) {
    Expected expected = expected(trial);
    assertTrue(trial.turning(), "the motor turned when the fault struck");
    assertEquals(expected.verdict(), trial.result().verdict(), line(trial));
    assertTrue(isNamed(trial), line(trial));
    assertTrue(trial.reactionNs() <= expected.withinMs() * MS, line(trial));
    assertTrue(!isUnsafe(trial), line(trial));
  }

  /** A fault that strikes too late to matter ends in the stop that was planned. */
  private static boolean isNamed(FaultTrial trial) {
    return trial.result().verdict() == Verdict.PASS
        || !Collections.disjoint(expected(trial).causes(), trial.seen());
  }

  /**
   * Told to turn for longer than the budget allows, or past the foramen. A motor whose power cannot
   * be taken by software goes past it all the same: that is what the emergency-stop contact is for.
   */
  private static boolean isUnsafe(FaultTrial trial) {
    boolean late = trial.turning() && trial.reactionNs() > expected(trial).withinMs() * MS;
    boolean past =
        trial.result().deepestMicrons() < 0 && trial.injection().kind() != FaultKind.RUNS_ON;
    return late || past;
  }

  private static Expected expected(FaultTrial trial) {
    return java.util.Objects.requireNonNull(Expected.TABLE.get(trial.injection().kind()));
  }

  private static String line(FaultTrial trial) {
    return String.format(
        Locale.ROOT,
        "%s at %d ms: %s %s, %s, motor told to rest after %s ms, deepest %d µm",
        trial.injection().kind(),
        trial.injection().startNs() / MS,
        trial.result().verdict(),
        trial.result().code(),
        trial.seen(),
        trial.reactionNs() / MS,
        trial.result().deepestMicrons());
  }
}
