package org.stopwell.harness.fault;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TestPlans;

/** What a bench and its harness must survive, and where that is shown. */
final class SurvivalRows {
  private static final String BENCH = "bench-rig/src/test/java/org/stopwell/rig/";
  private static final String HARNESS = "hil-harness/src/test/java/org/stopwell/harness/";
  private static final String CORE = "controller-core/src/test/java/org/stopwell/core/";

  /**
   * One row.
   *
   * @param what what happens
   * @param expected what must come of it
   * @param conditions conditions of the plan of faults that show it
   * @param tests other tests that show it, as {@code path/Class#method}
   */
  private record Row(String what, String expected, List<String> conditions, List<String> tests) {}

  static final List<Row> ROWS =
      List.of(
          row(
              "serial cable pulled in mid-trial",
              "motor side stops by itself within 100 ms; rig fault; the next trial opens anew",
              "pulled cable",
              BENCH + "serial/SerialBenchTest#aBoardWhoseHostDiesTakesThePowerByItself",
              HARNESS + "campaign/CampaignTest#aPulledCableCostsOneTrialAndNoOther"),
          row(
              "board comes back under another port name",
              "it is known by its serial number, never by its port; another board is refused,"
                  + " WRONG_IDENTITY",
              "",
              BENCH + "serial/SerialBenchTest#afterTheCableIsBackTheBenchOpensAgain",
              BENCH + "serial/SerialBenchTest#anotherBoardThanTheWantedOneIsRefused"),
          row(
              "two adapters swapped",
              "identity does not match: refused before anything moves, WRONG_IDENTITY",
              "",
              BENCH + "serial/SerialBenchTest#anotherBoardThanTheWantedOneIsRefused"),
          row(
              "port busy, or a second host sends commands",
              "PORT_BUSY; the first session ends with SESSION_LOST and the power off",
              "board reset",
              BENCH + "serial/SerialBenchTest#aPortThatAnotherBenchHoldsIsBusy",
              BENCH + "serial/SerialBenchTest#aSecondHostThatForcesItsWayInEndsTheFirstSession"),
          row(
              "opening the port resets the board",
              "outputs safe at reset; nothing is obeyed before the handshake",
              "",
              BENCH + "board/BoardTest#beforeAnySessionNothingIsObeyed"),
          row(
              "reading from the port blocks for ever",
              "own deadline; NO_ANSWER in bounded time",
              "no answer",
              BENCH + "serial/LinkTroubleTest#aMuteLineEndsInBoundedTime"),
          row(
              "garbage, split and merged frames, wrong speed",
              "in step again within two frames; above the limit BAD_FRAMES",
              "damaged line",
              BENCH + "wire/FrameTest#afterAnyGarbageAtMostOneGoodFrameIsLost",
              BENCH + "serial/LinkTroubleTest#moreDamageThanAllowedIsARigFaultOfItsOwn"),
          row(
              "frame lost, doubled, reordered, late",
              "asked for again, obeyed once; a gap beyond the budget stops the motor",
              "lost readings; old readings",
              BENCH + "serial/LinkTroubleTest#aLostAnswerIsAskedForAgainAndTheCommandObeyedOnce",
              BENCH + "board/BoardTest#aRequestThatComesAfterALaterOneIsIgnored"),
          row(
              "a board babbles",
              "no growth of memory, no hang",
              "",
              BENCH + "serial/LinkTroubleTest#aBabblingBoardNeitherHangsNorFillsTheMemory"),
          row(
              "measuring circuit open or short",
              "motor at rest within the age of a sample and its budget",
              "open circuit; short circuit"),
          row(
              "signal frozen at a plausible value while the file moves",
              "noticed and stopped",
              "frozen signal; no more samples"),
          row(
              "signal jumps nearer or farther",
              "nearer stops; farther is not believed",
              "jump nearer; jump farther"),
          row(
              "slow drift of gain or offset",
              "not to be seen in one trial: known-answer trials find it and spoil those before",
              "",
              HARNESS + "fault/FaultSuiteTest#whatOneTrialCannotShowTheSentinelsDo"),
          row(
              "hum, noise, bouncing contact",
              "no false start, named",
              "hum; noise; bouncing contact; saturated"),
          row(
              "numbers that cannot be",
              "refused at the boundary; never reach the control law",
              "nonsense",
              CORE + "StepFuzzTest#anyBytesAreSurvived"),
          row(
              "motor stalls, jams, is released",
              "torque reaction; retries are limited",
              "jam; dead motor",
              CORE + "MotorTest#aFileThatStandsLocks"),
          row(
              "motor runs when told to rest",
              "named; only the emergency stop can take its power; proof test coast",
              "runs on",
              BENCH + "proof/BenchProofTest#aFaultFailsTheChecksThatLookForIt"),
          row("motor turns the wrong way", "stopped within the window of the check", "reversed"),
          row(
              "emergency stop pressed, its wire cut, its contact welded",
              "power off by hardware and seen; a welded contact is found by the proof; never cleared"
                  + " from afar",
              "stop pressed; stop pressed at rest",
              BENCH + "proof/BenchProofTest#anEmergencyStopThatIsNotSeenFails",
              BENCH + "pi/PiBenchTest#a_cut_wire_takes_the_power_though_its_event_is_lost",
              HARNESS + "console/ConsoleServerTest#noRequestTakesAStopBack"),
          row(
              "cover opened at night",
              "in the same line as the emergency stop; what is finished is kept",
              "stop pressed"),
          row(
              "power cut at any moment, also while writing",
              "torn entry dropped, that trial run again, report the same",
              "",
              HARNESS + "record/KillPointTest#aCampaignCutAtAnyByteGoesOnToTheSameReport"),
          row(
              "supply sags; computer throttled",
              "named; a throttled computer shows as lateness",
              "low supply; host stands still"),
          row(
              "disk full or read-only",
              "no finished trial is lost",
              "",
              HARNESS + "cli/MishapTest#aDiskThatTakesNoMoreKeepsEveryFinishedTrial"),
          row(
              "wall clock jumps",
              "nothing in a trial is decided by it: only one package reads a clock, and deadlines are"
                  + " monotonic",
              "",
              "hil-harness/src/test/java/org/stopwell/house/ImportRulesTest"
                  + "#onlyOnePackageReadsAClockOrSleeps"),
          row(
              "host suspended, or a long pause",
              "motor side has stopped already; rig fault LATE",
              "host stands still; board took the power",
              HARNESS + "trial/TrialRunnerTest#aLateStepIsTheRigsFault"),
          row(
              "program killed",
              "resumed; every trial counts once",
              "",
              HARNESS + "record/KillTest#aTrialThatWasReportedSurvivesAKill",
              HARNESS + "cli/ResumeTest#whereverItWasCutTheEndIsTheSame"),
          row(
              "two campaigns on one bench",
              "the second is refused",
              "",
              HARNESS + "cli/MishapTest#aBusyPortIsNamedAndIsTheRigsFault"),
          row(
              "coordinator lost: its process hangs or is killed, or its network goes",
              "the boards take the power by themselves within 250 ms; the hung trial is RIG_FAULT, a"
                  + " killed one is run again, none counts twice; a bench needs no network",
              "board took the power",
              HARNESS
                  + "cli/HostLossTest"
                  + "#aHostThatHangsOrIsKilledLeavesTheMotorWithoutPowerAndNoTrialCountsTwice"),
          row(
              "a result arrives twice",
              "a trial is recorded once",
              "",
              HARNESS + "record/RunFileTest#aTrialIsRecordedOnce"),
          row(
              "plan with unknown, missing, doubled, contradictory keys",
              "refused before anything moves, all mistakes at once with their lines",
              "",
              HARNESS + "plan/PlanFilesTest#allMistakesOfBothFilesComeAtOnce"),
          row(
              "label of the canal contradicts the network that is mounted",
              "the board measures itself and refuses",
              "wrong network"),
          row(
              "calibration missing, overdue, changed",
              "the bench runs, its verdicts say UNDECIDED",
              "",
              HARNESS + "standing/BenchStandingTest#everyLackHasItsOwnCode"),
          row(
              "build changes in mid-campaign",
              "another build may not go on",
              "",
              HARNESS + "cli/ResumeTest#anotherBuildMayNotGoOn"),
          row(
              "record of another or a newer layout",
              "refused with both versions",
              "",
              HARNESS + "record/RunFileTest#aNewerFormatIsRefusedWithBothVersions"),
          row(
              "trace with holes",
              "refused with its line; no sample is repeated in silence",
              "",
              HARNESS + "cli/ReplayCommandTest#aWrongTraceIsRefusedWithItsLine"),
          row(
              "huge traces, very many trials",
              "simulated trials are run again, not stored; sums are exact in any grouping",
              "",
              HARNESS + "campaign/CampaignTest#anyNumberOfJobsGivesTheSameResultsInTheSameOrder"),
          row(
              "no trial, one trial, all spoiled, all equal",
              "\"not estimable\", never a number that is none",
              "",
              HARNESS + "report/ReportPageTest#oneTrialAndEqualTrialsSayNotEstimable"),
          row(
              "outlier from a real over-travel",
              "kept; over-travel is an endpoint of its own",
              "",
              HARNESS + "stats/CampaignVerdictTest#refusalsAndOverTravelHaveClaimsOfTheirOwn"),
          row(
              "operator mounts another network or skips a step",
              "found by its resistance; an unhomed stage is refused",
              "wrong network"),
          row(
              "switch of the ladder sticks, or its resistance grows",
              "a stuck switch is found at the mount and by the proof; growth by known-answer trials",
              "wrong network",
              HARNESS + "fault/FaultSuiteTest#whatOneTrialCannotShowTheSentinelsDo"),
          row(
              "encoder missing, noisy, losing counts",
              "cross-checked with the current",
              "encoder silent; encoder noisy"),
          row(
              "malicious or clumsy browser",
              "local, escaped; starts nothing but the plans that the console was armed with at the"
                  + " machine, and nothing after a safety stop",
              "",
              HARNESS + "cli/StartPageTest#whatWasNotShownOrNotAskedHereStartsNothing",
              HARNESS + "console/ConsoleServerTest#anotherSitesPageCannotAskForAStop",
              HARNESS + "report/ReportPageTest#nothingThatAPersonWroteBecomesMarkup"),
          row(
              "decimal commas, other alphabets, line ends, byte order mark",
              "one canonical reading",
              "",
              HARNESS + "plan/PlanFilesTest#windowsLineEndsAndAByteOrderMarkAreRead",
              HARNESS
                  + "report/ReportPageTest#theSameCampaignGivesTheSameBytesInAnyOrderAndLocale"),
          row(
              "a slow watcher",
              "watching reads the run file; the campaign never waits for it",
              "",
              HARNESS + "record/RunFileTest#aReaderSeesFinishedTrialsWhileTheCampaignRuns"));

  private SurvivalRows() {}

  private static Row row(String what, String expected, String conditions, String... tests) {
    return new Row(
        what,
        expected,
        Stream.of(conditions.split("; ")).filter(c -> !c.isEmpty()).toList(),
        List.of(tests));
  }

  /** The rows as a table; a row that names a condition or a test that is not there is a mistake. */
  static String table(Plan plan) throws IOException {
    StringBuilder table =
        new StringBuilder("| | what happens | what must come of it | shown by |\n");
    table.append("|---:|---|---|---|\n");
    int number = 0;
    for (Row row : ROWS) {
      number++;
      List<String> shown = new ArrayList<>();
      for (String condition : row.conditions()) {
        List<PlannedFault> faults =
            plan.cells().stream()
                .filter(cell -> cell.name().equals(condition))
                .flatMap(cell -> cell.faults().stream())
                .toList();
        if (faults.isEmpty()) {
          throw new IllegalStateException("row " + number + ": no condition " + condition);
        }
        faults.forEach(fault -> shown.add("*" + condition + "*" + expected(fault)));
      }
      for (String test : row.tests()) {
        shown.add(link(number, test));
      }
      table.append(
          "| %d | %s | %s | %s |\n"
              .formatted(
                  number,
                  row.what(),
                  row.expected(),
                  shown.isEmpty() ? "–" : String.join(", ", shown)));
    }
    return table.toString();
  }

  /** Verdict, cause and time as the plan states them. */
  private static String expected(PlannedFault fault) {
    String time =
        fault.withinNs() == 0 ? "" : ", rest within " + fault.withinNs() / 1_000_000 + " ms";
    return " (`%s`, `%s`%s)".formatted(fault.verdict(), fault.cause(), time);
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
