package org.stopwell.harness.record;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

/** Maps the rows of the tables to the records of the harness, with the hash chain over both. */
final class Rows {
  private final Connection connection;

  Rows(Connection connection) {
    this.connection = connection;
  }

  /** The content of a run file contradicts itself. */
  static final class DamageException extends Exception {
    private static final long serialVersionUID = 1L;

    DamageException(String message) {
      super(message);
    }

    @Override
    public String getMessage() {
      return String.valueOf(super.getMessage());
    }
  }

  /** A hash chain checked to its end. */
  record Checked(HashChain chain, long nextSeq) {}

  /**
   * A trace as stored in the file, and its hash from the entry of its trial; one may be missing.
   */
  @SuppressWarnings("ArrayRecordComponent") // Only passed through.
  record StoredTrace(int bytes, byte @Nullable [] deflated, byte @Nullable [] sha256) {}

  void createTables() throws SQLException {
    try (Statement statement = connection.createStatement()) {
      for (String sql : Schema.statements()) {
        statement.execute(sql);
      }
    }
  }

  void insertHeader(RunHeader header) throws SQLException {
    HashChain chain = HashChain.start(Schema.VERSION);
    long seq = 0;
    insert("header", seq++, Fields.of(header), chain);
    for (Condition c : header.conditions()) {
      insert("condition", seq++, Fields.of(c), chain);
    }
    for (Claim c : header.claims()) {
      insert("claim", seq++, Fields.of(c), chain);
    }
    for (Map.Entry<String, String> row : Fields.protocol(header).entrySet()) {
      insert("protocol", seq++, List.of(row.getKey(), row.getValue()), chain);
    }
    for (Deviation d : header.registration().deviations()) {
      insert("deviation", seq++, Fields.of(d), chain);
    }
  }

  void insertTrial(long seq, TrialResult result, byte @Nullable [] trace, HashChain chain)
      throws SQLException {
    byte[] sha256 = trace == null ? null : HashChain.sha256().digest(trace);
    insert("trial", seq, Fields.of(result, sha256), chain);
    if (trace != null) {
      try (PreparedStatement insert =
          connection.prepareStatement("INSERT INTO trace VALUES (?, ?, ?)")) {
        insert.setLong(1, result.index());
        insert.setLong(2, trace.length);
        insert.setBytes(3, Packed.pack(trace));
        insert.executeUpdate();
      }
    }
  }

  void insertEvent(long seq, String kind, String text, HashChain chain) throws SQLException {
    insert("event", seq, List.of(kind, text), chain);
  }

  void insertEnding(long seq, String finishedAt, HashChain chain) throws SQLException {
    insert("ending", seq, List.of(finishedAt), chain);
  }

  RunHeader header() throws SQLException, DamageException {
    List<Condition> conditions = new ArrayList<>();
    query(
        "SELECT * FROM condition ORDER BY seq",
        row ->
            conditions.add(
                new Condition(
                    text(row, "name"),
                    Listed.of(Expectation.class, "condition", text(row, "expectation")),
                    row.getInt("planned_trials"),
                    row.getInt("standoff_um"),
                    row.getInt("tolerance_um"))));
    Map<String, String> rows = new LinkedHashMap<>();
    List<Deviation> deviations = new ArrayList<>();
    if (has("protocol")) {
      query(
          "SELECT * FROM protocol ORDER BY seq",
          row -> rows.put(text(row, "key"), text(row, "value")));
      query(
          "SELECT * FROM deviation ORDER BY seq",
          row ->
              deviations.add(
                  new Deviation(text(row, "what"), text(row, "planned"), text(row, "found"))));
    }
    List<Claim> claims = new ArrayList<>();
    query(
        "SELECT * FROM claim ORDER BY seq",
        row ->
            claims.add(
                Fields.claim(
                    text(row, "endpoint"),
                    row.getInt("within_um"),
                    row.getDouble("share"),
                    row.getDouble("confidence"),
                    text(row, "conditions").lines().toList(),
                    rows)));
    List<RunHeader> headers = new ArrayList<>();
    query(
        "SELECT * FROM header",
        row ->
            headers.add(
                new RunHeader(
                    text(row, "plan_name"),
                    text(row, "plan_yaml"),
                    text(row, "settings_yaml"),
                    text(row, "build"),
                    new BenchDescription(
                        text(row, "bench_kind"),
                        text(row, "bench_serial"),
                        text(row, "bench_firmware"),
                        row.getLong("bench_simulated") != 0,
                        row.getLong("bench_lockstep") != 0,
                        row.getLong("bench_period_ns"),
                        rows.getOrDefault(Fields.SETUP, "")),
                    row.getLong("campaign_seed"),
                    conditions,
                    claims,
                    text(row, "started_at"),
                    text(row, "command"),
                    Protocol.of(rows),
                    new Registration(
                        rows.getOrDefault(Fields.FROZEN, ""),
                        rows.getOrDefault(Fields.FROZEN_AT, ""),
                        deviations,
                        Integer.parseInt(rows.getOrDefault(Fields.LEDGER_RUN, "0")),
                        rows.getOrDefault(Fields.LEDGER_HEAD, "")),
                    version() < Schema.DESIGNED
                        ? Design.recorded(text(row, "plan_yaml"), text(row, "settings_yaml"))
                        : DesignText.read(rows.getOrDefault(Fields.DESIGN, "")),
                    Origin.of(rows))));
    if (headers.size() != 1) {
      throw new DamageException("it has " + headers.size() + " headers, must be 1");
    }
    return headers.get(0);
  }

  List<TrialResult> results() throws SQLException, DamageException {
    List<TrialResult> results = new ArrayList<>();
    int version = version();
    query("SELECT * FROM trial ORDER BY trial", row -> results.add(trial(row, version)));
    return Collections.unmodifiableList(results);
  }

  @Nullable StoredTrace trace(int index) throws SQLException {
    try (PreparedStatement select =
        connection.prepareStatement(
            "SELECT bytes, deflated, trace_sha256"
                + " FROM (SELECT ? AS trial) LEFT JOIN trace USING (trial)"
                + " LEFT JOIN trial USING (trial)")) {
      select.setInt(1, index);
      try (ResultSet row = select.executeQuery()) {
        row.next();
        byte[] deflated = row.getBytes("deflated");
        byte[] sha256 = row.getBytes("trace_sha256");
        return deflated == null && sha256 == null
            ? null
            : new StoredTrace(row.getInt("bytes"), deflated, sha256);
      }
    }
  }

  List<Integer> tracedTrials() throws SQLException {
    List<Integer> traced = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                "SELECT trial FROM trial WHERE trace_sha256 IS NOT NULL"
                    + " UNION SELECT trial FROM trace ORDER BY trial")) {
      while (row.next()) {
        traced.add(row.getInt(1));
      }
    }
    return traced;
  }

  List<RunFile.Note> notes() throws SQLException {
    List<RunFile.Note> notes = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery("SELECT kind, text FROM event ORDER BY seq")) {
      while (row.next()) {
        notes.add(new RunFile.Note(text(row, "kind"), text(row, "text")));
      }
    }
    return notes;
  }

  Optional<String> finishedAt() throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery("SELECT finished_at FROM ending")) {
      return row.next() ? Optional.of(text(row, "finished_at")) : Optional.empty();
    }
  }

  /** Checks the whole chain: every entry must be present once, in order, with its hash. */
  Checked check() throws SQLException, DamageException {
    HashChain chain = HashChain.start(version());
    long next = 0;
    try (Statement spine = connection.createStatement();
        ResultSet entry = spine.executeQuery("SELECT seq, kind, hash FROM entry ORDER BY seq");
        Cursor header = new Cursor("header");
        Cursor condition = new Cursor("condition");
        Cursor claim = new Cursor("claim");
        Cursor protocol = new Cursor("protocol");
        Cursor deviation = new Cursor("deviation");
        Cursor trial = new Cursor("trial");
        Cursor event = new Cursor("event");
        Cursor ending = new Cursor("ending")) {
      List<Cursor> cursors =
          List.of(header, condition, claim, protocol, deviation, trial, event, ending);
      while (entry.next()) {
        long seq = entry.getLong(1);
        String kind = text(entry, "kind");
        if (seq != next) {
          throw new DamageException("entry " + next + " is missing");
        }
        List<@Nullable Object> fields = null;
        for (Cursor cursor : cursors) {
          if (cursor.table.equals(kind)) {
            fields = cursor.take(seq);
          }
        }
        if (fields == null) {
          throw new DamageException("entry " + seq + " (" + kind + ") has no content");
        }
        if (!Arrays.equals(chain.add(kind, fields), bytes(entry, "hash"))) {
          throw new DamageException(
              "entry " + seq + " (" + kind + describe(kind, fields) + ") was changed");
        }
        next++;
      }
      for (Cursor cursor : cursors) {
        if (cursor.more()) {
          throw new DamageException("table " + cursor.table + " has a row outside of the chain");
        }
      }
    }
    return new Checked(chain, next);
  }

  /** SQLite's own check, and the schema against the one that was written. */
  List<String> pageFaults() throws SQLException {
    List<String> faults = new ArrayList<>();
    try (Statement statement = connection.createStatement()) {
      try (ResultSet row = statement.executeQuery("PRAGMA integrity_check")) {
        while (row.next()) {
          if (!text(row, "integrity_check").equals("ok")) {
            faults.add("page check: " + text(row, "integrity_check"));
          }
        }
      }
      List<String> expected =
          Schema.statements(version()).stream()
              .filter(sql -> sql.startsWith("CREATE"))
              .sorted()
              .toList();
      List<String> found = new ArrayList<>();
      try (ResultSet row =
          statement.executeQuery("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL")) {
        while (row.next()) {
          found.add(text(row, "sql"));
        }
      }
      Collections.sort(found);
      if (!found.equals(expected)) {
        faults.add("tables or triggers were changed");
      }
    }
    return faults;
  }

  RunFileGuard guard() throws SQLException {
    return new RunFileGuard(connection, version());
  }

  int version() throws SQLException {
    return (int) number("PRAGMA user_version");
  }

  private boolean has(String table) throws SQLException {
    return Schema.hasTable(version(), table);
  }

  long number(String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(sql)) {
      return row.next() ? row.getLong(1) : 0;
    }
  }

  void pragma(String pragma) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute("PRAGMA " + pragma);
    }
  }

  private static String describe(String kind, List<@Nullable Object> fields) {
    return kind.equals("trial") ? " " + fields.get(0) : "";
  }

  /** Reads one table in chain order. */
  private final class Cursor implements AutoCloseable {
    private final String table;
    private final PreparedStatement select;
    private final ResultSet row;
    private boolean here;

    Cursor(String table) throws SQLException {
      this.table = table;
      // A table that an older version does not have is an empty one.
      String from = has(table) ? table + " ORDER BY seq" : "entry WHERE FALSE";
      select = connection.prepareStatement("SELECT * FROM " + from);
      row = select.executeQuery();
      here = row.next();
    }

    boolean more() {
      return here;
    }

    /** The fields of the row with this number, in column order; null when it is not next. */
    @Nullable List<@Nullable Object> take(long seq) throws SQLException {
      if (!here || row.getLong("seq") != seq) {
        return null;
      }
      List<@Nullable Object> fields = new ArrayList<>();
      for (int column = 2; column <= row.getMetaData().getColumnCount(); column++) {
        Object value = row.getObject(column);
        fields.add(value instanceof Integer small ? Long.valueOf(small) : value);
      }
      here = row.next();
      return fields;
    }

    @Override
    public void close() throws SQLException {
      select.close();
    }
  }

  private void insert(
      String table, long seq, List<? extends @Nullable Object> fields, HashChain chain)
      throws SQLException {
    byte[] hash = chain.add(table, fields);
    try (PreparedStatement spine =
        connection.prepareStatement("INSERT INTO entry VALUES (?, ?, ?)")) {
      spine.setLong(1, seq);
      spine.setString(2, table);
      spine.setBytes(3, hash);
      spine.executeUpdate();
    }
    String places = ", ?".repeat(fields.size());
    try (PreparedStatement insert =
        connection.prepareStatement("INSERT INTO " + table + " VALUES (?" + places + ")")) {
      insert.setLong(1, seq);
      for (int i = 0; i < fields.size(); i++) {
        insert.setObject(i + 2, fields.get(i));
      }
      insert.executeUpdate();
    }
  }

  private static TrialResult trial(ResultSet row, int version) throws SQLException {
    return TrialColumn.read(
        new TrialColumn.Source<SQLException>() {
          @Override
          public long integer(String column) throws SQLException {
            return version >= TrialColumn.since(column) ? row.getLong(column) : 0;
          }

          @Override
          public String text(String column) throws SQLException {
            return version >= TrialColumn.since(column) ? Rows.text(row, column) : "";
          }
        });
  }

  private interface RowWork {
    void accept(ResultSet row) throws SQLException;
  }

  private void query(String sql, RowWork work) throws SQLException, DamageException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(sql)) {
      while (row.next()) {
        work.accept(row);
      }
    } catch (NumberFormatException e) {
      throw new DamageException(
          String.valueOf(e.getMessage()).replaceFirst("For input string: (\"[^\"]*\").*", "$1")
              + " is not a number");
    } catch (IllegalArgumentException e) {
      throw new DamageException(String.valueOf(e.getMessage()));
    }
  }

  private static String text(ResultSet row, String column) throws SQLException {
    return String.valueOf(row.getString(column));
  }

  private static byte[] bytes(ResultSet row, String column) throws SQLException {
    byte[] bytes = row.getBytes(column);
    return bytes == null ? new byte[0] : bytes;
  }
}
