package org.stopwell.harness.standing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;

/** Every run under a frozen plan is named, also the one that nobody wants to show. */
class LedgerTest {
  private static final String PLAN = "half-wet accuracy";
  private static final Registration FROZEN = new Registration("ab".repeat(32), "then", List.of());

  @TempDir Path runs;

  @Test
  void aPlanThatIsNotFrozenNeedsNoLedger() throws Exception {
    Registration none = Ledger.begin(runs.resolve("a"), PLAN, "t", Registration.NONE);
    assertEquals(0, none.number());
    assertFalse(Files.exists(runs.resolve(Ledger.NAME)));
    assertEquals(LedgerView.NONE, LedgerView.kept(runs.resolve("a"), header(none)));
  }

  @Test
  void theThirdRunSaysWhatBecameOfTheOthers() throws Exception {
    run("a", "FAIL", 20, true);
    run("b", "UNDECIDED", 3, false);
    begin("never", FROZEN);
    Registration other =
        new Registration(
            FROZEN.sha256(), "then", List.of(new Deviation("plan.seed", "1", "2")), 0, "");
    end("seed", begin("seed", other), "PASS", 20, true);
    LedgerView view = run("last", "PASS", 20, true);
    assertEquals(5, view.number());
    assertEquals(
        List.of("FAIL", "cut off after 3 of 20 trials", "never ended", "PASS, 1 deviation"),
        view.others().stream().map(LedgerView.Other::fate).toList());
    assertEquals(List.of(), view.faults());
    assertTrue(
        view.place()
            .startsWith("Run 5 under this frozen plan. Run 1 (a): FAIL. Run 2 (b): cut off"),
        view.place());
  }

  @Test
  void aRunThatWasContinuedHasItsLastEnd() throws Exception {
    Registration a = begin("a", FROZEN);
    end("a", a, "UNDECIDED", 3, false);
    end("a", a, "PASS", 20, true);
    end("a", a, "PASS", 20, true);
    assertEquals("PASS", run("b", "PASS", 20, true).others().get(0).fate());
    assertEquals(5, lines().size(), "an end that is there is not entered again");
  }

  @Test
  void aDirectoryThatIsGoneIsNamed() throws Exception {
    run("a", "FAIL", 20, true);
    Files.delete(runs.resolve("a").resolve(RunFile.NAME));
    assertEquals("FAIL, directory gone", run("b", "PASS", 20, true).others().get(0).fate());
  }

  @Test
  void aDirectoryThatWasUsedAgainIsGone() throws Exception {
    run("a", "FAIL", 20, true);
    LedgerView view = run("a", "PASS", 20, true);
    assertEquals(2, view.number());
    assertEquals("FAIL, directory gone", view.others().get(0).fate());
  }

  @Test
  void anotherFreezeOfAPlanOfThisNameIsCounted() throws Exception {
    run("a", "FAIL", 20, true);
    Registration again = begin("b", new Registration("cd".repeat(32), "later", List.of()));
    LedgerView view = end("b", again, "PASS", 20, true);
    assertEquals(1, view.number());
    assertEquals(1, view.elsewhere());
    assertTrue(view.place().endsWith("names 1 run of a plan of this name."), view.place());
  }

  @Test
  void aChangedOrMissingLineBreaksTheChain() throws Exception {
    run("a", "FAIL", 20, true);
    run("b", "PASS", 20, true);
    List<String> good = lines();
    List<String> changed = new ArrayList<>(good);
    changed.set(1, good.get(1).replace("FAIL", "PASS"));
    Files.write(runs.resolve(Ledger.NAME), changed);
    assertEquals(
        List.of("The ledger is broken: ledger.jsonl:3 does not follow from the line before it."),
        run("c", "PASS", 20, true).faults());
    Files.write(runs.resolve(Ledger.NAME), good.subList(2, 4));
    assertEquals(
        List.of("The ledger is broken: ledger.jsonl:1 does not follow from the line before it."),
        run("d", "PASS", 20, true).faults());
    Files.writeString(runs.resolve(Ledger.NAME), "rubbish\n");
    assertEquals(
        List.of("The ledger is broken: ledger.jsonl:1 is not an entry."),
        run("e", "PASS", 20, true).faults());
  }

  @Test
  void aMissingLedgerIsSaidAndTheOthersAreKept() throws Exception {
    run("a", "FAIL", 20, true);
    Registration b = begin("b", FROZEN);
    end("b", b, "PASS", 20, true);
    Files.delete(runs.resolve(Ledger.NAME));
    LedgerView view = end("b", b, "PASS", 20, true);
    assertEquals(List.of("The ledger ledger.jsonl beside the run is missing."), view.faults());
    assertEquals("FAIL", view.others().get(0).fate());
    assertFalse(Files.exists(runs.resolve(Ledger.NAME)), "a report makes no ledger");
    run("c", "PASS", 20, true);
    assertEquals(
        List.of("The ledger ledger.jsonl beside the run does not name this run."),
        end("b", b, "PASS", 20, true).faults());
  }

  @Test
  void aLineThatThePowerCutIsNoLine() throws Exception {
    run("a", "FAIL", 20, true);
    Path file = runs.resolve(Ledger.NAME);
    Files.writeString(file, Files.readString(file) + "{\"before\":\"ab");
    LedgerView view = run("b", "PASS", 20, true);
    assertEquals(List.of(), view.faults());
    assertEquals(2, view.number());
  }

  @Test
  void runsThatBeginTogetherDoNotBreakTheChain() throws Exception {
    ExecutorService pool = Executors.newFixedThreadPool(8);
    List<Future<Registration>> begun = new ArrayList<>();
    for (int i = 0; i < 40; i++) {
      String name = "run-" + i;
      begun.add(pool.submit(() -> begin(name, FROZEN)));
    }
    TreeSet<Integer> numbers = new TreeSet<>();
    for (Future<Registration> one : begun) {
      numbers.add(one.get().number());
    }
    pool.shutdown();
    assertEquals(40, numbers.size());
    assertEquals(40, numbers.last());
    assertEquals(List.of(), run("after", "PASS", 20, true).faults());
  }

  @Test
  void aPipeInPlaceOfTheLedgerStopsTheRunBeforeItsFirstTrial() throws Exception {
    Path file = runs.resolve(Ledger.NAME);
    assertEquals(0, new ProcessBuilder("mkfifo", file.toString()).start().waitFor());
    IOException e = assertThrows(IOException.class, () -> begin("a", FROZEN));
    assertEquals(
        file
            + ": cannot be written (not a regular file); no trial was run. Correct this, then run"
            + " again",
        e.getMessage());
  }

  private List<String> lines() throws IOException {
    return Files.readAllLines(runs.resolve(Ledger.NAME));
  }

  private LedgerView run(String name, String verdict, int trials, boolean finished)
      throws IOException {
    return end(name, begin(name, FROZEN), verdict, trials, finished);
  }

  private Registration begin(String name, Registration frozen) throws IOException {
    Registration entered = Ledger.begin(runs.resolve(name), PLAN, "t", frozen);
    Files.createDirectories(runs.resolve(name));
    Files.writeString(runs.resolve(name).resolve(RunFile.NAME), "a run");
    return entered;
  }

  private LedgerView end(
      String name, Registration entered, String verdict, int trials, boolean finished)
      throws IOException {
    Ledger.State state = new Ledger.State(verdict, trials, 20, "f" + trials, finished);
    LedgerView view = Ledger.update(runs.resolve(name), header(entered), state);
    assertEquals(view, LedgerView.kept(runs.resolve(name), header(entered)));
    return view;
  }

  private static RunHeader header(Registration registration) {
    RunHeader h = SampleRun.header(20, 0);
    return new RunHeader(
        h.planName(),
        h.planYaml(),
        h.settingsYaml(),
        h.build(),
        h.bench(),
        h.campaignSeed(),
        h.conditions(),
        h.claims(),
        h.startedAt(),
        h.command(),
        h.protocol(),
        registration,
        h.design());
  }
}
