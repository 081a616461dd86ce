package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class VerificationTest {
  private final Path directory;
  private final Path file;

  VerificationTest(@TempDir Path directory) {
    this.directory = directory;
    this.file = directory.resolve(RunFile.NAME);
  }

  @Test
  void anUntouchedRunIsWhole() throws IOException {
    finished();
    Verification v = Verification.of(directory);
    assertTrue(v.isWhole(), v.faults().toString());
    assertEquals(20, v.trials());
    assertEquals(4, v.traces());
    assertTrue(v.finished());
    assertEquals(64, v.fingerprint().length());
    assertEquals(List.of(), v.uncovered());
  }

  @Test
  void anUnfinishedRunIsWholeAndHasNoSeal() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(2, 0))) {
      run.append(SampleRun.stop(0, 1), null);
    }
    Verification v = Verification.of(directory);
    assertTrue(v.isWhole(), v.faults().toString());
    assertFalse(v.finished());
    assertFalse(Files.exists(Seal.of(file)));
  }

  @Test
  void anyChangedByteIsFound() throws IOException {
    finished();
    long seed = 99;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    byte[] good = Files.readAllBytes(file);
    for (int i = 0; i < 300; i++) {
      byte[] bad = good.clone();
      int at = i < 100 ? i : random.nextInt(good.length);
      bad[at] ^= (byte) (1 << random.nextInt(8));
      Files.write(file, bad);
      assertFalse(Verification.of(directory).isWhole(), "byte " + at);
    }
    Files.write(file, good);
    assertTrue(Verification.of(directory).isWhole());
  }

  @Test
  void aCutAndAnAppendedFileAreFound() throws IOException {
    finished();
    byte[] good = Files.readAllBytes(file);
    Files.write(file, java.util.Arrays.copyOf(good, good.length - 4096));
    assertFalse(Verification.of(directory).isWhole());
    Files.write(file, java.util.Arrays.copyOf(good, good.length + 1));
    assertFalse(Verification.of(directory).isWhole());
  }

  @Test
  void aMissingSealIsFoundAndMadeAgainByTheNextAttemptToGoOn() throws IOException {
    finished();
    Files.delete(Seal.of(file));
    assertFalse(Verification.of(directory).isWhole());
    assertThrows(RunFileException.class, () -> RunFile.open(directory));
    assertTrue(Verification.of(directory).isWhole());
  }

  @Test
  void theSealIsReadByTheUsualTool() throws Exception {
    finished();
    Process check =
        new ProcessBuilder("sha256sum", "-c", "run.db.sha256")
            .directory(directory.toFile())
            .redirectErrorStream(true)
            .start();
    assertTrue(check.waitFor(200, TimeUnit.SECONDS));
    assertEquals(0, check.exitValue());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "DELETE FROM trace                                   | trace of trial 1 is missing",
        "DELETE FROM trace WHERE trial = 15                  | trace of trial 16 is missing",
        "INSERT INTO trace SELECT 3, bytes, deflated FROM trace WHERE trial = 5"
            + " | trace of trial 4 is surplus",
        "INSERT INTO trace SELECT 99, bytes, deflated FROM trace WHERE trial = 5"
            + " | trace of trial 100 is surplus",
        "UPDATE trial SET trace_sha256 = NULL WHERE trial = 5 | entry",
        "UPDATE event SET text = 'nothing happened'          | (event) was changed",
        "DELETE FROM event                                   | (event) has no content",
        "UPDATE ending SET finished_at = '2019-01-01'        | (ending) was changed",
        "DELETE FROM ending                                  | (ending) has no content",
        "PRAGMA user_version = 3                             | table trial is missing"
      })
  void aChangeUnderNewTriggersAndANewSealIsFound(String sql, String fault) throws Exception {
    finished();
    change(List.of(sql));
    String faults = Verification.of(directory).faults().toString();
    assertTrue(faults.contains(fault), faults);
  }

  /** Without the newer columns the tables are those of version 3: the chain still tells. */
  @Test
  void tablesThatFitAnOlderVersionAreFoundByTheChain() throws Exception {
    finished();
    List<String> statements = new ArrayList<>();
    List<TrialColumn> old = TrialColumn.of(3);
    for (TrialColumn column : TrialColumn.ALL) {
      if (!old.contains(column)) {
        statements.add("ALTER TABLE trial DROP COLUMN " + column.name());
      }
    }
    statements.add("PRAGMA user_version = 3");
    change(statements);
    String faults = Verification.of(directory).faults().toString();
    assertTrue(faults.contains("entry 0 (header) was changed"), faults);
  }

  /** What somebody does who knows the run file: triggers away, change, triggers back, new seal. */
  private void change(List<String> statements) throws Exception {
    List<String> triggers = new ArrayList<>();
    try (Connection c = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement s = c.createStatement()) {
      List<String> names = new ArrayList<>();
      try (ResultSet row =
          s.executeQuery("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")) {
        while (row.next()) {
          names.add(row.getString(1));
          triggers.add(row.getString(2));
        }
      }
      for (String name : names) {
        s.execute("DROP TRIGGER " + name);
      }
      for (String statement : statements) {
        s.execute(statement);
      }
      for (String trigger : triggers) {
        s.execute(trigger);
      }
    }
    Seal.write(file);
  }

  /** Without its triggers a run file is no longer append-only, whatever it holds. */
  @Test
  void aTriggerThatIsGoneIsFoundUnderANewSeal() throws Exception {
    finished();
    try (Connection c = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement s = c.createStatement()) {
      String name;
      try (ResultSet row =
          s.executeQuery("SELECT name FROM sqlite_schema WHERE type = 'trigger'")) {
        assertTrue(row.next());
        name = row.getString(1);
      }
      s.execute("DROP TRIGGER " + name);
    }
    Seal.write(file);
    String faults = Verification.of(directory).faults().toString();
    assertTrue(faults.contains("tables or triggers"), faults);
  }

  @Test
  void aMissingRunIsAMistakeOfTheCaller() {
    assertThrows(RunFileException.class, () -> Verification.of(directory));
  }

  private void finished() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(20, 0))) {
      byte[] trace = new byte[3000];
      new Random(3).nextBytes(trace);
      for (int i = 0; i < 20; i++) {
        run.append(SampleRun.stop(i, i * 7), i % 5 == 0 ? trace : null);
      }
      run.note("resumed", "by hand");
      run.finish("2026-01-02T03:05:05Z");
    }
    assertEquals(List.of(), Verification.of(directory).faults());
  }
}
