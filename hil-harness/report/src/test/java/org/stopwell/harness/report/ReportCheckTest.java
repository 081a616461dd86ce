package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.report.ReportCheck.Finding;
import org.stopwell.harness.report.ReportCheck.Outcome;
import org.stopwell.harness.trial.TrialResult;

/** What somebody changed in a report or a JUnit file is found beside the run file. */
class ReportCheckTest {
  @TempDir Path dir;
  private String head = "";

  @BeforeEach
  void aFinishedRunWithItsReport() throws IOException {
    head = make(dir, 0);
  }

  private static String make(Path directory, int shift) throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(30, 0))) {
      for (int i = 0; i < 30; i++) {
        run.append(SampleRun.stop(i, i * 7 + shift), null);
      }
      run.finish("2026-01-02T03:05:05Z");
      RunReport.write(run, Evidence.of(run, directory), directory);
      return run.headHash();
    }
  }

  @Test
  void whatTheProgramWroteIsTheSameAndBothFilesHaveTheFingerprint() throws IOException {
    assertEquals(List.of(Outcome.SAME, Outcome.SAME), outcomes(true));
    assertEquals(List.of(Outcome.SAME, Outcome.SAME), outcomes(false));
    assertTrue(page().contains("<dt>Fingerprint of this run</dt>\n<dd>" + head + "</dd>"), page());
    String junit = Files.readString(dir.resolve(RunReport.JUNIT));
    assertTrue(junit.contains("<property name=\"fingerprint\" value=\"" + head + "\"/>"), junit);
    assertTrue(junit.contains("<property name=\"campaign_verdict\" value=\"UNDECIDED\"/>"), junit);
  }

  /** By a build that is not the one of the run: the words cannot be compared, the rest can. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "report.html | class=\"verdict UNDECIDED\" | class=\"verdict PASS\" | states PASS, the run file gives UNDECIDED",
        "report.html | \"error\":[0,7              | \"error\":[0,6         | other data than the run file: error",
        "report.html | <dt>Fingerprint of this run | <dt>Print              | has no fingerprint",
        "report.html | <h1>half-wet                | <h1>soaked             | ",
        "junit.xml   | failures=\"0\"              | failures=\"1\"         | other data than the run file: number of cases",
        "junit.xml   | name=\"fingerprint\"        | name=\"print\"         | has no fingerprint",
        "junit.xml   | value=\"UNDECIDED\"         | value=\"PASS\"         | states PASS, the run file gives UNDECIDED",
        "junit.xml   | name=\"trial 3\"            | name=\"trial III\"     | ",
      })
  void anyChangeIsFound(String file, String from, String to, String found) throws IOException {
    String text = Files.readString(dir.resolve(file));
    assertTrue(text.contains(from), text);
    Files.writeString(dir.resolve(file), text.replace(from, to));
    Finding same = finding(file, true);
    assertEquals(Outcome.DIFFERENT, same.outcome(), same.text());
    assertTrue(same.text().contains("stopwell report " + dir), same.text());
    Finding other = finding(file, false);
    if (found == null) {
      assertTrue(same.text().contains("is not what this build makes"), same.text());
      assertEquals(Outcome.OTHER_BUILD, other.outcome(), other.text());
      assertTrue(other.text().contains("not compared: its words"), other.text());
    } else {
      assertTrue(same.text().contains(found), same.text());
      assertEquals(Outcome.DIFFERENT, other.outcome(), other.text());
    }
  }

  @Test
  void theReportOfAnotherRunIsFoundByItsFingerprint(@TempDir Path other) throws IOException {
    String others = make(other, 1);
    for (String file : List.of(RunReport.PAGE, RunReport.JUNIT)) {
      Files.write(dir.resolve(file), Files.readAllBytes(other.resolve(file)));
      Finding found = finding(file, false);
      assertEquals(Outcome.DIFFERENT, found.outcome());
      assertTrue(
          found
              .text()
              .startsWith(
                  file + " has the fingerprint " + others + ", the run file has " + head + "."),
          found.text());
    }
  }

  @Test
  void aMissingFileIsNamedAndAnOversizedOneIsNotRead() throws IOException {
    Files.delete(dir.resolve(RunReport.JUNIT));
    assertEquals(Outcome.MISSING, finding(RunReport.JUNIT, true).outcome());
    Files.write(dir.resolve(RunReport.PAGE), new byte[page().length() * 12]);
    assertEquals(Outcome.DIFFERENT, finding(RunReport.PAGE, false).outcome());
    Files.delete(dir.resolve(RunReport.PAGE));
    Files.createDirectory(dir.resolve(RunReport.PAGE));
    assertEquals(Outcome.DIFFERENT, finding(RunReport.PAGE, false).outcome());
  }

  @Test
  void theReportOfAnInterruptedRunIsOldAfterTheNextTrial(@TempDir Path other) throws IOException {
    try (RunFile run = RunFile.create(other, SampleRun.header(3, 0))) {
      run.append(SampleRun.stop(0, 12), null);
      RunReport.write(run, Evidence.of(run, other), other);
      String page = Files.readString(other.resolve(RunReport.PAGE));
      assertTrue(page.contains("not finished; the fingerprint changes"), page);
      TrialResult next = SampleRun.stop(1, 13);
      run.append(next, null);
    }
    try (RunFile run = RunFile.load(other)) {
      for (Finding f : ReportCheck.of(run, other, true)) {
        assertEquals(Outcome.DIFFERENT, f.outcome(), f.text());
      }
    }
  }

  private String page() throws IOException {
    return Files.readString(dir.resolve(RunReport.PAGE));
  }

  private List<Outcome> outcomes(boolean sameBuild) throws IOException {
    try (RunFile run = RunFile.load(dir)) {
      return ReportCheck.of(run, dir, sameBuild).stream().map(Finding::outcome).toList();
    }
  }

  private Finding finding(String file, boolean sameBuild) throws IOException {
    try (RunFile run = RunFile.load(dir)) {
      return ReportCheck.of(run, dir, sameBuild).stream()
          .filter(f -> f.file().equals(file))
          .findFirst()
          .orElseThrow();
    }
  }
}
