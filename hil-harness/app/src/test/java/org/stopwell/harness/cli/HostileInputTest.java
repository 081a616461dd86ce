package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.HostileRun;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;

/** Files that somebody made to break the program: every command answers with a sentence. */
class HostileInputTest {
  /** What a person cannot read: names of classes, lines of a stack trace, and null. */
  private static final Pattern UNREADABLE =
      Pattern.compile(
          "\\bnull\\b|Exception|internal error|\\tat |\\b(java|org|tools|picocli)\\.[a-z]+\\.[A-Za-z]|No enum");

  private record Said(int code, String out, String err) {}

  @TempDir Path dir;
  private Path plan = Path.of("");
  private Path settings = Path.of("");

  @BeforeEach
  void writePlan() throws Exception {
    plan = dir.resolve("plan.yaml");
    settings = dir.resolve("settings.yaml");
    Files.writeString(plan, TestPlans.quick(1).source().text());
    Files.writeString(settings, TestPlans.quick(1).settings().source().text());
  }

  @Test
  void noCommandBreaksAtAHostileRunFile() throws Exception {
    Path good = dir.resolve("good");
    stopwell("run", plan, "--out", good);
    for (String sql :
        List.of(
            "UPDATE trial SET condition = 'nowhere' WHERE trial = 0",
            "UPDATE trial SET trial = 2147483647 WHERE trial = 1; DELETE FROM ending",
            "UPDATE trial SET verdict = NULL; DELETE FROM ending",
            "UPDATE condition SET planned_trials = 0",
            "UPDATE condition SET planned_trials = 1000000",
            "UPDATE header SET plan_yaml = 'x: ['",
            "UPDATE header SET settings_yaml = ''",
            "UPDATE header SET bench_kind = ''",
            "UPDATE header SET build = ''; DELETE FROM ending",
            "UPDATE trace SET deflated = x'00'",
            "UPDATE trace SET bytes = 100")) {
      Path run = dir.resolve("hostile");
      copy(good, run);
      HostileRun.change(run, sql.split("; "));
      for (String command :
          List.of(
              "report RUN",
              "verify RUN",
              "compare RUN GOOD",
              "export RUN --to csv --out EX",
              "export RUN --to vectors --out EX",
              "replay RUN --other-core",
              "replay RUN --trial 1 --other-core",
              "resume RUN",
              "unblind RUN",
              "triage RUN --times 1")) {
        readable(sql, command, run, good);
      }
    }
  }

  @Test
  void noCellOfARunFileBreaksAReport() throws Exception {
    Path good = dir.resolve("good");
    stopwell("run", plan, "--out", good);
    long seed = 20_261;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    List<String> cells = cells(good);
    List<String> values =
        List.of(
            "NULL",
            "-1",
            "0",
            "1",
            "2147483647",
            "-2147483648",
            "9223372036854775807",
            "-9223372036854775807",
            "1.5",
            "9e999",
            "''",
            "'x'",
            "x'00ff'",
            "'{}'",
            "'[]'",
            "'0'",
            "'-1'",
            "'1e999999999'",
            "CAST(zeroblob(70000) AS TEXT)",
            "'\u0001\u202e'",
            "'PASS'",
            "zeroblob(32)");
    for (int i = 0; i < 25; i++) {
      String[] cell = cells.get(random.nextInt(cells.size())).split(" ", 2);
      String value = values.get(random.nextInt(values.size()));
      String sql = "UPDATE " + cell[0] + " SET " + cell[1] + " = " + value;
      if (random.nextBoolean()) {
        sql += " WHERE rowid = (SELECT max(rowid) FROM " + cell[0] + ")";
      }
      Path run = dir.resolve("fuzzed");
      copy(good, run);
      HostileRun.change(run, sql);
      for (String command :
          List.of("report RUN", "verify RUN", "compare RUN GOOD", "export RUN --to csv --out EX")) {
        readable(sql, command, run, good);
      }
    }
  }

  @Test
  void messagesAreBoundedAndNameNoClass() throws Exception {
    Path pipe = dir.resolve("pipe.yaml");
    assertEquals(0, new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor());
    String good = Files.readString(plan);
    Path many = write("many.yaml", good + numbered("key", ": 1\n", 80_000));
    Path longKey = write("long.yaml", good + "k".repeat(500_000) + ": 1\n");
    Path merged = write("merged.yaml", good + "<<: {trials: 3}\n");
    Path nul = write("nul.yaml", good.replaceFirst("(?m)^trials: .*$", "trials: !!int \"3\\\\0\""));
    Path binary = Files.write(dir.resolve("binary.yaml"), new byte[] {(byte) 0xff, 0, 1, 2});
    Path deep = write("deep.yaml", "plan: " + "[".repeat(100_000));
    Path empty = write("empty.yaml", "");
    Path csv = write("t.csv", "t_ms,distance_mm\n0,1\n");
    List<List<Object>> all = new ArrayList<>();
    for (Path file : List.of(many, longKey)) {
      all.add(List.of("check", file));
      all.add(List.of("replay", csv, "--settings", file));
    }
    for (Path file : List.of(pipe, merged, nul, binary, deep, empty, dir)) {
      all.add(List.of("check", file));
      all.add(List.of("run", file, "--out", dir.resolve("never")));
      all.add(List.of("replay", csv, "--settings", file));
      all.add(List.of("replay", file, "--settings", settings));
      all.add(List.of("length", file));
      all.add(List.of("rig", "gauge", file));
      all.add(List.of("run", plan, "--bench", "pi", "--station", file));
      all.add(List.of("freeze", file));
      all.add(List.of("report", file));
      all.add(List.of("verify", file));
    }
    for (List<Object> words : all) {
      Said said = assertTimeoutPreemptively(Duration.ofMinutes(2), () -> stopwell(words.toArray()));
      String text = said.out() + said.err();
      assertTrue(said.code() != 0 && said.code() != 6, words + ": " + said.code() + text);
      assertFalse(UNREADABLE.matcher(text).find(), words + ": " + text);
      assertTrue(text.length() < 60_000, words + ": " + text.length() + " characters");
    }
    String counted = stopwell("check", many).err();
    assertTrue(counted.contains("and 79900 more mistakes"), counted);
    assertTrue(stopwell("check", merged).err().contains("merge keys (<<) are not supported"));
    assertTrue(stopwell("check", nul).err().contains("control character U+0000"));
    assertTrue(stopwell("check", pipe).err().contains("is not a regular file"));
  }

  @Test
  void aTraceIsReadRowByRowWithinItsLimits() throws Exception {
    String head = "t_ms,distance_mm\n";
    assertTrue(csv(head + "0,1\u0000\n").contains("is not a number"));
    assertTrue(csv(head + "0,1e999999999\n").contains("is out of range"));
    assertTrue(csv(head + "0,1e-999999999\n").contains("is out of range"));
    assertTrue(
        csv(head + "0," + "1".repeat(100) + "\n").contains("100 characters, must be at most 64"));
    assertTrue(csv(head + "0,\"" + "1\n".repeat(100_000)).contains("more than 65536 characters"));
    assertTrue(
        csv("t_ms" + numbered(",c", "", 100) + "\n").contains("101 columns, must be at most 64"));
    Path pipe = dir.resolve("pipe.csv");
    assertEquals(0, new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor());
    Said said =
        assertTimeoutPreemptively(
            Duration.ofMinutes(2), () -> stopwell("replay", pipe, "--settings", settings));
    assertTrue(said.err().contains("is not a regular file"), said.err());
  }

  private String csv(String text) throws Exception {
    Path file = write("trace.csv", text);
    Said said =
        assertTimeoutPreemptively(
            Duration.ofMinutes(2), () -> stopwell("replay", file, "--settings", settings));
    assertEquals(2, said.code(), said.err());
    assertFalse(UNREADABLE.matcher(said.err()).find(), said.err());
    return said.err();
  }

  private static String numbered(String before, String after, int n) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < n; i++) {
      text.append(before).append(i).append(after);
    }
    return text.toString();
  }

  private Path write(String name, String text) throws Exception {
    return Files.write(dir.resolve(name), text.getBytes(StandardCharsets.UTF_8));
  }

  private void readable(String sql, String command, Path run, Path good) {
    Object[] words =
        Stream.of(command.split(" "))
            .map(
                w ->
                    w.equals("RUN")
                        ? run
                        : w.equals("GOOD") ? good : w.equals("EX") ? dir.resolve("ex") : w)
            .toArray();
    Said said = stopwell(words);
    String text = said.err() + (command.startsWith("verify") ? said.out() : "");
    assertFalse(UNREADABLE.matcher(text).find(), sql + ": " + command + ": " + text);
    assertTrue(said.code() >= 0 && said.code() <= 5, sql + ": " + command + ": " + said.code());
  }

  private static List<String> cells(Path run) throws Exception {
    List<String> cells = new ArrayList<>();
    try (Connection c = DriverManager.getConnection("jdbc:sqlite:" + run.resolve(RunFile.NAME));
        Statement s = c.createStatement();
        ResultSet row =
            s.executeQuery(
                "SELECT t.name, c.name FROM sqlite_schema t, pragma_table_info(t.name) c"
                    + " WHERE t.type = 'table' AND t.name <> 'entry' AND c.name <> 'seq'")) {
      while (row.next()) {
        cells.add(row.getString(1) + " " + row.getString(2));
      }
    }
    return cells;
  }

  private static void copy(Path from, Path to) throws Exception {
    Files.createDirectories(to);
    try (Stream<Path> old = Files.list(to)) {
      for (Path file : old.toList()) {
        Files.delete(file);
      }
    }
    try (Stream<Path> files = Files.list(from)) {
      for (Path file : files.toList()) {
        Files.copy(file, to.resolve(file.getFileName()));
      }
    }
  }

  private static Said stopwell(Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = Stream.of(args).map(Object::toString).toArray(String[]::new);
    int code = Main.run(words, new PrintWriter(out, true), new PrintWriter(err, true));
    return new Said(code, out.toString(), err.toString());
  }
}
