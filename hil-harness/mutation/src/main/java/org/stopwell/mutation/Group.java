package org.stopwell.mutation;

import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Packages that are changed together, and the tests that may notice: those of the packages and
 * those that exercise them directly. Most tests that start other programs, wait for the clock or
 * run whole campaigns are left out; they are too slow to run once for each mutant.
 *
 * @param name name of its report
 * @param directory where its tests run, below the root
 * @param packages packages below {@code org.stopwell}
 * @param tests tests or packages of tests below {@code org.stopwell}
 */
record Group(String name, String directory, List<String> packages, List<String> tests) {
  /** All groups. */
  static final List<Group> ALL =
      List.of(
          rig(
              "wire",
              List.of("wire"),
              List.of("wire", "board.BoardTest", "serial.DialogueTest", "serial.ReadingRulesTest")),
          rig(
              "calibration",
              List.of("calibration"),
              List.of("calibration", "proof.KnownTruthTest")),
          rig("proof", List.of("proof"), List.of("proof", "calibration")),
          rig("rig-fault", List.of("fault"), List.of("fault")),
          rig("virtual", List.of("virtual"), List.of("virtual")),
          rig(
              "canal",
              List.of("physics.canal"),
              List.of("physics.canal", "virtual.GoldenPlantTest", "virtual.SceneInSiTest")),
          rig(
              "mechanics",
              List.of("physics.motor", "physics.hand", "physics.file", "physics.fluid"),
              List.of("physics.motor", "physics.hand", "physics.file", "physics.fluid", "virtual")),
          harness(
              "stats",
              List.of("stats"),
              List.of(
                  "stats",
                  "claim",
                  "evidence",
                  "plan.PlanNumbersTest",
                  "plan.StatisticsReaderTest",
                  "report.ClaimWordsTest",
                  "report.ReportNumbersTest",
                  "report.StatisticsTest",
                  "cli.EvidenceCommandsTest")),
          harness(
              "evidence",
              List.of("evidence", "claim"),
              withApplication(
                  "evidence",
                  "claim",
                  "report.BenchSectionTest",
                  "report.ClaimWordsTest",
                  "report.JUnitFileTest",
                  "report.ReportNumbersTest",
                  "report.ReportPageTest",
                  "report.StatisticsTest")),
          harness("record", List.of("record"), withApplication("record", "standing")),
          harness("budget", List.of("budget"), List.of("budget")),
          harness("detect", List.of("detect"), List.of("detect")),
          harness(
              "trial",
              List.of("trial", "fault"),
              withApplication(
                  "trial",
                  "fault.DiagnosisLimitsTest",
                  "fault.FaultOutcomeTest",
                  "plan.FaultSectionTest")));

  /** Tests of commands that exercise trials, run files and evidence. */
  private static List<String> withApplication(String... tests) {
    return Stream.concat(
            Arrays.stream(tests),
            Stream.of(
                "replay",
                "fault.DiagnosisTest",
                "cli.CommandLineTest",
                "cli.EvidenceCommandsTest",
                "cli.ExtensionsTest",
                "cli.FaultCampaignTest",
                "cli.ProtocolCommandsTest",
                "cli.ReplayCommandTest",
                "cli.ResumeTest"))
        .toList();
  }

  private static Group rig(String name, List<String> packages, List<String> tests) {
    return new Group(name, "bench-rig", prefixed("rig.", packages), prefixed("rig.", tests));
  }

  private static Group harness(String name, List<String> packages, List<String> tests) {
    return new Group(
        name, "hil-harness/app", prefixed("harness.", packages), prefixed("harness.", tests));
  }

  private static List<String> prefixed(String prefix, List<String> names) {
    return names.stream().map(name -> "org.stopwell." + prefix + name).toList();
  }

  /** Patterns of the classes to change. */
  String classPatterns() {
    return packages.stream().map(p -> p + ".*").collect(Collectors.joining(","));
  }

  /** Patterns of the tests to run. */
  String testPatterns() {
    return tests.stream()
        .map(t -> t.endsWith("Test") ? t : t + ".*Test")
        .collect(Collectors.joining(","));
  }
}
