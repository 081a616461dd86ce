package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.board.WatchedBoard;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.virtual.VirtualBench;

/** A plug that was pulled and put in again costs the trial in which it was pulled. */
class PortWaitTest {
  private static final long PERIOD_NS = 1_000_000;
  private static final long PATIENCE_S = 200;
  private static final long LOOK_NS = 10_000_000;
  private static final int TRIALS = 4;

  @TempDir Path directory;
  private final List<String> said = new ArrayList<>();
  private final PortWait wait = new PortWait();

  @ParameterizedTest
  @EnumSource(
      value = RigFault.class,
      names = {"PORT_MISSING", "PORT_GONE", "PORT_DENIED", "PORT_BUSY"})
  void aPortThatComesBackIsWaitedForAndBothAreSaid(RigFault away) throws Exception {
    wait.seconds = 3600;
    Bench bench = new VirtualBench(PERIOD_NS);
    assertEquals(bench, wait.around(failing(away, 2, bench), () -> false, said::add).open());
    assertEquals(
        List.of(
            away + ": port X: away; waits up to 3600 s for it",
            "the port is back; the campaign continues"),
        said);
  }

  @Test
  void aPortThatStaysAwayIsGivenUp() {
    wait.seconds = 0;
    assertEquals(
        "port X: away; waited 0 s for it (--port-wait-s)",
        refused(RigFault.PORT_MISSING, false).getMessage());
  }

  @Test
  void whatWaitingDoesNotMendIsNotWaitedFor() {
    wait.seconds = 3600;
    assertEquals("port X: away", refused(RigFault.WRONG_IDENTITY, false).getMessage());
  }

  @Test
  void aCampaignThatIsToldToEndWaitsForNothing() {
    wait.seconds = 3600;
    assertEquals("port X: away", refused(RigFault.PORT_MISSING, true).getMessage());
  }

  private BenchException refused(RigFault fault, boolean stop) {
    BenchMaker maker = failing(fault, Integer.MAX_VALUE, new VirtualBench(PERIOD_NS));
    return assertThrows(
        BenchException.class, () -> wait.around(maker, () -> stop, said::add).open());
  }

  private static BenchMaker failing(RigFault fault, int times, Bench then) {
    int[] left = {times};
    return () -> {
      if (left[0]-- > 0) {
        throw new BenchException(fault, "port X: away");
      }
      return then;
    };
  }

  @Test
  void aPlugThatIsPulledAndPutInAgainCostsOneTrial() throws Exception {
    Path port = directory.resolve("port");
    Path run = directory.resolve("run");
    StringWriter err = new StringWriter();
    CompletableFuture<Integer> running;
    try (WatchedBoard board = plugged(port)) {
      board.slow(true);
      String line = "run %s --bench serial --port %s --out %s --port-wait-s " + PATIENCE_S;
      running = stopwell(line.formatted(plan(), port, run), err);
      board.await(WatchedBoard.TURNING);
      Files.delete(port);
    }
    try (WatchedBoard back = pluggedWhenMissed(port, err)) {
      back.await("HELLO");
      assertEquals(3, running.get(PATIENCE_S, TimeUnit.SECONDS), err.toString());
    }
    assertTrue(err.toString().contains("waits up to " + PATIENCE_S + " s for it"), err.toString());
    List<TrialResult> kept = results(run);
    assertEquals(
        List.of("PORT_GONE", "AT_STANDOFF", "AT_STANDOFF", "AT_STANDOFF"),
        kept.stream().map(TrialResult::code).toList());
  }

  /** The plug stays out until the campaign has said that it waits. */
  private static WatchedBoard pluggedWhenMissed(Path port, StringWriter err) throws Exception {
    for (int i = 0; !err.toString().contains("waits up to"); i++) {
      assertTrue(i < PATIENCE_S * 100, "nobody waits: " + err);
      MachineClock.waitNs(LOOK_NS);
    }
    return plugged(port);
  }

  private static WatchedBoard plugged(Path port) throws IOException {
    WatchedBoard board = new WatchedBoard(EmulatedBoard.identity(true, PERIOD_NS));
    Files.createSymbolicLink(port, Path.of(board.port()));
    return board;
  }

  private Path plan() throws Exception {
    Path plan = directory.resolve("plan.yaml");
    String quick = TestPlans.quick(TRIALS).source().text();
    Files.writeString(plan, quick.substring(0, quick.indexOf("factors:")));
    Files.writeString(
        directory.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
    return plan;
  }

  private static CompletableFuture<Integer> stopwell(String line, StringWriter err) {
    PrintWriter words = new PrintWriter(err, true);
    return CompletableFuture.supplyAsync(
        () -> Main.run(line.split(" ", -1), new PrintWriter(new StringWriter()), words));
  }

  private static List<TrialResult> results(Path run) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      return file.results();
    }
  }
}
