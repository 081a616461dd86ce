package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.external.WatchedTrace;
import org.stopwell.harness.record.RunFileException.Kind;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TrialResult;

/**
 * The run file {@code run.db}: the only truth about one campaign. One SQLite database, append-only,
 * each entry chained to the one before it by SHA-256.
 *
 * <p>What {@link #append} has returned from is on the disk and survives a power cut. Not safe for
 * use by several threads; one program writes, others may read at the same time.
 */
public final class RunFile implements AutoCloseable {
  /** Name of the run file in its run directory. */
  public static final String NAME = "run.db";

  private final Path file;
  private final Connection connection;
  private final Rows rows;
  private final RunHeader header;
  private final @Nullable RunLock lock;
  private HashChain chain;
  private long nextSeq;
  private boolean finished;

  /**
   * A finished trial to be written.
   *
   * @param result the result of the trial
   * @param trace its trace, or null when none is kept
   */
  @SuppressWarnings("ArrayRecordComponent") // A trace is large and is only passed through.
  public record Entry(TrialResult result, byte @Nullable [] trace) {}

  private RunFile(Path file, Connection connection, @Nullable RunLock lock)
      throws SQLException, RunFileException {
    this.file = file;
    this.connection = connection;
    this.lock = lock;
    this.rows = new Rows(connection);
    try {
      this.header = rows.header();
      Rows.Checked checked = rows.check();
      rows.guard().check(header);
      this.chain = checked.chain();
      this.nextSeq = checked.nextSeq();
      this.finished = rows.finishedAt().isPresent();
    } catch (Rows.DamageException e) {
      throw damaged(e.getMessage());
    }
  }

  /**
   * Starts the run file of a new campaign.
   *
   * @param directory the run directory, made if it is missing
   * @param header what the campaign is
   * @return the file, ready for trials
   * @throws RunFileException when there already is one or the disk refuses
   */
  public static RunFile create(Path directory, RunHeader header) throws RunFileException {
    return create(directory, () -> header);
  }

  /**
   * Makes the header of a run when its directory is taken: nothing is entered for a refused run.
   */
  @FunctionalInterface
  public interface HeaderMaker {
    /**
     * Makes it.
     *
     * @return the header
     * @throws IOException when what it needs cannot be written
     */
    RunHeader make() throws IOException;
  }

  /**
   * Starts the run file of a new campaign.
   *
   * @param directory the run directory, made if it is missing
   * @param header makes the header, once the directory is taken
   * @return the file, ready for trials
   * @throws RunFileException when there already is one or the disk refuses
   */
  public static RunFile create(Path directory, HeaderMaker header) throws RunFileException {
    RunLock lock = RunFileStart.of(directory, header);
    return attach(directory, "rw", lock);
  }

  /**
   * Opens the run file of an unfinished campaign to go on with it.
   *
   * @param directory the run directory
   * @return the file, ready for the trials that are missing
   * @throws RunFileException when there is none, another program works on it, or it is finished,
   *     foreign, newer or damaged
   */
  public static RunFile open(Path directory) throws RunFileException {
    RunFile run = attach(directory, "rw", RunConnection.lock(directory));
    if (run.finished) {
      run.sealIfMissing();
      run.close();
      throw new RunFileException(Kind.FINISHED, run.file + ": the run is finished");
    }
    return run;
  }

  /**
   * Opens the run file of a campaign for reading. The whole hash chain is checked.
   *
   * @param directory the run directory
   * @return the file
   * @throws RunFileException when there is none, it is foreign, newer or damaged
   */
  public static RunFile load(Path directory) throws RunFileException {
    return attach(directory, "ro", null);
  }

  /**
   * As {@link #load}, and keeps every other program from writing into the run directory until the
   * file is closed: for whoever writes a report, a signature or an unblinding beside it.
   *
   * @param directory the run directory
   * @return the file
   * @throws RunFileException when there is none, another program works on it, or it is foreign,
   *     newer or damaged
   */
  public static RunFile hold(Path directory) throws RunFileException {
    return attach(directory, "ro", RunConnection.lock(directory));
  }

  /**
   * Who works on a run at this moment on this machine. Looking disturbs nobody.
   *
   * @param directory the run directory
   * @return the process in a few words, empty when there is none
   */
  public static Optional<String> holder(Path directory) {
    return RunLock.holder(directory);
  }

  /**
   * The header, written before the first trial.
   *
   * @return the header
   */
  public RunHeader header() {
    return header;
  }

  /**
   * Every finished trial, in run order.
   *
   * @return results by ascending index
   * @throws RunFileException when the disk refuses
   */
  public List<TrialResult> results() throws RunFileException {
    try {
      return rows.results();
    } catch (Rows.DamageException e) {
      throw damaged(e.getMessage());
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    }
  }

  /**
   * The trace of a trial.
   *
   * @param index the trial's position in run order
   * @return the bytes that were appended, empty when none was kept
   * @throws RunFileException when it is missing, surplus or damaged, or the disk refuses
   */
  public Optional<byte[]> trace(int index) throws RunFileException {
    try {
      Rows.@Nullable StoredTrace stored = rows.trace(index);
      if (stored == null) {
        return Optional.empty();
      }
      String which = "the trace of trial " + (index + 1);
      byte[] deflated = stored.deflated();
      if (deflated == null) {
        throw damaged(which + " is missing; the hash chain holds its hash");
      }
      if (stored.sha256() == null) {
        throw damaged(which + " is surplus; the hash chain holds no hash of it");
      }
      byte[] bytes = unpack(which, deflated, stored.bytes());
      if (!Arrays.equals(HashChain.sha256().digest(bytes), stored.sha256())) {
        throw damaged(which + " differs from the recorded trace");
      }
      return Optional.of(bytes);
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    }
  }

  /**
   * The trace of a trial, of which every step can be read.
   *
   * @param index the trial's position in run order
   * @return the bytes that were appended, empty when none was kept
   * @throws RunFileException when it is no trace, missing, surplus or damaged, or the disk refuses
   */
  public Optional<byte[]> readableTrace(int index) throws RunFileException {
    Optional<byte[]> trace = trace(index);
    if (trace.isPresent()) {
      try {
        if (WatchedTrace.isOne(trace.get())) {
          WatchedTrace.read(trace.get());
        } else {
          TraceReader.check(trace.get());
        }
      } catch (IllegalArgumentException e) {
        throw damaged("trace of trial " + (index + 1L) + ": " + e.getMessage());
      }
    }
    return trace;
  }

  /**
   * The trials whose trace is kept: by their entry in the hash chain, or by the table of traces.
   *
   * @return ascending indices
   * @throws RunFileException when the disk refuses
   */
  public List<Integer> tracedTrials() throws RunFileException {
    try {
      return rows.tracedTrials();
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    }
  }

  /**
   * Appends one finished trial in one durable transaction.
   *
   * @param result the result of the trial
   * @param trace its trace, or null when none is kept
   * @throws RunFileException when the trial is already there or the disk refuses; then nothing was
   *     written
   */
  public void append(TrialResult result, byte @Nullable [] trace) throws RunFileException {
    append(List.of(new Entry(result, trace)));
  }

  /**
   * Appends finished trials in one durable transaction: all of them or none.
   *
   * @param entries the trials, in any order
   * @throws RunFileException when one is already there or the disk refuses; then nothing was
   *     written
   */
  public void append(List<Entry> entries) throws RunFileException {
    transaction(
        (seq, next) -> {
          long at = seq;
          for (Entry entry : entries) {
            rows.insertTrial(at++, entry.result(), entry.trace(), next);
          }
          return at;
        });
  }

  /**
   * Appends a note on what happened between trials, such as a resumption or a change of cable.
   *
   * @param kind one word
   * @param text one sentence
   * @throws RunFileException when the disk refuses
   */
  public void note(String kind, String text) throws RunFileException {
    transaction(
        (seq, next) -> {
          rows.insertEvent(seq, kind, text, next);
          return seq + 1;
        });
  }

  /**
   * A note on what happened between trials, or on the bench.
   *
   * @param kind one word
   * @param text what it says
   */
  public record Note(String kind, String text) {}

  /**
   * Every note, in the order in which they were written.
   *
   * @return the notes
   * @throws RunFileException when the disk refuses
   */
  public List<Note> notes() throws RunFileException {
    try {
      return rows.notes();
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    }
  }

  /**
   * Closes the campaign: from here on nothing can be added, the file stands alone, and its SHA-256
   * lies beside it in the form that {@code sha256sum -c} reads.
   *
   * @param finishedAt date and time, as the caller writes it
   * @throws RunFileException when the disk refuses
   */
  public void finish(String finishedAt) throws RunFileException {
    transaction(
        (seq, next) -> {
          rows.insertEnding(seq, finishedAt, next);
          return seq + 1;
        });
    finished = true;
    try {
      // Without a write-ahead log beside it the file can be copied, mailed and read from a CD.
      rows.pragma("wal_checkpoint(TRUNCATE)");
      rows.pragma("journal_mode = DELETE");
      Seal.write(file);
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    } catch (IOException e) {
      throw RunFileException.disk(Seal.of(file), e);
    }
  }

  /**
   * When the campaign was finished.
   *
   * @return the caller's text, empty while it is not
   * @throws RunFileException when the disk refuses
   */
  public Optional<String> finishedAt() throws RunFileException {
    try {
      return rows.finishedAt();
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    }
  }

  /**
   * What the hash chain of this file does not cover, because an older version wrote it.
   *
   * @return one sentence each, none for a file of the present version
   * @throws RunFileException when the disk refuses
   */
  public List<String> uncovered() throws RunFileException {
    try {
      return Schema.uncovered(rows.version());
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    }
  }

  /**
   * The newest hash of the chain, the fingerprint of the run. It covers everything that a report is
   * made from: header, plan, protocol, trials with the hashes of their traces, notes and the end.
   * Whoever keeps it can prove that the file is unchanged.
   *
   * @return 64 hexadecimal digits
   */
  public String headHash() {
    return chain.hex();
  }

  /** Closes the file. Never throws: everything appended is already on the disk. */
  @Override
  public void close() {
    try {
      connection.close();
    } catch (SQLException e) {
      // Nothing is lost: every append was committed, and the log is replayed on the next open.
    }
    if (lock != null) {
      lock.release(finished);
    }
  }

  /**
   * Errors that SQLite finds in its pages, and tables or triggers that do not belong to a run file.
   */
  List<String> pageFaults() throws RunFileException {
    try {
      return rows.pageFaults();
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    }
  }

  /** Power can fail between the last entry and the seal. */
  private void sealIfMissing() throws RunFileException {
    if (!Files.exists(Seal.of(file))) {
      try {
        rows.pragma("journal_mode = DELETE");
        Seal.write(file);
      } catch (SQLException e) {
        throw RunFileException.sqlite(file, e);
      } catch (IOException e) {
        throw RunFileException.disk(Seal.of(file), e);
      }
    }
  }

  private interface Work {
    long write(long seq, HashChain next) throws SQLException;
  }

  private void transaction(Work work) throws RunFileException {
    HashChain next = chain.copy();
    try {
      connection.setAutoCommit(false);
      long seq = work.write(nextSeq, next);
      connection.commit();
      chain = next;
      nextSeq = seq;
      connection.setAutoCommit(true);
    } catch (SQLException e) {
      rollBack();
      throw RunFileException.sqlite(file, e);
    }
  }

  /** SQLite rolls back by itself when the disk is full; the first failure is the one to report. */
  private void rollBack() {
    try {
      connection.rollback();
    } catch (SQLException e) {
      // It is rolled back already.
    }
    try {
      connection.setAutoCommit(true);
    } catch (SQLException e) {
      // No transaction is open, which is what was wanted.
    }
  }

  /** Opens the file; the lock is released with it, or at once when it cannot be opened. */
  private static RunFile attach(Path directory, String mode, @Nullable RunLock lock)
      throws RunFileException {
    Path file = RunConnection.existing(directory);
    @Nullable Connection connection = null;
    @Nullable RunFile run = null;
    try {
      connection = RunConnection.open(file, mode);
      run = new RunFile(file, connection, lock);
      return run;
    } catch (SQLException e) {
      throw RunFileException.sqlite(file, e);
    } finally {
      if (run == null) {
        RunConnection.closeQuietly(connection);
        if (lock != null) {
          lock.release(false);
        }
      }
    }
  }

  private byte[] unpack(String which, byte[] deflated, int length) throws RunFileException {
    try {
      return Packed.unpack(deflated, length);
    } catch (IOException e) {
      throw damaged(which + " cannot be unpacked: " + e.getMessage());
    }
  }

  private RunFileException damaged(String what) {
    return RunFileException.damaged(file, what);
  }
}
