package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.FaultPlan;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** Faults on simulated benches: what each must lead to, and that none is taken for another. */
class FaultSuiteTest {
  private static final long MS = 1_000_000;
  private static final long SEED = Long.getLong("faults.seed", 4242);
  private static final int RANDOM_TRIALS = 1000;
  private static final int TRIALS_AT_REST = 200;

  private final Plan plan = Plan.read(Source.of(TestPlans.file("faults")));

  private final Strikes strikes = new Strikes(plan);

  /** From the first turn of the motor until the decision to stop, in the trial without a fault. */
  private final long firstTurnNs;

  private final long stopNs;

  FaultSuiteTest() throws Exception {
    Strikes.Struck none = strikes.on(new VirtualBench(MS), fault(FaultKind.JUMP, Long.MAX_VALUE));
    assertEquals(
        Verdict.PASS, none.outcome().result().verdict(), none.outcome().result().message());
    stopNs = none.outcome().result().stopTimeNs();
    firstTurnNs = none.firstTurnNs();
  }

  @Test
  void everyFaultOfTheShippedPlanLeadsToWhatIsStated() throws Exception {
    List<String> wrong = new ArrayList<>();
    for (int i = 0; i < plan.trials(); i++) {
      TrialResult result = run(plan.trial(i), new VirtualBench(MS));
      System.out.println(result.condition() + ": " + result.message());
      if (result.verdict() != Verdict.PASS) {
        wrong.add(result.condition() + ": " + result.message());
      }
    }
    assertEquals(List.of(), wrong);
  }

  @Test
  void theShippedPlanHasEveryFaultThatOneTrialCanShow() {
    Set<FaultKind> planned =
        plan.plannedConditions().stream()
            .flatMap(condition -> condition.faults().stream())
            .map(f -> f.injection().kind())
            .collect(Collectors.toSet());
    Set<FaultKind> all =
        Arrays.stream(FaultKind.values())
            .filter(k -> k.showsInOneTrial() && k.ofController())
            .collect(Collectors.toSet());
    assertEquals(all, planned);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "old readings",
        "frozen signal",
        "reversed",
        "stop pressed",
        "pulled cable",
        "host stands still"
      })
  void theSameHoldsBehindTheWire(String condition) throws Exception {
    TrialResult wired = run(strikes.spec(condition), EmulatedBench.lockstep(MS));
    TrialResult direct = run(strikes.spec(condition), new VirtualBench(MS));
    if (condition.equals("host stands still")) {
      // The computer was late first; that the board then took the power follows from it.
      assertTrue(wired.message().contains("RIG_FAULT LATE"), wired.message());
      assertTrue(wired.message().contains("cut the power"), wired.message());
    } else {
      assertEquals(direct, wired);
    }
  }

  /**
   * A thousand faults at random moments from the first turn until the stop: none hangs, none is
   * unsafe, and the record of nearly all of them shows that fault and no other. A fault that comes
   * too late to be noticed counts against the share like one that is taken for another.
   */
  @Test
  void randomFaultsAreNeverUnsafeAndTheirRecordsShowThem() throws Exception {
    System.out.println("seed " + SEED);
    long from = firstTurnNs + 100 * MS;
    Tally tally = new Tally();
    for (Strikes.Struck struck : random(RANDOM_TRIALS, SEED, from, stopNs)) {
      tally.add(struck);
    }
    tally.print("while the motor turned");
    assertEquals(List.of(), tally.unsafe);
    assertTrue(
        tally.right >= RANDOM_TRIALS * 99 / 100,
        String.join("\n", tally.wrong) + String.join("\n", tally.hidden));
  }

  /**
   * Before the first turn every fault shows. After the stop one of the motor may do nothing, for
   * reasons that the page of faults tells; if it stays, the next trial shows it.
   */
  @Test
  void aFaultThatStrikesTheMotorAtRestNeverMakesItTurnAndIsNotTakenForAnother() throws Exception {
    long seed = SEED + 1_000_000;
    System.out.println("seed " + seed);
    Tally before = new Tally();
    for (Strikes.Struck struck : random(TRIALS_AT_REST / 2, seed, 0, firstTurnNs)) {
      before.add(struck);
    }
    Tally after = new Tally();
    long from = stopNs + 100 * MS;
    for (Strikes.Struck struck :
        random(TRIALS_AT_REST / 2, seed + TRIALS_AT_REST, from, stopNs + 600 * MS)) {
      after.add(struck);
    }
    before.print("before the first turn");
    after.print("after the stop");
    assertEquals(List.of(), before.unsafe);
    assertEquals(List.of(), after.unsafe);
    assertEquals(List.of(), before.wrong);
    assertEquals(List.of(), after.wrong);
    assertEquals(List.of(), before.hidden);
    assertTrue(
        Arrays.stream(FaultKind.values())
            .filter(k -> k.part() == FaultKind.Part.MOTOR)
            .toList()
            .containsAll(after.hiddenKinds()),
        String.join("\n", after.hidden));
    Tally next = new Tally();
    for (PlannedFault fault : after.hiddenFaults) {
      next.add(
          strikes.on(
              new VirtualBench(MS),
              new PlannedFault(
                  new Injection(
                      fault.injection().kind(), 0, Long.MAX_VALUE, fault.injection().strength()),
                  fault.seed(),
                  null,
                  "",
                  0)));
    }
    next.print("in the next trial");
    assertEquals(List.of(), next.unsafe);
    assertEquals(
        after.hiddenFaults.size(),
        next.right,
        String.join("\n", next.wrong) + String.join("\n", next.hidden));
  }

  @Test
  void thePageOfFaultsHoldsTheTable() throws Exception {
    GeneratedPart.holds("faults.md", "faults", table());
  }

  @Test
  void thePageOfFaultsListsEveryKind() throws IOException {
    GeneratedPart.holds("faults.md", "kinds", kinds());
  }

  private static String kinds() {
    StringBuilder table = new StringBuilder("| kind | fault of | strength | default | range |\n");
    table.append("|---|---|---|---:|---|\n");
    for (FaultKind kind : FaultKind.values()) {
      FaultKind.Strength strength = kind.strength();
      String part = kind.part().name().toLowerCase(Locale.ROOT).replace('_', ' ');
      table.append("| `").append(kind.key()).append("` | ").append(part).append(" | ");
      table.append(
          strength.meaning().isEmpty()
              ? "– | – | – |\n"
              : "%s | %s | %s to %s |\n"
                  .formatted(
                      strength.meaning(),
                      plain(strength.usual()),
                      plain(strength.least()),
                      plain(strength.most())));
    }
    return table.toString();
  }

  private static String plain(double value) {
    return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  private String table() throws Exception {
    StringBuilder table =
        new StringBuilder("| condition | what happens | verdict | cause | rest within | took |\n");
    table.append("|---|---|---|---|---:|---:|\n");
    for (var condition : plan.plannedConditions()) {
      for (PlannedFault fault : condition.faults()) {
        FaultOutcome outcome = strikes.on(new VirtualBench(MS), fault).outcome();
        table.append(
            String.format(
                Locale.ROOT,
                "| %s | `%s`: %s | `%s` | `%s` | %s | %s |%n",
                condition.name(),
                fault.injection().kind().key(),
                fault.injection().kind().text(),
                fault.verdict(),
                fault.cause(),
                fault.withinNs() == 0 ? "–" : fault.withinNs() / MS + " ms",
                !outcome.turning() || outcome.reactionNs() == Long.MAX_VALUE
                    ? "–"
                    : fault.verdict() == Verdict.PASS
                        ? "stops as planned"
                        : outcome.reactionNs() / MS + " ms"));
      }
    }
    return table.toString();
  }

  /** Counts what came of many random faults. */
  private final class Tally {
    private final List<String> unsafe = new ArrayList<>();
    private final List<String> wrong = new ArrayList<>();
    private final List<String> hidden = new ArrayList<>();

    private final List<PlannedFault> hiddenFaults = new ArrayList<>();
    private int right;

    Set<FaultKind> hiddenKinds() {
      return hiddenFaults.stream()
          .map(f -> f.injection().kind())
          .collect(Collectors.toCollection(() -> EnumSet.noneOf(FaultKind.class)));
    }

    void add(Strikes.Struck struck) {
      FaultOutcome outcome = struck.outcome();
      FaultKind kind = outcome.fault().injection().kind();
      boolean past = outcome.result().deepestMicrons() < 0 && kind != FaultKind.RUNS_ON;
      boolean late =
          outcome.turning() && outcome.reactionNs() > limitNs(outcome.fault().injection());
      if (past || late) {
        unsafe.add(line(struck));
      }
      Set<FaultKind> shown =
          outcome.named().stream()
              .filter(n -> Arrays.stream(FaultKind.values()).anyMatch(k -> k.name().equals(n)))
              .map(FaultKind::valueOf)
              .collect(Collectors.toCollection(() -> EnumSet.noneOf(FaultKind.class)));
      if (shown.equals(EnumSet.of(kind))) {
        right++;
      } else if (shown.isEmpty()) {
        hidden.add(line(struck));
        hiddenFaults.add(outcome.fault());
      } else {
        wrong.add(line(struck));
      }
    }

    void print(String when) {
      System.out.printf(
          Locale.ROOT,
          "%s, simulated: %d shown rightly, %d not shown, %d taken for another, %d unsafe%n",
          when,
          right,
          hidden.size(),
          wrong.size(),
          unsafe.size());
      wrong.forEach(line -> System.out.println("taken for another: " + line));
      hidden.forEach(line -> System.out.println("not shown: " + line));
    }
  }

  /** The greatest time that the shipped plan states for such a fault. */
  private long limitNs(Injection fault) {
    if (fault.kind() == FaultKind.HOST_STALL) {
      return Math.round(fault.strength() * 1e6)
          + MS; // a host that stands still cannot say anything
    }
    return plan.plannedConditions().stream()
        .flatMap(condition -> condition.faults().stream())
        .filter(f -> f.injection().kind() == fault.kind() && f.withinNs() > 0)
        .filter(f -> (f.injection().strength() > 1) == (fault.strength() > 1))
        .mapToLong(PlannedFault::withinNs)
        .max()
        .orElse(Long.MAX_VALUE);
  }

  private List<Strikes.Struck> random(int count, long seed, long fromNs, long toNs)
      throws Exception {
    ExecutorService pool = Executors.newFixedThreadPool(2);
    try {
      List<Future<Strikes.Struck>> futures = new ArrayList<>();
      for (int i = 0; i < count; i++) {
        FaultPlan faults = FaultPlan.random(seed + i, fromNs, toNs);
        futures.add(
            pool.submit(
                () ->
                    strikes.on(
                        new VirtualBench(MS),
                        new PlannedFault(faults.injections().get(0), faults.seed(), null, "", 0))));
      }
      List<Strikes.Struck> struck = new ArrayList<>();
      for (Future<Strikes.Struck> future : futures) {
        struck.add(future.get());
      }
      return struck;
    } finally {
      pool.shutdownNow();
    }
  }

  private static PlannedFault fault(FaultKind kind, long startNs) {
    return new PlannedFault(
        new Injection(kind, startNs, Long.MAX_VALUE, kind.strength().usual()), SEED, null, "", 0);
  }

  private TrialResult run(TrialSpec spec, Bench bench) throws Exception {
    try (bench) {
      bench.open();
      return Trials.run(
              bench,
              plan.settings().controller(),
              plan.policies(),
              spec,
              null,
              () -> Pace.lockstep(MS),
              () -> false)
          .orElseThrow();
    }
  }

  private static String line(Strikes.Struck struck) {
    return String.format(
        Locale.ROOT,
        "%s at %d ms, strength %.3f: %s %s, %s, motor commanded to rest after %d ms, deepest %d µm",
        struck.outcome().fault().injection().kind(),
        struck.onsetNs() / MS,
        struck.outcome().fault().injection().strength(),
        struck.outcome().result().verdict(),
        struck.outcome().result().code(),
        struck.outcome().named(),
        struck.outcome().reactionNs() / MS,
        struck.outcome().result().deepestMicrons());
  }
}
