package org.stopwell.harness.explore;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Optional;
import java.util.zip.CRC32;
import org.stopwell.rig.time.Deadline;

/**
 * The finished part of some work as a file in its output directory. The file is replaced in one
 * step, so that a cut at any moment leaves the older file or the newer one.
 *
 * @param <S> what is kept of the work
 */
public final class KeptShards<S extends ShardSummary<S>> {
  /** Name of the file. */
  public static final String NAME = "explore.state";

  private static final long MAGIC = 0x53574558504C3031L; // SWEXPL01

  /** Time between two writes, ns; assumed: a second of work may be done again after a power cut. */
  private static final long APART_NS = 1_000_000_000L;

  private final Path file;
  private final ShardWork<S> work;

  private Deadline next = Deadline.in(0);

  /** What is finished and not written yet. */
  private Optional<Finished<S>> newest = Optional.empty();

  /**
   * The file of some work.
   *
   * @param directory output directory, which exists
   * @param work the work
   */
  public KeptShards(Path directory, ShardWork<S> work) {
    this(directory, NAME, work);
  }

  /**
   * The file of some work, under another name.
   *
   * @param directory output directory, which exists
   * @param name name of the file
   * @param work the work
   */
  public KeptShards(Path directory, String name, ShardWork<S> work) {
    this.file = directory.resolve(name);
    this.work = work;
  }

  /**
   * How far the work of a file is, whatever work it is.
   *
   * @param fingerprint of the work
   * @param units the finished units
   */
  public record Begun(String fingerprint, UnitSet units) {}

  /**
   * What is finished already.
   *
   * @return empty where there is no file
   * @throws IOException when the file is damaged or belongs to other work; the message says which
   */
  public Optional<Finished<S>> read() throws IOException {
    Optional<Begun> begun = begun(file);
    if (begun.isEmpty()) {
      return Optional.empty();
    }
    if (!begun.get().fingerprint().equals(work.fingerprint())) {
      throw new OtherWorkException(file);
    }
    DataInputStream in = new DataInputStream(new ByteArrayInputStream(Files.readAllBytes(file)));
    try {
      UnitSet units = head(in).units();
      return Optional.of(new Finished<>(units, work.read(in.readNBytes(in.readInt()))));
    } catch (IOException | IllegalArgumentException e) {
      throw damaged(file, e);
    }
  }

  /**
   * How far the work of a file is, whatever work it is.
   *
   * @param file the file
   * @return empty where there is no file
   * @throws IOException when the file is damaged; the message says so
   */
  public static Optional<Begun> begun(Path file) throws IOException {
    if (!Files.exists(file)) {
      return Optional.empty();
    }
    byte[] bytes = Files.readAllBytes(file);
    try {
      CRC32 crc = new CRC32();
      crc.update(bytes, 0, Math.max(0, bytes.length - Long.BYTES));
      DataInputStream end = new DataInputStream(new ByteArrayInputStream(bytes));
      end.skipNBytes(Math.max(0, bytes.length - Long.BYTES));
      if (end.readLong() != crc.getValue()) {
        throw new IOException();
      }
      return Optional.of(head(new DataInputStream(new ByteArrayInputStream(bytes))));
    } catch (IOException | IllegalArgumentException e) {
      throw damaged(file, e);
    }
  }

  private static Begun head(DataInputStream in) throws IOException {
    if (in.readLong() != MAGIC) {
      throw new IOException();
    }
    String fingerprint = in.readUTF();
    UnitSet units = UnitSet.NONE;
    for (int i = in.readInt(); i > 0; i--) {
      units = units.with(in.readLong(), in.readLong());
    }
    return new Begun(fingerprint, units);
  }

  private static IOException damaged(Path file, Exception cause) {
    return new IOException(file + ": the file is damaged; remove it to begin again", cause);
  }

  /** The file belongs to another space, build, seed or settings. */
  static final class OtherWorkException extends IOException {
    private static final long serialVersionUID = 1L;

    OtherWorkException(Path file) {
      super(
          file
              + ": was made by another space, plan, settings, seed, number of trials or build;"
              + " give the same command, or another --out");
    }
  }

  /**
   * Keeps what is finished, unless that was done a moment ago.
   *
   * @param finished what is finished
   */
  public void keep(Finished<S> finished) {
    newest = Optional.of(finished);
    if (next.passed()) {
      write(finished);
      next = Deadline.in(APART_NS);
    }
  }

  /** Keeps what was finished last; an engine that failed leaves it so. */
  public void writeNewest() {
    newest.ifPresent(this::write);
  }

  /**
   * Keeps what is finished.
   *
   * @param finished what is finished
   */
  public void write(Finished<S> finished) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      out.writeLong(MAGIC);
      out.writeUTF(work.fingerprint());
      out.writeInt(finished.units().ranges().size());
      for (UnitSet.Range range : finished.units().ranges()) {
        out.writeLong(range.from());
        out.writeLong(range.to());
      }
      byte[] summary = finished.summary().toBytes();
      out.writeInt(summary.length);
      out.write(summary);
      CRC32 crc = new CRC32();
      crc.update(bytes.toByteArray());
      out.writeLong(crc.getValue());
      Path fresh = file.resolveSibling(file.getFileName() + ".new");
      Files.write(fresh, bytes.toByteArray());
      Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
