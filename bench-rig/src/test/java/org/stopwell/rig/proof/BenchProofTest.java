package org.stopwell.rig.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.FaultPlan;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.proof.Finding.Outcome;
import org.stopwell.rig.time.LatenessHistogram;
import org.stopwell.rig.virtual.VirtualBench;

class BenchProofTest {
  private static final long MS = 1_000_000;
  private static final Set<String> ALL =
      Set.of("link", "rest", "turn", "coast", "safe stop", "watchdog", "emergency stop", "ladder");

  @Test
  void aSoundBenchPassesEveryCheck() throws Exception {
    assertEquals(Map.of(Outcome.PASS, ALL), prove(new VirtualBench(MS)));
  }

  @Test
  void soDoesOneBehindTheWire() throws Exception {
    assertEquals(Map.of(Outcome.PASS, ALL), prove(EmulatedBench.lockstep(MS)));
  }

  @Test
  void soDoesOneByTheClock() throws Exception {
    List<Finding> findings = findings(EmulatedBench.realTime(MS, 921_600));
    List<String> failed =
        findings.stream().filter(f -> f.outcome() != Outcome.PASS).map(Finding::toString).toList();
    // A machine too busy for its own steps spoils what it stalls; nothing else may fail.
    assertTrue(
        failed.stream().allMatch(f -> f.matches(".*(late|NO_ANSWER|WATCHDOG).*")),
        failed.toString());
  }

  /**
   * A loop of 20 ms by a clock of the test's own. Once the computer stands still before it sends,
   * once the bench holds an answer back; a loop beside may have been late too.
   */
  @ParameterizedTest
  @CsvSource({
    "PASS,       0,   0, 16,  0, 'each answered'",
    "PASS,      15,   0, 16, 15, 'each answered'",
    "NOT_DONE , 25,   0, 16,  0, 'This computer missed its own deadline by 25 ms'",
    "NOT_DONE ,  0,  45, 16, 11, 'This computer missed its own deadline by 11 ms'",
    "FAIL,       0,  45, 16, 10, 'Some answers of the bench came late'",
    "FAIL,       0,   0, 25,  0, 'The boards are too slow for their period of 20 ms'",
    "NOT_DONE ,  0,   0, 25, 11, 'the check is not done'",
  })
  void ofALateComputerTheProofIsNotDoneAndOnlyALateBenchFails(
      Outcome outcome, long stallMs, long heldMs, long usualMs, long aloneMs, String said) {
    long periodMs = 20;
    long[] took = new long[200];
    Punctuality steps = new Punctuality();
    long nowMs = 0;
    for (int i = 0; i < took.length; i++) {
      long dueMs = i * periodMs;
      nowMs = Math.max(nowMs, dueMs) + (i == 100 ? stallMs : 0);
      long sentMs = nowMs;
      took[i] = (i == 50 ? usualMs + heldMs : usualMs) * MS;
      nowMs += took[i] / MS;
      steps.add(dueMs * MS, sentMs * MS, nowMs * MS);
    }
    Arrays.sort(took);
    Finding found = BenchProof.inTime(periodMs * MS, took, steps, aloneMs * MS);
    assertEquals(outcome, found.outcome(), found.toString());
    assertTrue(found.text().contains(said), found.text());
  }

  @ParameterizedTest
  @CsvSource({
    "NO_ANSWER, 11, NOT_DONE ",
    "WATCHDOG,  11, NOT_DONE ",
    "NO_ANSWER, 10, FAIL",
    "PORT_GONE, 11, FAIL",
  })
  void silenceOfALateComputerIsNotTheBenchs(RigFault fault, long aloneMs, Outcome outcome) {
    Finding found = BenchProof.failed("turn", new BenchException(fault, "X"), aloneMs * MS);
    assertEquals(outcome, found.outcome());
    assertEquals(fault.name(), found.measured());
  }

  @ParameterizedTest
  @CsvSource({
    "REVERSED,   turn,  ''",
    "DEAD_MOTOR, turn,  coast; emergency stop; safe stop; watchdog",
    "SPEED_LOST, turn,  coast; emergency stop; safe stop; watchdog",
    "RUNS_ON,    coast, ''",
  })
  void aFaultFailsTheChecksThatLookForIt(FaultKind kind, String failing, String notTried)
      throws Exception {
    Injection always = new Injection(kind, 0, Long.MAX_VALUE, 0);
    Bench bench = new FaultyBench(new VirtualBench(MS), new FaultPlan(1, List.of(always)));
    Map<Outcome, Set<String>> found = prove(bench);
    assertEquals(Set.of(failing), found.get(Outcome.FAIL), kind.text());
    Set<String> left = notTried.isEmpty() ? Set.of() : Set.of(notTried.split("; "));
    assertEquals(left, found.getOrDefault(Outcome.NOT_DONE, Set.of()), kind.text());
  }

  @Test
  void aBenchThatIsGoneFailsEverythingAndSaysWhy() throws Exception {
    Injection always = new Injection(FaultKind.PORT_GONE, 0, Long.MAX_VALUE, 0);
    Bench bench = new FaultyBench(new VirtualBench(MS), new FaultPlan(1, List.of(always)));
    List<Finding> findings = findings(bench);
    assertEquals(ALL.size(), findings.size());
    for (Finding finding : findings) {
      assertEquals(Outcome.FAIL, finding.outcome());
      assertEquals("PORT_GONE", finding.measured());
    }
  }

  /** A contact that is welded: pressed, and nothing happens. */
  @Test
  void anEmergencyStopThatIsNotSeenFails() throws Exception {
    Map<Outcome, Set<String>> found = prove(new Altered(new VirtualBench(MS), true, true));
    assertEquals(Set.of("emergency stop"), found.get(Outcome.FAIL));
  }

  @Test
  void withoutAHandAtABenchOfMatterTheEmergencyStopIsNotProven() throws Exception {
    Map<Outcome, Set<String>> found = prove(new Altered(new VirtualBench(MS), false, false));
    assertEquals(Set.of("emergency stop"), found.get(Outcome.NOT_DONE));
  }

  /** A person presses and releases, presses and leaves it, or says so and does nothing. */
  @ParameterizedTest
  @CsvSource({
    "2, true,  PASS,     'Pressed by hand, during a command to turn.'",
    "1, true,  NOT_DONE, 'Nobody released the emergency stop.'",
    "0, true,  NOT_DONE, 'Nobody pressed the emergency stop.'",
    "2, false, FAIL,     'Pressed by hand, but the bench does not detect it.'",
  })
  void aHandAtAPhysicalBenchPressesTheEmergencyStop(
      int obeyed, boolean pressed, Outcome outcome, String said) throws Exception {
    AtomicInteger asked = new AtomicInteger();
    Bench bench =
        new Altered(new VirtualBench(MS), false, false) {
          @Override
          public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
              throws BenchException {
            boolean open = pressed && asked.get() == 1;
            if (open) {
              command.clear();
            }
            super.exchange(nowNs, command, reading);
            reading.stopLine = open;
          }
        };
    try (bench) {
      bench.open();
      Finding found =
          BenchProof.of(
                  bench, request -> asked.incrementAndGet() <= obeyed, new LatenessHistogram())
              .stream()
              .filter(f -> f.check().equals("emergency stop"))
              .findFirst()
              .orElseThrow();
      assertEquals(outcome, found.outcome(), found.toString());
      assertEquals(said, found.text());
      assertEquals(outcome == Outcome.FAIL ? 1 : Math.min(2, obeyed + 1), asked.get());
    }
  }

  @ParameterizedTest
  @CsvSource({
    "MOTOR, coast; emergency stop; rest; safe stop; turn; watchdog",
    "TRUTH, ladder",
  })
  void whatABenchLacksIsNotTried(Ability lacking, String notTried) throws Exception {
    Bench bench =
        new ForwardingBench(new VirtualBench(MS)) {
          @Override
          public List<Lack> lacks() {
            return List.of(new Lack(lacking, "port X: board B"));
          }
        };
    Map<Outcome, Set<String>> found = prove(bench);
    assertEquals(Set.of(notTried.split("; ")), found.get(Outcome.NOT_DONE));
    assertEquals(Set.of(Outcome.PASS, Outcome.NOT_DONE), found.keySet());
  }

  @ParameterizedTest
  @CsvSource({"10, FAIL", "11, NOT_DONE"})
  void aCheckThatFailsOnALateComputerIsNotDone(long aloneMs, Outcome outcome) {
    Finding failed = new Finding("turn", Outcome.FAIL, "250.0 rpm", "300.0 ± 6.0 rpm", "Told.");
    Finding found = BenchProof.unlessLate(failed, aloneMs * MS);
    assertEquals(outcome, found.outcome());
    assertEquals("250.0 rpm", found.measured());
  }

  @Test
  void theCoastIsThatOfTheMotor() throws Exception {
    Finding coast =
        findings(new VirtualBench(MS)).stream()
            .filter(f -> f.check().equals("coast"))
            .findFirst()
            .orElseThrow();
    assertTrue(coast.measured().matches("\\d+ ms"), coast.measured());
    assertEquals("1000 ms", coast.limit());
  }

  @Test
  void peopleAreAskedByNameToMountAnewForEachReading() throws Exception {
    List<String> asked = new ArrayList<>();
    try (Bench bench = new Altered(new VirtualBench(MS), false, false)) {
      bench.open();
      GaugeRun run = GaugeRun.of(bench, asked::add, List.of("OP-1", "OP-2"), () -> {});
      assertEquals(List.of("OP-1", "OP-2"), run.appraisers());
      assertEquals(GaugeRun.readings(2), asked.size());
      assertEquals(
          "OP-1, reading 1 of 3: take the file out of its clamp and clamp it anew, move the stage"
              + " out, and to about 0.5 mm short of the foramen.",
          asked.get(0));
      assertTrue(asked.get(15).startsWith("OP-2, reading 1 of 3: "), asked.get(15));
      assertEquals(5, run.nanometres().size());
      assertTrue(
          GaugeRun.of(bench, request -> false, List.of("A", "B"), () -> {}).nanometres().isEmpty(),
          "nobody does what is asked");
      asked.clear();
      AtomicInteger taken = new AtomicInteger();
      GaugeRun.of(bench, asked::add, List.of(), taken::incrementAndGet);
      assertEquals(3 * 5, asked.size(), "without people once for each mount");
      assertEquals(GaugeRun.readings(0), taken.get(), "reported after each reading");
    }
  }

  private static Map<Outcome, Set<String>> prove(Bench bench) throws Exception {
    return findings(bench).stream()
        .collect(
            Collectors.groupingBy(
                Finding::outcome,
                Collectors.mapping(Finding::check, Collectors.toUnmodifiableSet())));
  }

  private static List<Finding> findings(Bench bench) throws Exception {
    try (bench) {
      bench.open();
      return BenchProof.of(bench, Operator.NOBODY, new LatenessHistogram());
    }
  }

  /** A bench that hides its stop line, or claims to be hardware. */
  private static class Altered extends ForwardingBench {
    private final boolean simulated;
    private final boolean welded;

    Altered(Bench bench, boolean simulated, boolean welded) {
      super(bench);
      this.simulated = simulated;
      this.welded = welded;
    }

    @Override
    public BenchDescription describe() {
      BenchDescription d = bench.describe();
      return new BenchDescription(
          d.kind(), d.serialNumber(), d.firmware(), simulated, d.lockstep(), d.periodNs());
    }

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
        throws BenchException {
      bench.exchange(nowNs, command, reading);
      reading.stopLine &= !welded;
    }
  }
}
