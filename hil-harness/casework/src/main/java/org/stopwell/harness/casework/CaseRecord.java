package org.stopwell.harness.casework;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CaseRecordException.Kind;
import org.stopwell.harness.input.InputFile;

/**
 * The record of a case: one JSON entry a line, to which lines are only added. Every line ends with
 * the SHA-256 of itself and of the line before it. An edited, removed or inserted line breaks this
 * chain. Missing lines at the end do not: only the head of the chain that was written down
 * elsewhere, as on the printed page, shows them. The chain does not prove who wrote.
 *
 * <p>A line reaches the disk before the command reports its result. A line that was cut while it
 * was written is set apart into {@code record.torn} before the next one is added.
 */
public final class CaseRecord implements AutoCloseable {
  /** The file of the record in the directory of the case. */
  public static final String FILE = "record.jsonl";

  /** Where lines that were cut while they were written are set apart. */
  public static final String TORN_FILE = "record.torn";

  /** Largest record, bytes; assumed: ten thousand entries. */
  private static final long MOST_BYTES = 16 << 20;

  private final Path file;
  private final FileChannel channel;
  private final FileLock lock;
  private final List<RecordedEntry> entries;
  private String head;

  private CaseRecord(Path file, FileChannel channel, FileLock lock, RecordCheck found) {
    this.file = file;
    this.channel = channel;
    this.lock = lock;
    this.entries = new ArrayList<>(found.entries());
    this.head = found.head();
  }

  /**
   * Reads a record and checks every line, without holding it.
   *
   * @param directory the directory of the case
   * @return what it holds; nothing where no step was recorded yet
   * @throws IOException when it cannot be read
   */
  public static RecordCheck verify(Path directory) throws IOException {
    Path file = directory.resolve(FILE);
    try {
      Optional<String> unfit = InputFile.fault(file, MOST_BYTES);
      if (unfit.isPresent()) {
        throw new IOException(file + ": " + unfit.get());
      }
      return RecordCheck.of(Files.readAllBytes(file));
    } catch (NoSuchFileException e) {
      return RecordCheck.of(new byte[0]);
    }
  }

  /**
   * Opens the record to add to it, and holds it until it is closed. Sets a torn line apart.
   *
   * @param directory the directory of the case
   * @return the record
   * @throws CaseRecordException when another command holds it, or a line of it does not fit
   * @throws IOException when the disk refuses
   */
  public static CaseRecord open(Path directory) throws CaseRecordException, IOException {
    Path file = directory.resolve(FILE);
    boolean made = !Files.exists(file);
    FileChannel channel =
        FileChannel.open(
            file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE);
    try {
      if (made) {
        force(directory);
      }
      FileLock lock = lock(channel);
      if (lock == null) {
        throw new CaseRecordException(
            Kind.HELD, file + ": another command writes it; wait until that command has ended");
      }
      if (channel.size() > MOST_BYTES) {
        throw new CaseRecordException(
            Kind.DAMAGED,
            file + ": has " + channel.size() + " bytes, must have at most " + MOST_BYTES);
      }
      byte[] bytes = content(channel);
      RecordCheck found = RecordCheck.of(bytes);
      if (found.fault().isPresent()) {
        throw new CaseRecordException(
            Kind.DAMAGED,
            file
                + ":"
                + found.fault().get()
                + "; nothing is added to it. Restore the file, or begin a new case.");
      }
      if (!found.torn().isEmpty()) {
        setApart(directory, channel, bytes);
      }
      channel.position(channel.size());
      return new CaseRecord(file, channel, lock, found);
    } catch (CaseRecordException | IOException | RuntimeException e) {
      channel.close();
      throw e;
    }
  }

  private static @Nullable FileLock lock(FileChannel channel) throws IOException {
    try {
      return channel.tryLock();
    } catch (OverlappingFileLockException e) {
      return null; // this very program holds it
    }
  }

  private static byte[] content(FileChannel channel) throws IOException {
    ByteBuffer bytes = ByteBuffer.allocate((int) channel.size());
    int read = 0;
    while (bytes.hasRemaining() && read >= 0) {
      read = channel.read(bytes);
    }
    return bytes.array();
  }

  /** The torn line is safe in the other file before it leaves this one. */
  private static void setApart(Path directory, FileChannel channel, byte[] bytes)
      throws IOException {
    int end = bytes.length;
    while (end > 0 && bytes[end - 1] != '\n') {
      end--;
    }
    try (FileChannel apart =
        FileChannel.open(
            directory.resolve(TORN_FILE), StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
      byte[] torn = Arrays.copyOfRange(bytes, end, bytes.length + 1);
      torn[torn.length - 1] = '\n';
      write(apart, torn);
    }
    force(directory);
    channel.truncate(end);
    channel.force(true);
  }

  private static void write(FileChannel channel, byte[] text) throws IOException {
    ByteBuffer bytes = ByteBuffer.wrap(text);
    while (bytes.hasRemaining()) {
      channel.write(bytes);
    }
    channel.force(true);
  }

  /** A new name in a directory is safe only when the directory is. */
  private static void force(Path directory) throws IOException {
    try (FileChannel names = FileChannel.open(directory, StandardOpenOption.READ)) {
      names.force(true);
    }
  }

  /**
   * Adds an entry; it is on the disk when this method returns.
   *
   * @param entry what was done
   * @return the entry with its number and hash
   * @throws IOException when the disk refuses; the record is then as it was
   */
  public RecordedEntry append(CaseEntry entry) throws IOException {
    int number = entries.size() + 1;
    Map<String, Object> values = new LinkedHashMap<>();
    values.put(RecordCheck.ENTRY, number);
    values.putAll(EntryText.values(entry));
    String json = EntryText.write(values);
    String body = json.substring(0, json.length() - 1);
    String hash = RecordCheck.hash(head, body);
    long before = channel.position();
    try {
      String line = body + ",\"" + RecordCheck.SHA256 + "\":\"" + hash + "\"}\n";
      write(channel, line.getBytes(StandardCharsets.UTF_8));
    } catch (IOException e) {
      channel.truncate(before);
      throw new IOException(file + ": cannot be written: " + InputFile.reason(e), e);
    }
    head = hash;
    RecordedEntry recorded = new RecordedEntry(number, hash, entry);
    entries.add(recorded);
    return recorded;
  }

  /**
   * Every entry.
   *
   * @return in the order in which they were added
   */
  public List<RecordedEntry> entries() {
    return List.copyOf(entries);
  }

  /**
   * What was done in one canal.
   *
   * @param canal its name
   * @return its history so far
   */
  public CanalHistory history(String canal) {
    return CanalHistory.of(entries, canal);
  }

  /**
   * The head of the chain.
   *
   * @return SHA-256 of the last entry, hexadecimal; covers every entry
   */
  public String head() {
    return head;
  }

  @Override
  public void close() throws IOException {
    lock.release();
    channel.close();
  }
}
