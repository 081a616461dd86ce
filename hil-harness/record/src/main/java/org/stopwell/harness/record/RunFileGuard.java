package org.stopwell.harness.record;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.trial.Condition;

/**
 * Checks a run file before its content is read: a file that came by mail can hold anything. Tables
 * must be those of its version, and every cell must have its type and stay within its limits.
 * SQLite measures a cell without reading it, so a huge one costs no memory.
 */
final class RunFileGuard {
  /** Longest plan and settings, bytes: as {@code Source} reads them. */
  private static final long LONGEST_YAML = 1 << 20;

  /** Longest text of a protocol, a deviation or a note, bytes; assumed: many conditions. */
  private static final long LONGEST_VALUE = 16 << 20;

  /** Longest other text, bytes; assumed. */
  private static final long LONGEST_TEXT = 64 << 10;

  /** Longest trace, bytes, packed or unpacked; assumed: 25 minutes of steps of 1 ms. */
  private static final long LONGEST_TRACE = 256 << 20;

  /** Greatest factor by which a packed trace grows: 1032 is the limit of the format (RFC 1951). */
  private static final long MOST_INFLATION = 1100;

  /** Farthest distance, µm; assumed: 1 km, with which no sum of two leaves 32 bits. */
  private static final long FARTHEST = 1_000_000_000;

  /** Longest time, ns; assumed: 116 days. */
  private static final long LONGEST_NS = 10_000_000_000_000_000L;

  /** Trials of one condition, as {@code --trials} takes them. */
  private static final long MOST_TRIALS = 1_000_000;

  /** Planned trials of all conditions; with sentinels they stay within 32 bits. */
  private static final long MOST_PLANNED = 1_000_000_000;

  private static final int HASH_BYTES = 32;

  /** Limits of whole numbers by column; the others hold any number of 64 bits. */
  private static final Map<String, Range> RANGES =
      Map.ofEntries(
          Map.entry("seq", new Range(0, Long.MAX_VALUE - 1, "")),
          Map.entry("trial", new Range(0, Integer.MAX_VALUE - 1L, "")),
          Map.entry("planned_trials", new Range(0, MOST_TRIALS, "")),
          Map.entry("bytes", new Range(0, LONGEST_TRACE, " bytes")),
          Map.entry("steps", new Range(0, LONGEST_NS, "")),
          Map.entry("bench_period_ns", new Range(1, LONGEST_NS, " ns")),
          Map.entry("stopped", new Range(0, 1, "")),
          Map.entry("bench_simulated", new Range(0, 1, "")),
          Map.entry("bench_lockstep", new Range(0, 1, "")));

  private final Connection connection;
  private final int version;

  /**
   * A guard.
   *
   * @param connection the open file
   * @param version version of its tables
   */
  RunFileGuard(Connection connection, int version) {
    this.connection = connection;
    this.version = version;
  }

  private record Range(long low, long high, String unit) {}

  private record Column(String table, String name, String type, boolean required) {
    boolean isText() {
      return type.equals("TEXT");
    }

    /** Most bytes of a text or of a blob. */
    long longest() {
      if (!isText()) {
        return name.equals("deflated") ? LONGEST_TRACE : HASH_BYTES;
      }
      return switch (table) {
        case "header" -> name.endsWith("_yaml") ? LONGEST_YAML : LONGEST_TEXT;
        case "protocol", "deviation", "event", "claim" -> LONGEST_VALUE;
        default -> LONGEST_TEXT;
      };
    }

    Range range() {
      if (name.endsWith("_um")) {
        return new Range(-FARTHEST, FARTHEST, " µm");
      }
      Range other =
          name.endsWith("_ns")
              ? new Range(0, LONGEST_NS, " ns")
              : new Range(Long.MIN_VALUE, Long.MAX_VALUE, "");
      return RANGES.getOrDefault(name, other);
    }

    /** An SQL condition that holds for a cell that must not be read. */
    String wrong() {
      String type = "typeof(" + name + ") <> '" + this.type.toLowerCase(Locale.ROOT) + "'";
      String empty = required ? "" : name + " IS NOT NULL AND ";
      return "("
          + empty
          + "("
          + type
          + switch (this.type) {
            case "INTEGER" ->
                " OR " + name + " NOT BETWEEN " + sql(range().low()) + " AND " + range().high();
            case "REAL" -> "";
            default -> " OR octet_length(" + name + ") > " + longest();
          }
          + "))";
    }

    /** SQLite reads the least number of 64 bits as a real one. */
    private static String sql(long low) {
      return low == Long.MIN_VALUE ? "(-9223372036854775807 - 1)" : Long.toString(low);
    }
  }

  /**
   * Checks tables and cells.
   *
   * @param written whether the file is written to: then its triggers must be those of its version
   */
  void check(boolean written) throws SQLException, Rows.DamageException {
    checkTables(false);
    if (written && !isFinished()) {
      checkTables(true);
    }
    for (String table : Schema.tables(version)) {
      checkCells(table);
    }
    one(
        "SELECT trial, bytes, octet_length(deflated) FROM trace WHERE bytes > "
            + MOST_INFLATION
            + " * octet_length(deflated) + 1000",
        row ->
            "trace of trial "
                + number(row, 1)
                + ": bytes: "
                + row.getLong(2)
                + " bytes from "
                + row.getLong(3)
                + " packed ones, at most "
                + MOST_INFLATION
                + " for one are possible");
  }

  /** The tables as they were made; a view or another table in the place of one is refused. */
  private void checkTables(boolean whole) throws SQLException, Rows.DamageException {
    Set<String> found = new HashSet<>();
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                "SELECT CASE WHEN octet_length(sql) > "
                    + LONGEST_TEXT
                    + " THEN '' ELSE sql END"
                    + " FROM sqlite_schema WHERE sql IS NOT NULL")) {
      while (row.next()) {
        found.add(String.valueOf(row.getString(1)));
      }
    }
    for (String sql : Schema.statements(version)) {
      String[] words = sql.split(" ", 4);
      boolean needed = words[1].equals("TABLE") || (whole && words[1].equals("TRIGGER"));
      if (needed && !found.contains(sql)) {
        throw new Rows.DamageException(
            words[1].toLowerCase(Locale.ROOT) + " " + words[2] + " is missing or was changed");
      }
    }
    if (whole && found.size() != count()) {
      throw new Rows.DamageException("it has tables or triggers of its own");
    }
  }

  private long count() {
    return Schema.statements(version).stream().filter(sql -> sql.startsWith("CREATE")).count();
  }

  private void checkCells(String table) throws SQLException, Rows.DamageException {
    List<Column> columns = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery("PRAGMA table_info(" + table + ")")) {
      while (row.next()) {
        columns.add(
            new Column(
                table,
                String.valueOf(row.getString("name")),
                String.valueOf(row.getString("type")),
                row.getInt("notnull") != 0 || row.getInt("pk") != 0));
      }
    }
    String any = String.join(" OR ", columns.stream().map(Column::wrong).toList());
    StringBuilder which = new StringBuilder("CASE");
    for (int i = 0; i < columns.size(); i++) {
      which.append(" WHEN ").append(columns.get(i).wrong()).append(" THEN ").append(i);
    }
    String at = columns.get(0).name();
    long column = -1;
    long place = 0;
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                "SELECT "
                    + at
                    + ", "
                    + which
                    + " END FROM "
                    + table
                    + " WHERE "
                    + any
                    + " LIMIT 1")) {
      if (row.next()) {
        place = row.getLong(1);
        column = row.getLong(2);
      }
    }
    if (column >= 0) {
      throw wrong(columns.get((int) column), at, place);
    }
  }

  private Rows.DamageException wrong(Column column, String at, long place) throws SQLException {
    String where = "table " + column.table() + ", row " + place + ", " + column.name() + ": ";
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                "SELECT typeof("
                    + column.name()
                    + "), octet_length("
                    + column.name()
                    + "), CASE typeof("
                    + column.name()
                    + ") WHEN 'integer' THEN "
                    + column.name()
                    + " ELSE 0 END FROM "
                    + column.table()
                    + " WHERE "
                    + at
                    + " = "
                    + place)) {
      row.next();
      String type = String.valueOf(row.getString(1));
      if (!type.equalsIgnoreCase(column.type())) {
        return new Rows.DamageException(
            where + "holds " + kind(type) + ", must hold " + kind(column.type()));
      }
      if (column.type().equals("INTEGER")) {
        Range range = column.range();
        return new Rows.DamageException(
            where
                + row.getLong(3)
                + range.unit()
                + ", must be "
                + range.low()
                + " to "
                + range.high()
                + range.unit());
      }
      return new Rows.DamageException(
          where + row.getLong(2) + " bytes, must be at most " + column.longest() + " bytes");
    }
  }

  private static String kind(String type) {
    return switch (type.toUpperCase(Locale.ROOT)) {
      case "INTEGER" -> "a whole number";
      case "REAL" -> "a real number";
      case "TEXT" -> "text";
      case "BLOB" -> "bytes";
      default -> "nothing";
    };
  }

  private static String number(ResultSet row, int column) throws SQLException {
    return Long.toString(row.getLong(column) + 1);
  }

  private interface Sentence {
    String of(ResultSet row) throws SQLException;
  }

  private void one(String sql, Sentence sentence) throws SQLException, Rows.DamageException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(sql + " LIMIT 1")) {
      if (row.next()) {
        throw new Rows.DamageException(sentence.of(row));
      }
    }
  }

  /** Checks conditions and trials against each other. */
  void check(RunHeader header) throws SQLException, Rows.DamageException {
    Set<String> names = new HashSet<>();
    long planned = 0;
    for (Condition c : header.conditions()) {
      planned += c.plannedTrials();
      if (!names.add(c.name())) {
        throw new Rows.DamageException("condition " + c.name() + " is there twice");
      }
    }
    if (names.isEmpty()) {
      throw new Rows.DamageException("it has no condition, must have at least 1");
    }
    if (!(planned <= MOST_PLANNED)) {
      throw new Rows.DamageException(planned + " planned trials, must be at most " + MOST_PLANNED);
    }
    long all = planned;
    if (header.protocol().sentinels().isPresent()) {
      names.add(SentinelRule.CONDITION);
      all += header.protocol().sentinels().get().count((int) planned);
    }
    long found = 0;
    long last = -1;
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery("SELECT trial, condition FROM trial ORDER BY trial")) {
      for (; row.next(); found++) {
        last = row.getLong(1);
        String condition = String.valueOf(row.getString(2));
        String place = "trial " + (last + 1) + ": ";
        if (!(last < all)) {
          throw new Rows.DamageException(place + "the plan has " + all + " trials");
        }
        if (!names.contains(condition)) {
          throw new Rows.DamageException(
              place + "condition \"" + condition + "\" is not in the plan");
        }
      }
    }
    boolean early = header.protocol().stopping().kind() != StoppingRule.Kind.FIXED;
    long due = early ? last + 1 : all;
    if (found < due && isFinished()) {
      throw new Rows.DamageException(
          "it is marked as finished and holds " + found + " trials of " + due);
    }
  }

  private boolean isFinished() throws SQLException {
    return new Rows(connection).finishedAt().isPresent();
  }
}
