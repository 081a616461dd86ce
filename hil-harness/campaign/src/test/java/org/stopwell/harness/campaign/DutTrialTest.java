package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.advice.BenchNeeds;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.dut.PlayedDut;
import org.stopwell.rig.dut.PlayedDut.Trouble;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** A board under test decides in a trial, and what fails on its side is said of it alone. */
class DutTrialTest {
  private static final long MS = 1_000_000;

  private Plan plan;
  private TrialSpec sound;
  private ControllerSettings settings;

  @BeforeEach
  void readPlan() throws Exception {
    plan = TestPlans.quick(2);
    sound = plan.trial(0).condition().equals("sound") ? plan.trial(0) : plan.trial(1);
    settings = plan.controller(sound);
  }

  @ParameterizedTest
  @CsvSource({"NONE", "ANSWER_IS_LOST"})
  void aBoardThatDecidesAsTheCoreDoesGivesTheSameTrial(Trouble trouble) throws Exception {
    TraceRecorder alone = new TraceRecorder();
    TrialResult wanted = run(new VirtualBench(MS), alone);
    TraceRecorder trace = new TraceRecorder();
    PlayedDut board = new PlayedDut(settings, trouble, 40);
    TrialResult result = run(PlayedDut.bench(new VirtualBench(MS), board, PlayedDut.BUILD), trace);
    assertEquals(Verdict.PASS, result.verdict(), result.message());
    assertEquals(wanted, result);
    assertArrayEquals(alone.bytes(), trace.bytes());
    assertEquals(result.steps(), board.steps);
    assertTrue(board.motorOff);
  }

  @ParameterizedTest
  @CsvSource({
    "HANGS, FAIL, DUT_HUNG",
    "IS_RESET, FAIL, DUT_RESET",
    "IS_LATE, FAIL, DUT_LATE",
    "LIES, FAIL, DUT_DIFFERS",
    "FORGETS, FAIL, DUT_DIFFERS",
    "GOES_SILENT, UNDECIDED, DUT_SILENT",
    "LINE_IS_CUT, RIG_FAULT, PORT_GONE",
    "LINE_DAMAGES, RIG_FAULT, BAD_FRAMES"
  })
  void whatFailsIsNamed(Trouble trouble, Verdict verdict, String code) throws Exception {
    PlayedDut board = new PlayedDut(settings, trouble, 40);
    TrialResult result = run(PlayedDut.bench(new VirtualBench(MS), board, PlayedDut.BUILD), null);
    assertEquals(code, result.code(), result.message());
    assertEquals(verdict, result.verdict());
    assertEquals(verdict != Verdict.RIG_FAULT, DutException.isCode(result.code()));
    assertTrue(board.steps <= 40 + 1, () -> "it was still asked at step " + board.steps);
  }

  @Test
  void aBoardWithOtherSettingsIsNotSteppedOnce() throws Exception {
    ControllerSettings others = plan.settings().with("guard: {step_gap_ms: 49}").controller();
    PlayedDut board = new PlayedDut(others, Trouble.NONE, 0);
    TrialResult result = run(PlayedDut.bench(new VirtualBench(MS), board, PlayedDut.BUILD), null);
    assertRefused(result, board);
    assertTrue(
        result.message().contains(String.format("%016x", others.fingerprint())), result.message());
    assertTrue(
        result.message().contains(String.format("%016x", settings.fingerprint())),
        result.message());
    assertTrue(result.message().contains("stopwell export firmware"), result.message());
  }

  /** Conditions with other settings go to the board that holds them; a missing one is named. */
  @Test
  void eachConditionGoesToTheBoardWithItsSettings() throws Exception {
    String text =
        Source.of(TestPlans.file("resistor-network").resolveSibling("../settings/resistance.yaml"))
            .text();
    Plan two =
        Plan.read(
            new Source(
                "two.yaml",
                """
                plan: 1
                name: two
                settings: settings.yaml
                stage: length
                seed: 3
                trials: 1
                time_limit_s: 10
                scene:
                  canal: {kind: resistors, length_mm: 4, body_ohm: 6500}
                  hand: {feed_mm_per_s: 2, passive_mm: 2.5}
                factors:
                  gap:
                    usual:
                    short:
                      settings: {guard: {step_gap_ms: 49}}
                """),
            new Source("settings.yaml", text));
    List<PlayedDut> boards = new ArrayList<>();
    for (int i = 0; i < 2; i++) {
      boards.add(new PlayedDut(two.controller(two.trial(i)), Trouble.NONE, 0));
    }
    List<TrialResult> results = new ArrayList<>();
    try (Bench bench = PlayedDut.bench(new VirtualBench(MS), boards, PlayedDut.BUILD)) {
      bench.open();
      assertEquals(List.of(), BenchNeeds.missing(two, bench));
      new Campaign(
              two,
              List.of(),
              1,
              () -> false,
              finished -> finished.forEach(each -> results.add(each.result())))
          .run(bench, () -> bench);
    }
    assertEquals(
        List.of("AT_STANDOFF", "AT_STANDOFF"), results.stream().map(TrialResult::code).toList());
    assertTrue(boards.stream().allMatch(board -> board.steps > 1_000 && board.motorOff));
    try (Bench bench = PlayedDut.bench(new VirtualBench(MS), boards.get(0), PlayedDut.BUILD)) {
      bench.open();
      String missing = String.join("\n", BenchNeeds.missing(two, bench));
      assertTrue(
          missing.startsWith("condition " + two.trial(1).condition() + ": port played: the board"),
          missing);
      assertTrue(missing.contains("need 2 boards: export with --plan and --condition"), missing);
    }
  }

  @Test
  void aBoardWithAnotherBuildIsNotSteppedOnce() throws Exception {
    PlayedDut board = new PlayedDut(settings, Trouble.NONE, 0);
    TrialResult result =
        run(PlayedDut.bench(new VirtualBench(MS), board, PlayedDut.BUILD + 1), null);
    assertRefused(result, board);
    assertTrue(result.message().contains("compiler of Java that built it"), result.message());
  }

  /** The board is the device: nobody sees its output, and its own failures are still its own. */
  @ParameterizedTest
  @CsvSource({
    "NONE, PASS, ACTED",
    "HANGS, FAIL, DUT_HUNG",
    "GOES_SILENT, UNDECIDED, DUT_SILENT",
    "LINE_IS_CUT, RIG_FAULT, PORT_GONE"
  })
  void aBoardIsWatchedAsADevice(Trouble trouble, Verdict verdict, String code) throws Exception {
    Plan watched = TestPlans.device(1);
    PlayedDut board = new PlayedDut(watched.written(watched.trial(0)), trouble, 40);
    List<TrialResult> results = new ArrayList<>();
    try (Bench bench = PlayedDut.bench(new VirtualBench(MS), board, PlayedDut.BUILD)) {
      bench.open();
      new Campaign(
              watched,
              List.of(),
              1,
              () -> false,
              finished -> finished.forEach(each -> results.add(each.result())))
          .run(bench, () -> bench);
    }
    assertEquals(1, results.size());
    assertEquals(code, results.get(0).code(), results.get(0).message());
    assertEquals(verdict, results.get(0).verdict());
    assertTrue(board.motorOff);
    assertTrue(board.steps > 1_000 || verdict != Verdict.PASS, () -> "steps " + board.steps);
  }

  private static void assertRefused(TrialResult result, PlayedDut board) {
    assertEquals(Verdict.RIG_FAULT, result.verdict());
    assertEquals("DUT_OTHER", result.code());
    assertEquals(0, board.steps);
    assertTrue(board.motorOff);
  }

  private TrialResult run(Bench bench, @Nullable TraceRecorder trace) throws Exception {
    try (bench) {
      bench.open();
      return new TrialRunner(bench, settings)
          .run(sound, trace, () -> Pace.lockstep(MS), () -> false)
          .orElseThrow();
    }
  }
}
