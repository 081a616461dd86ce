package org.stopwell.harness.spark;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import org.stopwell.harness.explore.RowSink;

/** What comes back from a worker. */
final class ShardAnswer {
  /** What an answer can be. */
  enum Kind {
    /** The shard is done; the content is its summary. */
    DONE,
    /** The worker has another build; the content says which. */
    OTHER_BUILD,
    /** The worker does not reach the table of trials. */
    NO_TABLE,
    /** An own policy failed; the content says which, and what it did. */
    BROKEN_POLICY,
    /** The shard threw; the content says what. */
    FAILED
  }

  private final String worker;
  private final String host;
  private final Kind kind;
  private final long busyNs;
  private final byte[] content;
  private final byte[] rows;

  private ShardAnswer(DataInputStream in) throws IOException {
    this.worker = in.readUTF();
    this.host = in.readUTF();
    this.kind = Kind.values()[in.readByte()];
    this.busyNs = in.readLong();
    this.content = in.readNBytes(in.readInt());
    this.rows = in.readNBytes(in.readInt());
  }

  static ShardAnswer of(byte[] bytes) {
    try {
      return new ShardAnswer(new DataInputStream(new ByteArrayInputStream(bytes)));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Spark's name of the process that did the shard. */
  String worker() {
    return worker;
  }

  /** The machine of the worker. */
  String host() {
    return host;
  }

  Kind kind() {
    return kind;
  }

  /** Time that the shard took, ns. */
  long busyNs() {
    return busyNs;
  }

  /** The bytes of the summary. */
  byte[] summary() {
    return content.clone();
  }

  /** Gathers the trials of a shard. */
  static final class Rows implements RowSink {
    private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    private final DataOutputStream out = new DataOutputStream(bytes);

    @Override
    public void put(long trial, long[] values) {
      try {
        out.writeLong(trial);
        out.writeInt(values.length);
        for (long value : values) {
          out.writeLong(value);
        }
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }

  static byte[] done(String worker, String host, long busyNs, byte[] summary, Rows rows) {
    return bytes(worker, host, Kind.DONE, busyNs, summary, rows.bytes.toByteArray());
  }

  static byte[] without(String worker, String host, Kind kind, String why) {
    byte[] text = why.getBytes(StandardCharsets.UTF_8);
    return bytes(worker, host, kind, 0, text, new byte[0]);
  }

  private static byte[] bytes(
      String worker, String host, Kind kind, long busyNs, byte[] content, byte[] rows) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      out.writeUTF(worker);
      out.writeUTF(host);
      out.writeByte(kind.ordinal());
      out.writeLong(busyNs);
      out.writeInt(content.length);
      out.write(content);
      out.writeInt(rows.length);
      out.write(rows);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }

  /** What is wrong. */
  String text() {
    return new String(content, StandardCharsets.UTF_8);
  }

  /** Hands on the trials of the shard. */
  void rowsTo(RowSink sink) {
    DataInputStream in = new DataInputStream(new ByteArrayInputStream(rows));
    try {
      while (in.available() > 0) {
        long trial = in.readLong();
        long[] values = new long[in.readInt()];
        for (int i = 0; i < values.length; i++) {
          values[i] = in.readLong();
        }
        sink.put(trial, values);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
