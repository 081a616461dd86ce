package org.stopwell.harness.record;

import java.util.ArrayList;
import java.util.List;

/** The tables of a run file. A change here needs a new {@link #VERSION} and a migration. */
final class Schema {
  /** SQLite application id of a run file: the letters "Stop". */
  static final int APPLICATION_ID = 0x53746f70;

  /**
   * Version of the tables, SQLite's {@code user_version}. Version 2 has the tables {@code protocol}
   * and {@code deviation} beside those of version 1; from {@link #DESIGNED} on the protocol holds
   * the checked values of the plan; from {@link #VERSION_CHAINED} on the hash chain covers the
   * version, the conditions of a blinded run stand under their codes, and the protocol holds the
   * widening of the sentinels' limits, which claims are about each condition and the refusals that
   * a claim tolerates; from {@link #BOUNDED} on a trial has the stated bound of its reading; from
   * {@link #DEEP} on it has the depth that it reached by the axis, and the torque; from {@link
   * #DEVICES} on it has tooth, unit and hand of a device of its own, and the protocol holds where
   * the stops were measured, and of which device. An older file is read as it is, a missing table
   * as an empty one: to bring it up to date would break its hash chain and its seal.
   */
  static final int VERSION = 7;

  /** The first version that holds the design of the plan; before it the plan's text is read. */
  static final int DESIGNED = 3;

  /** The first version whose hash chain covers the version itself. */
  static final int VERSION_CHAINED = 4;

  /** The first version that holds the stated bound of a reading. */
  static final int BOUNDED = 5;

  /** The first version that holds the depth that a trial reached, and the torque on the way. */
  static final int DEEP = 6;

  /** The first version that holds trials of a device that this program does not control. */
  static final int DEVICES = 7;

  private static final List<String> TABLES =
      List.of(
          "entry",
          "header",
          "condition",
          "claim",
          "protocol",
          "deviation",
          "trial",
          "trace",
          "event",
          "ending");

  private Schema() {}

  /** What the hash chain of a file of some version does not cover, one sentence each. */
  static List<String> uncovered(int version) {
    List<String> sentences = new ArrayList<>();
    if (version < DESIGNED) {
      sentences.add(
          "The chain does not cover the checked values of the plan: version "
              + version
              + " of the run file holds the plan as text only, and each build reads it by itself.");
    }
    if (version < VERSION_CHAINED) {
      sentences.add(
          "The chain does not cover the version number of the run file; the seal "
              + RunFile.NAME
              + ".sha256 does.");
    }
    return sentences;
  }

  /** Whether a version of the tables has one of them. */
  static boolean hasTable(int version, String table) {
    return version >= 2 || !(table.equals("protocol") || table.equals("deviation"));
  }

  /** The tables of a version. */
  static List<String> tables(int version) {
    return TABLES.stream().filter(table -> hasTable(version, table)).toList();
  }

  /** The statements that make an empty run file. */
  static List<String> statements() {
    return statements(VERSION);
  }

  /** The statements that made an empty run file of some version. */
  static List<String> statements(int version) {
    List<String> sql = new ArrayList<>();
    // One entry for everything ever written, in order: the spine of the hash chain.
    sql.add(
        "CREATE TABLE entry (seq INTEGER PRIMARY KEY, kind TEXT NOT NULL, hash BLOB NOT NULL)"
            + " STRICT");
    sql.add(
        "CREATE TABLE header (seq INTEGER PRIMARY KEY REFERENCES entry, plan_name TEXT NOT NULL,"
            + " plan_yaml TEXT NOT NULL, settings_yaml TEXT NOT NULL, build TEXT NOT NULL,"
            + " bench_kind TEXT NOT NULL, bench_serial TEXT NOT NULL, bench_firmware TEXT NOT NULL,"
            + " bench_simulated INTEGER NOT NULL, bench_lockstep INTEGER NOT NULL,"
            + " bench_period_ns INTEGER NOT NULL, campaign_seed INTEGER NOT NULL,"
            + " started_at TEXT NOT NULL, command TEXT NOT NULL) STRICT");
    sql.add(
        "CREATE TABLE condition (seq INTEGER PRIMARY KEY REFERENCES entry, name TEXT NOT NULL,"
            + " expectation TEXT NOT NULL, planned_trials INTEGER NOT NULL,"
            + " standoff_um INTEGER NOT NULL, tolerance_um INTEGER NOT NULL) STRICT");
    sql.add(
        "CREATE TABLE claim (seq INTEGER PRIMARY KEY REFERENCES entry, endpoint TEXT NOT NULL,"
            + " within_um INTEGER NOT NULL, share REAL NOT NULL, confidence REAL NOT NULL,"
            + " conditions TEXT NOT NULL) STRICT");
    if (hasTable(version, "protocol")) {
      sql.add(
          "CREATE TABLE protocol (seq INTEGER PRIMARY KEY REFERENCES entry, key TEXT NOT NULL,"
              + " value TEXT NOT NULL) STRICT");
      sql.add(
          "CREATE TABLE deviation (seq INTEGER PRIMARY KEY REFERENCES entry, what TEXT NOT NULL,"
              + " planned TEXT NOT NULL, found TEXT NOT NULL) STRICT");
    }
    StringBuilder trial =
        new StringBuilder("CREATE TABLE trial (seq INTEGER PRIMARY KEY REFERENCES entry");
    for (TrialColumn column : TrialColumn.of(version)) {
      trial
          .append(", ")
          .append(column.name())
          .append(column.kind() == TrialColumn.Kind.TEXT ? " TEXT NOT NULL" : " INTEGER NOT NULL")
          .append(column.name().equals("trial") ? " UNIQUE" : "");
    }
    sql.add(trial.append(", trace_sha256 BLOB) STRICT").toString());
    sql.add(
        "CREATE TABLE trace (trial INTEGER PRIMARY KEY, bytes INTEGER NOT NULL,"
            + " deflated BLOB NOT NULL) STRICT");
    sql.add(
        "CREATE TABLE event (seq INTEGER PRIMARY KEY REFERENCES entry, kind TEXT NOT NULL,"
            + " text TEXT NOT NULL) STRICT");
    sql.add(
        "CREATE TABLE ending (seq INTEGER PRIMARY KEY REFERENCES entry, finished_at TEXT NOT NULL)"
            + " STRICT");
    for (String table : tables(version)) {
      sql.addAll(appendOnly(table, table.equals("trace") ? "trial" : "seq"));
    }
    sql.add(
        "CREATE TRIGGER entry_ended BEFORE INSERT ON entry WHEN EXISTS (SELECT 1 FROM ending)"
            + " BEGIN SELECT RAISE(ABORT, 'the run is finished: nothing can be added'); END");
    sql.add("PRAGMA application_id = " + APPLICATION_ID);
    sql.add("PRAGMA user_version = " + version);
    return sql;
  }

  private static List<String> appendOnly(String table, String key) {
    String refuse = " BEGIN SELECT RAISE(ABORT, '" + table + " is append-only'); END";
    String sameRow = "SELECT 1 FROM " + table + " WHERE " + key + " = NEW." + key;
    if (table.equals("trial")) {
      sameRow += " OR trial = NEW.trial";
    }
    return List.of(
        "CREATE TRIGGER " + table + "_no_update BEFORE UPDATE ON " + table + refuse,
        "CREATE TRIGGER " + table + "_no_delete BEFORE DELETE ON " + table + refuse,
        // INSERT OR REPLACE would delete a row without firing a delete trigger.
        "CREATE TRIGGER "
            + table
            + "_no_replace BEFORE INSERT ON "
            + table
            + " WHEN EXISTS ("
            + sameRow
            + ")"
            + refuse);
  }
}
