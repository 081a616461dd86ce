package org.stopwell.harness.record;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.RunFileException.Kind;
import org.stopwell.harness.trial.DepthReached;
import org.stopwell.harness.trial.DeviceActs;
import org.stopwell.harness.trial.DeviceTrial;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

class RunFileTest {
  private final Path directory;

  RunFileTest(@TempDir Path directory) {
    this.directory = directory;
  }

  @Test
  void whatIsAppendedIsReadBackInRunOrder() throws IOException {
    byte[] trace = "a trace that repeats itself, itself, itself".repeat(50).getBytes(UTF_8);
    try (RunFile run = RunFile.create(directory, SampleRun.header(3, 1))) {
      run.append(SampleRun.stop(2, -40), trace);
      run.append(
          List.of(
              new RunFile.Entry(SampleRun.refusal(3), null),
              new RunFile.Entry(SampleRun.stop(0, 12), null)));
      run.note("resumed", "by hand");
      run.append(SampleRun.rigFault(1, "PORT_GONE"), null);
      run.finish("2026-01-02T03:05:05Z");
    }
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(SampleRun.header(3, 1), run.header());
      assertEquals(4, run.header().plannedTrials());
      assertEquals(
          List.of(
              SampleRun.stop(0, 12),
              SampleRun.rigFault(1, "PORT_GONE"),
              SampleRun.stop(2, -40),
              SampleRun.refusal(3)),
          run.results());
      assertEquals(List.of(2), run.tracedTrials());
      assertArrayEquals(trace, run.trace(2).orElseThrow());
      assertEquals(Optional.empty(), run.trace(0));
      assertEquals(Optional.of("2026-01-02T03:05:05Z"), run.finishedAt());
    }
    assertEquals(
        List.of("run.db", "run.db.sha256"),
        names(directory),
        "a finished run is one file and its seal, no log beside it");
  }

  @Test
  void aClaimKeepsItsConditionsAndTheRefusalsThatItTolerates() throws IOException {
    List<Claim> claims =
        List.of(
            new Claim(Claim.Endpoint.WITHIN, 500, 0.9, 0.95, List.of(), true, 0),
            new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.05, 0.95, List.of()),
            new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of(), false, 0.12));
    RunHeader h = SampleRun.header(3, 1);
    RunHeader header = SampleRun.under(h.protocol(), h, h.conditions(), claims);
    RunFile.create(directory, header).close();
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(claims, run.header().claims());
    }
  }

  @Test
  void theStationOfTheBenchIsKeptAndItsChangesAreTold() throws IOException {
    RunHeader before = at("enable_gpio=17 brake_gpio=27");
    RunFile.create(directory, before).close();
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(before, run.header(), "or a run at a station could never go on");
    }
    assertEquals(
        List.of(new HeaderChanges.Change("bench station", "enable_gpio=17", "enable_gpio=22")),
        HeaderChanges.between(before, at("enable_gpio=22 brake_gpio=27")));
  }

  private static RunHeader at(String station) {
    RunHeader h = SampleRun.header(3, 1);
    return new RunHeader(
        h.planName(),
        h.planYaml(),
        h.settingsYaml(),
        h.build(),
        new BenchDescription("pi", "B-1", "pins", false, false, 1_000_000, station),
        h.campaignSeed(),
        h.conditions(),
        h.claims(),
        h.startedAt(),
        h.command());
  }

  @Test
  void anInterruptedRunGoesOnWhereItStopped() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(3, 0))) {
      run.append(SampleRun.stop(0, 12), null);
    }
    try (RunFile run = RunFile.open(directory)) {
      assertEquals(List.of(SampleRun.stop(0, 12)), run.results());
      assertEquals(Optional.empty(), run.finishedAt());
      run.append(SampleRun.stop(1, 13), null);
    }
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(2, run.results().size());
    }
  }

  @Test
  void aReaderSeesFinishedTrialsWhileTheCampaignRuns() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(3, 0))) {
      run.append(SampleRun.stop(0, 12), null);
      try (RunFile reader = RunFile.load(directory)) {
        assertEquals(1, reader.results().size());
      }
    }
  }

  @Test
  void aTrialIsRecordedOnce() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(3, 0))) {
      run.append(SampleRun.stop(0, 12), null);
      String before = run.headHash();
      RunFileException e =
          assertThrows(
              RunFileException.class,
              () ->
                  run.append(
                      List.of(
                          new RunFile.Entry(SampleRun.stop(1, 5), null),
                          new RunFile.Entry(SampleRun.stop(0, 99), null))));
      assertTrue(e.getMessage().contains("append-only"), e.getMessage());
      assertEquals(before, run.headHash(), "a refused batch leaves nothing behind");
      assertEquals(List.of(SampleRun.stop(0, 12)), run.results());
      run.append(SampleRun.stop(1, 5), null);
      assertEquals(2, run.results().size());
    }
  }

  @Test
  void nothingIsAddedToAFinishedRun() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(1, 0))) {
      run.append(SampleRun.stop(0, 12), null);
      run.finish("then");
      assertThrows(RunFileException.class, () -> run.append(SampleRun.stop(1, 1), null));
    }
    assertEquals(Kind.FINISHED, refusal(() -> RunFile.open(directory)).kind());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "UPDATE trial SET stop_error_um = 0",
        "DELETE FROM trial",
        "INSERT OR REPLACE INTO trial SELECT * FROM trial",
        "INSERT OR REPLACE INTO entry SELECT * FROM entry",
        "UPDATE entry SET hash = x'00'",
        "DELETE FROM entry WHERE seq = 4",
        "UPDATE header SET plan_yaml = ''",
        "UPDATE claim SET share = 0.5",
        "DELETE FROM condition",
        "UPDATE trace SET deflated = x'00'",
        "REPLACE INTO trace SELECT * FROM trace",
        "DELETE FROM event",
      })
  void theDatabaseItselfRefusesToChangeTheRecord(String sql) throws Exception {
    try (RunFile run = RunFile.create(directory, SampleRun.header(1, 0))) {
      run.append(SampleRun.stop(0, 12), new byte[] {1, 2, 3});
      run.note("resumed", "by hand");
    }
    SQLException e = assertThrows(SQLException.class, () -> execute(sql));
    assertTrue(String.valueOf(e.getMessage()).contains("append-only"), e.getMessage());
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(List.of(SampleRun.stop(0, 12)), run.results());
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "UPDATE trial SET stop_error_um = 0 WHERE trial = 1",
        "UPDATE trial SET message = message || ' ' WHERE trial = 0",
        "UPDATE claim SET share = 0.5",
        "UPDATE header SET campaign_seed = 43",
        "DELETE FROM trial WHERE trial = 1",
        "DELETE FROM entry WHERE seq = 6",
        "INSERT INTO event VALUES (99, 'resumed', 'never')",
      })
  void whoTakesTheTriggersAwayIsFoundByTheChain(String sql) throws Exception {
    try (RunFile run = RunFile.create(directory, SampleRun.header(3, 0))) {
      for (int i = 0; i < 3; i++) {
        run.append(SampleRun.stop(i, 12 + i), null);
      }
      run.finish("then");
    }
    dropTriggers();
    execute(sql);
    assertEquals(Kind.DAMAGED, refusal(() -> RunFile.load(directory)).kind());
  }

  @Test
  void theChainDependsOnEveryField() throws IOException {
    HashChain a = HashChain.start(Schema.VERSION);
    HashChain b = HashChain.start(Schema.VERSION);
    a.add("trial", List.of("ab", "c"));
    b.add("trial", List.of("a", "bc"));
    assertNotEquals(a.hex(), b.hex(), "fields are length-prefixed");
  }

  @Test
  void aMissingRunIsNamed() {
    RunFileException e = refusal(() -> RunFile.load(directory));
    assertEquals(Kind.MISSING, e.kind());
    assertTrue(e.getMessage().contains(directory.toString()), e.getMessage());
  }

  @Test
  void anExistingRunIsNotOverwritten() throws IOException {
    RunFile.create(directory, SampleRun.header(1, 0)).close();
    assertEquals(
        Kind.EXISTS, refusal(() -> RunFile.create(directory, SampleRun.header(1, 0))).kind());
  }

  @Test
  void aFileThatIsNoDatabaseIsForeign() throws IOException {
    Files.writeString(directory.resolve(RunFile.NAME), "dear diary ".repeat(1000));
    assertEquals(Kind.FOREIGN, refusal(() -> RunFile.load(directory)).kind());
  }

  @Test
  void aDatabaseOfSomebodyElseIsForeign() throws Exception {
    execute("CREATE TABLE recipes (name TEXT)");
    assertEquals(Kind.FOREIGN, refusal(() -> RunFile.open(directory)).kind());
  }

  @Test
  void aNewerFormatIsRefusedWithBothVersions() throws Exception {
    RunFile.create(directory, SampleRun.header(1, 0)).close();
    execute("PRAGMA user_version = 99");
    RunFileException e = refusal(() -> RunFile.load(directory));
    assertEquals(Kind.NEWER, e.kind());
    assertTrue(e.getMessage().contains("99") && e.getMessage().contains("up to 7"), e.getMessage());
  }

  @Test
  void aPathMayHoldAnyCharacter() throws IOException {
    Path odd = directory.resolve("50 % of #runs?mode=ro&x + ü");
    try (RunFile run = RunFile.create(odd, SampleRun.header(1, 0))) {
      run.append(SampleRun.stop(0, 1), null);
    }
    try (RunFile run = RunFile.load(odd)) {
      assertEquals(1, run.results().size());
    }
  }

  @Test
  void everyColumnSurvivesTheRoundTrip() throws IOException {
    List<TrialResult> results = new ArrayList<>();
    for (int i = 0; i < 5; i++) {
      results.add(
          SampleRun.stop(i, i * 300 - 700)
              .with(new ErrorChain(i, -2 * i, 3, -4, 5 * i, -6))
              .with(new DepthReached(15_000 + i, -i, 4_000 + i, i))
              .with(
                  new DeviceTrial(
                      "T" + i,
                      "u" + i,
                      "o" + i,
                      500 + i,
                      -i,
                      700 + i,
                      30 + i,
                      new DeviceActs(1 + i, 2 + i, 3 + i, 4 + i, 5 + i, 6 + i, 7 + i, i % 2, -i))));
    }
    try (RunFile run = RunFile.create(directory, SampleRun.header(5, 0))) {
      for (TrialResult result : results) {
        run.append(result, null);
      }
    }
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(results, run.results());
    }
    assertEquals(
        TrialResult.class.getRecordComponents().length
            - 3
            + ErrorChain.class.getRecordComponents().length
            + DepthReached.class.getRecordComponents().length
            + DeviceTrial.class.getRecordComponents().length
            - 1
            + DeviceActs.class.getRecordComponents().length,
        TrialColumn.ALL.size(),
        "a trial has a column for each of its components");
    assertFalse(TrialColumn.ALL.stream().anyMatch(c -> c.meaning().isBlank()));
  }

  private interface Opening {
    RunFile run() throws IOException;
  }

  private static RunFileException refusal(Opening opening) {
    return assertThrows(RunFileException.class, () -> opening.run().close());
  }

  private void execute(String sql) throws SQLException {
    try (Connection c =
            DriverManager.getConnection("jdbc:sqlite:" + directory.resolve(RunFile.NAME));
        Statement s = c.createStatement()) {
      s.execute(sql);
    }
  }

  private void dropTriggers() throws SQLException {
    List<String> names = new ArrayList<>();
    try (Connection c =
            DriverManager.getConnection("jdbc:sqlite:" + directory.resolve(RunFile.NAME));
        Statement s = c.createStatement()) {
      var row = s.executeQuery("SELECT name FROM sqlite_schema WHERE type = 'trigger'");
      while (row.next()) {
        names.add(String.valueOf(row.getString(1)));
      }
    }
    for (String name : names) {
      execute("DROP TRIGGER " + name);
    }
  }

  private static List<String> names(Path directory) throws IOException {
    try (var files = Files.list(directory)) {
      return files.map(f -> String.valueOf(f.getFileName())).sorted().toList();
    }
  }
}
