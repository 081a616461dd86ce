package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A run file that somebody made to break the program: each is refused with place and limit. */
class HostileRunFileTest {
  @TempDir Path directory;

  @BeforeEach
  void aRun() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(3, 1))) {
      run.append(SampleRun.stop(0, 12), new byte[] {1, 2, 3});
      run.append(SampleRun.stop(1, 13), null);
      run.append(SampleRun.stop(2, 14), null);
      run.append(SampleRun.refusal(3), null);
      run.note("resumed", "by hand");
      run.finish("2026-01-02T03:05:05Z");
    }
  }

  @Test
  void aFileWithANewChainIsReadLikeAnyOther() throws Exception {
    HostileRun.change(directory, "UPDATE trial SET message = 'another' WHERE trial = 0");
    try (RunFile run = RunFile.load(directory)) {
      assertEquals("another", run.results().get(0).message());
    }
    assertEquals(List.of(), Verification.of(directory).faults());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          UPDATE trial SET condition = 'nowhere' WHERE trial = 0 | trial 1: condition "nowhere" is not in the plan
          UPDATE trial SET condition = 'sentinel' WHERE trial = 0 | trial 1: condition "sentinel" is not in the plan
          UPDATE trial SET trial = 2147483647 WHERE trial = 3 | trial: 2147483647, must be 0 to 2147483646
          UPDATE trial SET trial = 2147483646 WHERE trial = 3 | trial 2147483647: the plan has 4 trials
          UPDATE trial SET trial = -1 WHERE trial = 3 | trial: -1, must be 0 to
          UPDATE trial SET trial = 4294967296 WHERE trial = 3 | trial: 4294967296, must be 0 to
          UPDATE trial SET remaining_um = 'abc' WHERE trial = 0 | remaining_um: holds text, must hold a whole number
          UPDATE trial SET duration_ns = 1.5 WHERE trial = 0 | duration_ns: holds a real number, must hold a whole number
          UPDATE trial SET duration_ns = NULL WHERE trial = 0 | duration_ns: holds nothing, must hold a whole number
          UPDATE trial SET condition = NULL WHERE trial = 0 | condition: holds nothing, must hold text
          UPDATE trial SET message = x'00ff' WHERE trial = 0 | message: holds bytes, must hold text
          UPDATE trial SET duration_ns = -5 WHERE trial = 0 | duration_ns: -5 ns, must be 0 to
          UPDATE trial SET stop_error_um = 9223372036854775807 WHERE trial = 0 | stop_error_um: 9223372036854775807 µm, must be -1000000000 to 1000000000 µm
          UPDATE trial SET verdict = 'GREAT' WHERE trial = 0 | trial 1, verdict: "GREAT", must be one of [PASS
          UPDATE trial SET message = CAST(zeroblob(2000000) AS TEXT) WHERE trial = 0 | message: 2000000 bytes, must be at most 65536 bytes
          UPDATE header SET plan_yaml = CAST(zeroblob(2000000) AS TEXT) | plan_yaml: 2000000 bytes, must be at most 1048576 bytes
          UPDATE header SET plan_yaml = NULL | plan_yaml: holds nothing, must hold text
          UPDATE header SET bench_period_ns = -1 | bench_period_ns: -1 ns, must be 1 to
          UPDATE condition SET planned_trials = -1 | planned_trials: -1, must be 0 to 1000000
          UPDATE condition SET planned_trials = 2147483647 | planned_trials: 2147483647, must be 0 to 1000000
          UPDATE condition SET name = 'dry' | condition dry is there twice
          UPDATE claim SET endpoint = 'luck' | luck
          UPDATE claim SET share = 9e999 | share Infinity, must be 0 to 1
          UPDATE protocol SET value = 'xx' | the design is not JSON
          UPDATE protocol SET value = '{}' | the design has no valid value of analysis: it is missing
          UPDATE trace SET bytes = -1 | bytes: -1 bytes, must be 0 to 268435456 bytes
          UPDATE trace SET bytes = 268435456 | trace of trial 1: bytes: 268435456 bytes from 11 packed ones
          DELETE FROM header | it has 0 headers, must be 1
          DROP TABLE event | table event is missing or was changed
          DROP TABLE event; CREATE VIEW event AS SELECT * FROM event | table event is missing or was changed
          PRAGMA user_version = -99 | format version -99
          """)
  void itIsRefusedWithPlaceValueAndLimit(String sql, String why) throws Exception {
    HostileRun.change(directory, sql.split("; "));
    RunFileException e =
        assertThrows(
            RunFileException.class,
            () -> {
              try (RunFile run = RunFile.load(directory)) {
                run.results();
              }
            });
    assertTrue(e.getMessage().contains(why), e.getMessage());
    assertEquals(RunFileException.Kind.DAMAGED, e.kind(), e.getMessage());
    assertFalse(e.getMessage().contains("null"), e.getMessage());
    assertFalse(e.getMessage().contains("org.stopwell"), e.getMessage());
    assertFalse(Verification.of(directory).isWhole());
  }

  @Test
  void oneTrialTooFewIsNotFinished() throws Exception {
    HostileRun.change(
        directory,
        "DELETE FROM trial WHERE trial = 3",
        "UPDATE event SET seq = seq - 1",
        "UPDATE ending SET seq = seq - 1");
    RunFileException e = assertThrows(RunFileException.class, () -> RunFile.load(directory));
    assertTrue(
        e.getMessage().endsWith("it is marked as finished and holds 3 trials of 4"),
        e.getMessage());
  }

  @Test
  void aViewWithoutAnEndIsNotRead() throws Exception {
    HostileRun.change(
        directory,
        "DROP TABLE event",
        "CREATE VIEW event AS WITH RECURSIVE c(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM c)"
            + " SELECT x AS seq, 'a' AS kind, 'b' AS text FROM c LIMIT 0");
    assertTimeoutPreemptively(
        Duration.ofMinutes(2),
        () -> assertThrows(RunFileException.class, () -> RunFile.load(directory)));
  }

  @Test
  void aPipeInPlaceOfAFileIsRefused() throws Exception {
    Path file = directory.resolve(RunFile.NAME);
    Files.delete(file);
    assertEquals(0, new ProcessBuilder("mkfifo", file.toString()).start().waitFor());
    RunFileException e =
        assertTimeoutPreemptively(
            Duration.ofMinutes(2),
            () -> assertThrows(RunFileException.class, () -> RunFile.load(directory)));
    assertEquals(file + ": not a regular file", e.getMessage());
  }
}
