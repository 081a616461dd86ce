package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.stopwell.harness.fault.Demonstration.AS_PLANNED;
import static org.stopwell.harness.fault.Demonstration.NO_LIMIT;
import static org.stopwell.harness.fault.Demonstration.NO_MOTION;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.virtual.VirtualBench;

/** What a bench and its harness must survive, and where that is shown. */
final class SurvivalRows {
  private static final long MS = 1_000_000;
  private static final String BENCH = "bench-rig/src/test/java/org/stopwell/rig/";
  private static final String CORE = "controller-core/src/test/java/org/stopwell/core/";

  /**
   * One row.
   *
   * @param what the event
   * @param expected required result
   * @param conditions conditions of the plan of faults that show it
   * @param tests tests that look closer, as {@code path/Class#method}
   * @param demonstrations what shows it beside the plan
   */
  record Row(
      String what,
      String expected,
      List<String> conditions,
      List<String> tests,
      List<Demonstration> demonstrations) {
    Row by(Demonstration... added) {
      return new Row(what, expected, conditions, tests, List.of(added));
    }

    /** All that shows it: conditions of the plan first. */
    List<Demonstration> shows(Plan plan, Strikes strikes) {
      return Stream.concat(
              conditions.stream().flatMap(c -> ofCondition(c, plan, strikes)),
              demonstrations.stream())
          .toList();
    }
  }

  private static final Demonstration SILENT_HOST =
      demonstration(
          "the host is silent", "RIG_FAULT", "WATCHDOG", 100 * MS, LinkDemonstrations::aSilentHost);

  private static final Demonstration BUSY_PORT =
      demonstration(
          "another program holds the port",
          "RIG_FAULT",
          "PORT_BUSY",
          NO_MOTION,
          LinkDemonstrations::aBusyPort);

  static final List<Row> ROWS =
      List.of(
          row(
                  "serial cable pulled during a trial",
                  "motor side stops by itself within 100 ms; rig fault; the next trial opens the port again",
                  "pulled cable",
                  BENCH + "serial/SerialBenchTest#aBoardWhoseHostDiesTakesThePowerByItself",
                  harness("campaign", "campaign/CampaignTest#aPulledCableCostsOneTrialAndNoOther"))
              .by(SILENT_HOST),
          row(
                  "board comes back under another port name",
                  "it is known by its serial number, never by its port; another board is refused,"
                      + " WRONG_IDENTITY",
                  "",
                  BENCH + "serial/SerialBenchTest#afterTheCableIsBackTheBenchOpensAgain",
                  BENCH + "serial/SerialBenchTest#anotherBoardThanTheWantedOneIsRefused")
              .by(
                  demonstration(
                      "plugged in at another port",
                      "PASS",
                      "",
                      AS_PLANNED,
                      LinkDemonstrations::anotherPortName),
                  demonstration(
                      "not plugged in",
                      "RIG_FAULT",
                      "PORT_MISSING",
                      NO_MOTION,
                      LinkDemonstrations::aBoardThatIsNotThere)),
          row(
                  "two adapters swapped",
                  "identity does not match: refused before anything moves, WRONG_IDENTITY",
                  "",
                  BENCH + "serial/SerialBenchTest#anotherBoardThanTheWantedOneIsRefused")
              .by(
                  demonstration(
                      "another board at the port",
                      "RIG_FAULT",
                      "WRONG_IDENTITY",
                      NO_MOTION,
                      LinkDemonstrations::swappedAdapters)),
          row(
                  "port busy, or a second host sends commands",
                  "PORT_BUSY; the first session ends with SESSION_LOST and the power off",
                  "board reset",
                  BENCH + "serial/SerialBenchTest#aPortThatAnotherBenchHoldsIsBusy",
                  BENCH + "serial/SerialBenchTest#aSecondHostThatForcesItsWayInEndsTheFirstSession")
              .by(BUSY_PORT),
          row(
                  "opening the port resets the board",
                  "outputs safe at reset; nothing is obeyed before the handshake",
                  "",
                  BENCH + "board/BoardTest#beforeAnySessionNothingIsObeyed")
              .by(
                  demonstration(
                      "command to turn before HELLO",
                      "refused",
                      "NO_SESSION",
                      NO_MOTION,
                      LinkDemonstrations::aCommandBeforeTheGreeting)),
          row(
              "read from the port blocks forever",
              "own deadline; NO_ANSWER in bounded time",
              "no answer",
              BENCH + "serial/LinkTroubleTest#aMuteLineEndsInBoundedTime"),
          row(
              "garbage, split and merged frames, wrong speed",
              "synchronised again within two frames; above the limit BAD_FRAMES",
              "damaged line",
              BENCH + "wire/FrameTest#afterAnyGarbageAtMostOneGoodFrameIsLost",
              BENCH + "serial/LinkTroubleTest#moreDamageThanAllowedIsARigFaultOfItsOwn"),
          row(
              "frame lost, duplicated, reordered, late",
              "requested again, obeyed once; a gap above the budget stops the motor",
              "lost readings; old readings",
              BENCH + "serial/LinkTroubleTest#aLostAnswerIsAskedForAgainAndTheCommandObeyedOnce",
              BENCH + "board/BoardTest#aRequestThatComesAfterALaterOneIsIgnored"),
          row(
                  "a board babbles",
                  "no growth of memory, no hang",
                  "",
                  BENCH + "serial/LinkTroubleTest#aBabblingBoardNeitherHangsNorFillsTheMemory")
              .by(
                  demonstration(
                      "endless random bytes",
                      "RIG_FAULT",
                      "BAD_FRAMES",
                      NO_MOTION,
                      LinkDemonstrations::aBabblingBoard)),
          row(
              "measuring circuit open or shorted",
              "motor at rest within the age of a sample and its budget",
              "open circuit; short circuit"),
          row(
              "signal frozen at a plausible value while the file moves",
              "detected and stopped",
              "frozen signal; frozen channel; no more samples"),
          row(
              "signal jumps nearer or farther",
              "nearer: stop; farther: ignored",
              "jump nearer; jump farther"),
          row(
                  "slow drift of gain or offset",
                  "not visible in one trial: known-answer trials find it and exclude the trials before",
                  "")
              .by(
                  demonstration(
                      "1 % per second",
                      "RIG_FAULT",
                      "BAD_SENTINEL",
                      AS_PLANNED,
                      d -> KnownAnswers.with(FaultKind.DRIFT, 0.01))),
          row(
              "hum, noise, bouncing contact",
              "no false start; named",
              "hum; noise; bouncing contact; saturated"),
          row(
              "impossible values",
              "rejected at the boundary; never reach the control law",
              "nonsense",
              CORE + "StepFuzzTest#anyBytesAreSurvived"),
          row(
              "motor stalls, jams, is released",
              "torque reaction; retries are limited",
              "jam; dead motor",
              CORE + "MotorTest#aFileThatStandsLocks"),
          row(
              "motor runs against the command to rest",
              "named; only the emergency stop can cut its power; proof test coast",
              "runs on",
              BENCH + "proof/BenchProofTest#aFaultFailsTheChecksThatLookForIt"),
          row("motor turns the wrong way", "stopped within the window of the check", "reversed"),
          row(
              "emergency stop pressed, its wire cut, its contact welded",
              "power off by hardware and reported; a welded contact is found by the proof; never cleared"
                  + " remotely",
              "stop pressed; stop pressed at rest",
              BENCH + "proof/BenchProofTest#anEmergencyStopThatIsNotSeenFails",
              BENCH + "pi/PiBenchTest#a_cut_wire_takes_the_power_though_its_event_is_lost",
              harness("console", "console/ConsoleServerTest#noRequestTakesAStopBack")),
          row(
              "cover opened at night",
              "same line as the emergency stop; finished trials are kept",
              "stop pressed"),
          row(
                  "power cut at any moment, also while writing",
                  "torn entry dropped, that trial run again, identical report",
                  "",
                  harness(
                      "report", "record/KillPointTest#aCampaignCutAtAnyByteGoesOnToTheSameReport"))
              .by(
                  demonstration(
                      "the log lacks its last byte",
                      "kept",
                      "",
                      NO_MOTION,
                      RecordDemonstrations::aPowerCutWhileWriting)),
          row(
              "supply voltage falls; computer throttled",
              "named; a throttled computer shows as lateness",
              "low supply; host stands still"),
          row("disk full or read-only", "no finished trial is lost", "")
              .by(
                  demonstration(
                      "full after 3 MiB",
                      "RIG_FAULT",
                      "run.db",
                      NO_MOTION,
                      RecordDemonstrations::aFullDisk)),
          row(
                  "wall clock jumps",
                  "no effect on a trial: only one package reads a clock, and deadlines are"
                      + " monotonic",
                  "",
                  "hil-harness/app/src/test/java/org/stopwell/house/ImportRulesTest"
                      + "#onlyOnePackageReadsAClockOrSleeps")
              .by(
                  demonstration(
                      "back by 56 years",
                      "kept",
                      "",
                      NO_MOTION,
                      RecordDemonstrations::aWallClockThatJumps)),
          row(
                  "host suspended, or a long pause",
                  "motor side has stopped already; rig fault LATE",
                  "host stands still; board took the power",
                  harness("trial", "trial/TrialRunnerTest#aLateStepIsTheRigsFault"))
              .by(SILENT_HOST),
          row(
                  "program killed",
                  "resumed; every trial counts once",
                  "",
                  harness("record", "record/KillTest#aTrialThatWasReportedSurvivesAKill"),
                  harness("app", "cli/ResumeTest#whereverItWasCutTheEndIsTheSame"))
              .by(
                  demonstration(
                      "killed, resumed",
                      "PASS",
                      "",
                      NO_MOTION,
                      RecordDemonstrations::aKilledProgram)),
          row(
                  "two campaigns on one bench",
                  "the second is rejected",
                  "",
                  harness("app", "cli/MishapTest#aBusyPortIsNamedAndIsTheRigsFault"))
              .by(BUSY_PORT),
          row(
                  "coordinator lost: its process hangs or is killed, or its network goes",
                  "the boards cut the power by themselves within 250 ms; the hung trial is RIG_FAULT, a"
                      + " killed one is run again, none counts twice; a bench needs no network",
                  "board took the power",
                  harness(
                      "app",
                      "cli/HostLossTest"
                          + "#aHostThatHangsOrIsKilledLeavesTheMotorWithoutPowerAndNoTrialCountsTwice"))
              .by(SILENT_HOST),
          row(
                  "a result arrives twice",
                  "a trial is recorded once",
                  "",
                  harness("record", "record/RunFileTest#aTrialIsRecordedOnce"))
              .by(
                  demonstration(
                      "trial 2 twice",
                      "refused",
                      "append-only",
                      NO_MOTION,
                      RecordDemonstrations::aResultThatArrivesTwice)),
          row(
                  "plan with unknown, missing, duplicate, contradictory keys",
                  "rejected before anything moves, all mistakes at once with their lines",
                  "",
                  harness("trial", "plan/PlanFilesTest#allMistakesOfBothFilesComeAtOnce"))
              .by(
                  demonstration(
                      "six mistakes",
                      "refused",
                      "plan.yaml",
                      NO_MOTION,
                      PaperDemonstrations::aPlanWithManyMistakes)),
          row(
              "label of the canal contradicts the network that is mounted",
              "the board measures itself and refuses",
              "wrong network"),
          row(
                  "calibration missing, overdue, changed",
                  "the bench runs, its verdicts are UNDECIDED",
                  "",
                  harness("record", "standing/BenchStandingTest#everyLackHasItsOwnCode"))
              .by(
                  demonstration(
                      "no proof, no calibration",
                      "UNDECIDED",
                      "NOT_PROVEN",
                      AS_PLANNED,
                      PaperDemonstrations::aBenchWithoutProof)),
          row(
                  "build changes during a campaign",
                  "another build cannot continue it",
                  "",
                  harness("app", "cli/ResumeTest#anotherBuildMayNotGoOn"))
              .by(
                  demonstration(
                      "resumed by another build",
                      "refused",
                      "another build",
                      NO_MOTION,
                      RecordDemonstrations::anotherBuild)),
          row(
                  "record of another or a newer layout",
                  "rejected with both versions",
                  "",
                  harness("record", "record/RunFileTest#aNewerFormatIsRefusedWithBothVersions"))
              .by(
                  demonstration(
                      "layout 99",
                      "refused",
                      "NEWER",
                      NO_MOTION,
                      RecordDemonstrations::aNewerLayout)),
          row(
                  "trace with holes",
                  "rejected with its line; no sample is repeated silently",
                  "",
                  harness("app", "cli/ReplayCommandTest#aWrongTraceIsRefusedWithItsLine"))
              .by(
                  demonstration(
                      "a row without its distance",
                      "refused",
                      "trace.csv:3",
                      NO_MOTION,
                      PaperDemonstrations::aTraceWithAHole)),
          row(
                  "huge traces, very many trials",
                  "simulated trials are run again, not stored; sums are exact in any grouping",
                  "",
                  harness(
                      "campaign",
                      "campaign/CampaignTest#anyNumberOfJobsGivesTheSameResultsInTheSameOrder"))
              .by(
                  demonstration(
                      "counted in two orders",
                      "PASS",
                      "",
                      NO_MOTION,
                      RecordDemonstrations::veryManyTrials)),
          row(
                  "no trial, one trial, all spoiled, all equal",
                  "\"not estimable\", never an invalid number",
                  "",
                  harness("report", "report/ReportPageTest#oneTrialAndEqualTrialsSayNotEstimable"))
              .by(
                  demonstration(
                      "a claim on the mean",
                      "UNDECIDED",
                      "not estimable",
                      NO_MOTION,
                      RecordDemonstrations::tooFewOrEqualTrials)),
          row(
                  "outlier from a real over-travel",
                  "kept; over-travel is an endpoint of its own",
                  "",
                  harness(
                      "record",
                      "claim/CampaignVerdictTest#refusalsAndOverTravelHaveClaimsOfTheirOwn"))
              .by(
                  demonstration(
                      "one stop 2 mm off among twenty",
                      "FAIL",
                      "over-travel",
                      NO_MOTION,
                      RecordDemonstrations::aRealOverTravel)),
          row(
              "operator mounts another network or skips a step",
              "found by its resistance; a stage without home is rejected",
              "wrong network"),
          row(
                  "switch of the ladder sticks, or its resistance grows",
                  "a stuck switch is found at the mount and by the proof; growth by known-answer trials",
                  "wrong network")
              .by(
                  demonstration(
                      "300 Ω more",
                      "RIG_FAULT",
                      "BAD_SENTINEL",
                      AS_PLANNED,
                      d -> KnownAnswers.with(FaultKind.ADDED_RESISTANCE, 300))),
          row(
              "encoder missing, noisy, losing counts",
              "cross-checked with the current",
              "encoder silent; encoder noisy"),
          row(
                  "malicious or clumsy browser",
                  "local, escaped; starts only the plans that the console was started with at the"
                      + " machine, and nothing after a safety stop",
                  "",
                  harness("app", "cli/StartPageTest#whatWasNotShownOrNotAskedHereStartsNothing"),
                  harness("console", "console/ConsoleServerTest#anotherSitesPageCannotAskForAStop"),
                  harness("report", "report/ReportPageTest#nothingThatAPersonWroteBecomesMarkup"))
              .by(
                  demonstration(
                      "a stop from another site's page",
                      "refused",
                      "HTTP 403",
                      NO_MOTION,
                      PaperDemonstrations::aMaliciousBrowser)),
          row(
                  "decimal commas, other alphabets, line ends, byte order mark",
                  "one canonical reading",
                  "",
                  harness("trial", "plan/PlanFilesTest#windowsLineEndsAndAByteOrderMarkAreRead"),
                  harness(
                      "report",
                      "report/ReportPageTest#theSameCampaignGivesTheSameBytesInAnyOrderAndLocale"))
              .by(
                  demonstration(
                      "written by another machine",
                      "refused",
                      "plan.yaml",
                      NO_MOTION,
                      PaperDemonstrations::oddTexts)),
          row(
                  "a slow watcher",
                  "watching reads the run file; the campaign never waits for it",
                  "",
                  harness(
                      "record", "record/RunFileTest#aReaderSeesFinishedTrialsWhileTheCampaignRuns"))
              .by(
                  demonstration(
                      "a reader that stays",
                      "kept",
                      "",
                      NO_MOTION,
                      RecordDemonstrations::aSlowWatcher)));

  private SurvivalRows() {}

  private static Row row(String what, String expected, String conditions, String... tests) {
    return new Row(
        what,
        expected,
        Stream.of(conditions.split("; ")).filter(c -> !c.isEmpty()).toList(),
        List.of(tests),
        List.of());
  }

  private static Demonstration demonstration(
      String what, String verdict, String cause, long limitNs, Demonstration.Happening happening) {
    return new Demonstration(what, verdict, cause, limitNs, happening);
  }

  /** The faults of a condition of the plan, on the virtual bench. */
  private static Stream<Demonstration> ofCondition(String condition, Plan plan, Strikes strikes) {
    List<PlannedFault> faults =
        plan.plannedConditions().stream()
            .filter(c -> c.name().equals(condition))
            .flatMap(c -> c.faults().stream())
            .toList();
    assertFalse(faults.isEmpty(), "no condition " + condition);
    return faults.stream()
        .map(
            fault ->
                demonstration(
                    "*" + condition + "*",
                    String.valueOf(fault.verdict()),
                    fault.cause(),
                    limitNs(fault),
                    directory -> strike(fault, strikes)));
  }

  private static long limitNs(PlannedFault fault) {
    return fault.withinNs() > 0
        ? fault.withinNs()
        : fault.verdict() == Verdict.PASS
            ? AS_PLANNED
            : fault.injection().kind() == FaultKind.RUNS_ON ? NO_LIMIT : NO_MOTION;
  }

  private static Demonstration.Came strike(PlannedFault fault, Strikes strikes) throws Exception {
    FaultOutcome outcome = strikes.on(new VirtualBench(MS), fault).outcome();
    assertEquals(Optional.empty(), outcome.against());
    Verdict verdict = outcome.result().verdict();
    return new Demonstration.Came(
        verdict.name(),
        outcome.named().contains(fault.cause()) ? fault.cause() : "" + outcome.named(),
        !outcome.turning()
            ? NO_MOTION
            : verdict == Verdict.PASS ? AS_PLANNED : outcome.reactionNs(),
        "");
  }

  /** A test of a module of the harness. */
  private static String harness(String module, String test) {
    return "hil-harness/" + module + "/src/test/java/org/stopwell/harness/" + test;
  }

  /** The rows as a table; a row that names a test that is not there is a mistake. */
  static String table() throws IOException {
    StringBuilder table = new StringBuilder("| | what happens | required result | tested by |\n");
    table.append("|---:|---|---|---|\n");
    int number = 0;
    for (Row row : ROWS) {
      number++;
      List<String> tests = new ArrayList<>();
      for (String test : row.tests()) {
        tests.add(link(number, test));
      }
      table.append(
          "| %d | %s | %s | %s |\n"
              .formatted(
                  number,
                  row.what(),
                  row.expected(),
                  tests.isEmpty() ? "–" : String.join(", ", tests)));
    }
    return table.toString();
  }

  private static String link(int number, String test) throws IOException {
    String path = test.substring(0, test.indexOf('#')) + ".java";
    String method = test.substring(test.indexOf('#') + 1);
    Path file = TestPlans.file("first-stop").resolveSibling("../../" + path).normalize();
    if (!Files.readString(file).contains(" " + method + "(")) {
      throw new IllegalStateException("row " + number + ": no test " + test);
    }
    String name = path.substring(path.lastIndexOf('/') + 1, path.length() - ".java".length());
    return "[%s](../%s)".formatted(name, path);
  }
}
