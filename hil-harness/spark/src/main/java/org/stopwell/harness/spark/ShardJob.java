package org.stopwell.harness.spark;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.ObjectInputStream;
import java.io.ObjectOutputStream;
import java.io.ObjectStreamClass;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.locks.ReentrantLock;
import org.apache.spark.SparkEnv;
import org.apache.spark.TaskContext;
import org.apache.spark.api.java.function.Function;
import org.stopwell.harness.explore.BrokenPolicyException;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.ShardSummary;
import org.stopwell.harness.explore.ShardWork;
import org.stopwell.rig.time.MachineClock;

/**
 * Does a shard on a worker. Work and answer travel as bytes, so that no serializer which a cluster
 * may be set to makes a difference.
 */
final class ShardJob implements Function<long[], byte[]> {
  private static final long serialVersionUID = 1L;

  /** The work of the latest shard in this process: the next one is of the same work. */
  private static final class Unpacked {
    private final byte[] bytes;
    private final ShardWork<?> work;

    Unpacked(byte[] bytes, ShardWork<?> work) {
      this.bytes = bytes;
      this.work = work;
    }
  }

  private static final ReentrantLock UNPACKING = new ReentrantLock();
  private static Optional<Unpacked> latest = Optional.empty();

  /** The jars that were compared in this process, and found the same. */
  private static List<ShippedJars.Pinned> same = List.of();

  private final byte[] work;
  private final ArrayList<ShippedJars.Pinned> pinned;
  private final boolean withRows;
  private final String parts;

  /**
   * A job for shards of some work.
   *
   * @param work the work as bytes
   * @param pinned the jars that the worker must have
   * @param withRows whether every trial is wanted, and not the summary alone
   * @param parts directory for every trial as Parquet; empty: not wanted
   */
  ShardJob(byte[] work, List<ShippedJars.Pinned> pinned, boolean withRows, String parts) {
    this.work = work;
    this.pinned = new ArrayList<>(pinned);
    this.withRows = withRows;
    this.parts = parts;
  }

  static byte[] pack(ShardWork<?> work) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ObjectOutputStream out = new ObjectOutputStream(bytes)) {
      out.writeObject(work);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }

  @Override
  public byte[] call(long[] fromTo) {
    String worker = SparkEnv.get().executorId();
    String host = SparkEnv.get().blockManager().blockManagerId().host();
    ClassLoader loader = Thread.currentThread().getContextClassLoader();
    try {
      String difference = compared(loader);
      if (!difference.isEmpty()) {
        return ShardAnswer.without(worker, host, ShardAnswer.Kind.OTHER_BUILD, difference);
      }
      if (!parts.isEmpty() && !Files.isDirectory(Path.of(parts))) {
        return ShardAnswer.without(worker, host, ShardAnswer.Kind.NO_TABLE, parts);
      }
      return answer(worker, host, unpacked(loader), fromTo[0], fromTo[1]);
    } catch (BrokenPolicyException e) {
      return ShardAnswer.without(
          worker, host, ShardAnswer.Kind.BROKEN_POLICY, String.valueOf(e.getMessage()));
    } catch (IOException | ClassNotFoundException | RuntimeException | LinkageError e) {
      return ShardAnswer.without(worker, host, ShardAnswer.Kind.FAILED, String.valueOf(e));
    }
  }

  private <S extends ShardSummary<S>> byte[] answer(
      String worker, String host, ShardWork<S> shards, long from, long to) throws IOException {
    ShardAnswer.Rows rows = new ShardAnswer.Rows();
    long began = MachineClock.nowNs();
    S summary;
    if (parts.isEmpty()) {
      summary = shards.shard(from, to, withRows ? rows : RowSink.NOWHERE);
    } else {
      summary = shardWithPart(shards, from, to, rows);
    }
    return ShardAnswer.done(worker, host, MachineClock.nowNs() - began, summary.toBytes(), rows);
  }

  /** Writes under a name that only this attempt has, so that the finished file appears whole. */
  private <S extends ShardSummary<S>> S shardWithPart(
      ShardWork<S> shards, long from, long to, RowSink rows) throws IOException {
    Path file = Path.of(parts, ParquetTable.part(from, to));
    Path unfinished =
        file.resolveSibling(
            file.getFileName()
                + "."
                + SparkEnv.get().executorId()
                + "."
                + TaskContext.get().taskAttemptId());
    S summary;
    try (ParquetPart part = new ParquetPart(unfinished, shards.columns())) {
      summary =
          shards.shard(
              from,
              to,
              (trial, values) -> {
                part.put(trial, values);
                if (withRows) {
                  rows.put(trial, values);
                }
              });
    }
    Files.move(
        unfinished, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    return summary;
  }

  private String compared(ClassLoader loader) {
    UNPACKING.lock();
    try {
      if (!same.equals(pinned)) {
        String difference = ShippedJars.difference(pinned, loader);
        if (!difference.isEmpty()) {
          return difference;
        }
        same = List.copyOf(pinned);
      }
      return "";
    } finally {
      UNPACKING.unlock();
    }
  }

  private ShardWork<?> unpacked(ClassLoader loader) throws IOException, ClassNotFoundException {
    UNPACKING.lock();
    try {
      if (latest.isEmpty() || !Arrays.equals(latest.get().bytes, work)) {
        try (ObjectInputStream in = new Unpacking(new ByteArrayInputStream(work), loader)) {
          latest = Optional.of(new Unpacked(work, (ShardWork<?>) in.readObject()));
        }
      }
      return latest.get().work;
    } finally {
      UNPACKING.unlock();
    }
  }

  /** Finds the classes of the program, which are not on the class path of Spark itself. */
  private static final class Unpacking extends ObjectInputStream {
    private final ClassLoader loader;

    Unpacking(InputStream in, ClassLoader loader) throws IOException {
      super(in);
      this.loader = loader;
    }

    @Override
    protected Class<?> resolveClass(ObjectStreamClass type)
        throws IOException, ClassNotFoundException {
      try {
        return Class.forName(type.getName(), false, loader);
      } catch (ClassNotFoundException e) {
        return super.resolveClass(type); // a primitive type
      }
    }
  }
}
