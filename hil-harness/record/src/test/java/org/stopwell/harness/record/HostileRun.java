package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * Changes a run file as somebody does who knows the format: any value in any cell, then a new hash
 * chain, the old tables and triggers, and a new seal.
 */
public final class HostileRun {
  private HostileRun() {}

  /** Runs statements on the run file of a directory. */
  public static void change(Path directory, String... sql) throws SQLException, IOException {
    Path file = directory.resolve(RunFile.NAME);
    Map<String, String> tables = new LinkedHashMap<>();
    List<String> triggers = new ArrayList<>();
    try (Connection c = open(file);
        Statement s = c.createStatement()) {
      List<String> names = new ArrayList<>();
      try (ResultSet row =
          s.executeQuery("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL")) {
        while (row.next()) {
          if (row.getString(1).equals("trigger")) {
            names.add(row.getString(2));
            triggers.add(row.getString(3));
          } else {
            tables.put(row.getString(2), row.getString(3));
          }
        }
      }
      for (String name : names) {
        s.execute("DROP TRIGGER " + name);
      }
      s.execute("PRAGMA writable_schema = ON");
      s.execute(
          "UPDATE sqlite_schema SET sql = replace(replace(sql, ' STRICT', ''), ' NOT NULL', '')");
    }
    try (Connection c = open(file);
        Statement s = c.createStatement()) {
      for (String one : sql) {
        s.execute(one);
      }
      chain(
          c, tables.keySet().stream().filter(t -> !List.of("entry", "trace").contains(t)).toList());
      s.execute("PRAGMA writable_schema = ON");
      for (Map.Entry<String, String> table : tables.entrySet()) {
        try (PreparedStatement put =
            c.prepareStatement(
                "UPDATE sqlite_schema SET sql = ? WHERE type = 'table' AND name = ?")) {
          put.setString(1, table.getValue());
          put.setString(2, table.getKey());
          put.executeUpdate();
        }
      }
    }
    try (Connection c = open(file);
        Statement s = c.createStatement()) {
      for (String trigger : triggers) {
        try {
          s.execute(trigger);
        } catch (SQLException e) {
          // The change took its table away.
        }
      }
    }
    Seal.write(file);
  }

  private static Connection open(Path file) throws SQLException {
    return DriverManager.getConnection("jdbc:sqlite:" + file);
  }

  private static void chain(Connection c, List<String> tables) throws SQLException {
    TreeMap<Long, List<@Nullable Object>> rows = new TreeMap<>();
    Map<Long, String> kinds = new LinkedHashMap<>();
    for (String table : tables) {
      try (Statement s = c.createStatement();
          ResultSet row = s.executeQuery("SELECT * FROM " + table)) {
        while (row.next()) {
          List<@Nullable Object> fields = new ArrayList<>();
          for (int i = 2; i <= row.getMetaData().getColumnCount(); i++) {
            Object value = row.getObject(i);
            fields.add(value instanceof Integer small ? Long.valueOf(small) : value);
          }
          rows.put(row.getLong(1), fields);
          kinds.put(row.getLong(1), table);
        }
      } catch (SQLException e) {
        // A table that the change took away has no rows.
      }
    }
    try (Statement s = c.createStatement()) {
      s.execute("DELETE FROM entry");
    }
    HashChain chain = HashChain.start(Schema.VERSION);
    for (Map.Entry<Long, List<@Nullable Object>> row : rows.entrySet()) {
      String kind = kinds.getOrDefault(row.getKey(), "");
      try (PreparedStatement put = c.prepareStatement("INSERT INTO entry VALUES (?, ?, ?)")) {
        put.setLong(1, row.getKey());
        put.setString(2, kind);
        put.setBytes(3, chain.add(kind, row.getValue()));
        put.executeUpdate();
      }
    }
  }
}
