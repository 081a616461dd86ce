package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.record.RunFileException.Kind;
import org.stopwell.rig.time.Utc;

/**
 * The right to write into a run directory: one program at a time. The operating system holds the
 * lock, so a kill or a crash frees it. The file of the lock names who holds it.
 */
final class RunLock {
  /** Name of the file in the run directory. */
  static final String NAME = "run.lock";

  /** Longest text that names a holder, bytes; assumed: a process, a host name and a date. */
  private static final int LONGEST = 400;

  private static final Pattern HOLDER = Pattern.compile("process (\\d{1,18}) on (.*) since (\\S+)");

  /** How far two clocks of one machine may differ: the start of a process counts in ticks. */
  private static final Duration CLOCKS = Duration.ofSeconds(2);

  /**
   * The locks of this program. A lock of POSIX ends when its program closes any channel of the
   * file, so this program must not open the file of a lock that it holds.
   */
  private static final Map<Path, String> OURS = new ConcurrentHashMap<>();

  private final Path file;
  private final Path key;
  private final FileChannel channel;

  private RunLock(Path file, Path key, FileChannel channel) {
    this.file = file;
    this.key = key;
    this.channel = channel;
  }

  /**
   * Takes the lock of a run directory.
   *
   * @param directory the run directory
   * @return the lock, held until it is released or the program ends
   * @throws RunFileException when another program holds it
   * @throws IOException when the disk refuses
   */
  static synchronized RunLock take(Path directory) throws IOException {
    Path file = directory.resolve(NAME);
    String me =
        "process " + ProcessHandle.current().pid() + " on " + host() + " since " + Utc.now();
    @Nullable FileChannel channel = null;
    @Nullable Path key = null;
    try {
      Path place = directory.toRealPath();
      @Nullable String holder = OURS.putIfAbsent(place, me);
      if (holder != null) {
        throw held(directory, holder);
      }
      key = place;
      if (Files.exists(file) && !Files.isRegularFile(file)) {
        throw new IOException("not a regular file");
      }
      channel =
          FileChannel.open(
              file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE);
      @Nullable FileLock lock = channel.tryLock();
      if (lock == null) {
        throw held(directory, text(channel));
      }
      channel.truncate(0);
      channel.write(ByteBuffer.wrap(me.getBytes(StandardCharsets.UTF_8)), 0);
      return new RunLock(file, place, channel);
    } catch (IOException e) {
      close(channel);
      if (key != null) {
        OURS.remove(key);
      }
      throw e;
    }
  }

  /**
   * Who works on a run, without disturbing it: the lock itself is not touched, so nobody who takes
   * it meanwhile is refused.
   *
   * @param directory the run directory
   * @return the holder in a few words; empty when its program has ended or runs on another machine
   */
  static synchronized Optional<String> holder(Path directory) {
    try {
      @Nullable String ours = OURS.get(directory.toRealPath());
      if (ours != null) {
        return Optional.of(ours);
      }
      // No lock of ours can end with this channel: it is not held, and cannot be taken meanwhile.
      try (FileChannel reading =
          FileChannel.open(
              directory.resolve(NAME), StandardOpenOption.READ, LinkOption.NOFOLLOW_LINKS)) {
        String text = text(reading);
        Matcher named = HOLDER.matcher(text);
        return named.matches()
                && named.group(2).equals(host())
                && lives(Long.parseLong(named.group(1)), Instant.parse(named.group(3)))
            ? Optional.of(text)
            : Optional.empty();
      }
    } catch (IOException | DateTimeParseException e) {
      return Optional.empty();
    }
  }

  /** Whether that process lives; a later one can have its number. */
  private static boolean lives(long pid, Instant since) {
    return ProcessHandle.of(pid)
        .flatMap(process -> process.info().startInstant())
        .filter(start -> !start.isAfter(since.plus(CLOCKS)))
        .isPresent();
  }

  /**
   * Releases the lock.
   *
   * @param last whether nobody goes on with the run, so that the file of the lock can go. Of an
   *     unfinished run it stays: a program that has opened it may be about to lock it
   */
  void release(boolean last) {
    try {
      if (last) {
        Files.deleteIfExists(file);
      } else {
        channel.truncate(0);
      }
    } catch (IOException e) {
      // An old text in the file harms nobody: the lock decides.
    }
    close(channel);
    OURS.remove(key);
  }

  private static RunFileException held(Path directory, String holder) {
    return new RunFileException(
        Kind.HELD,
        directory
            + ": in use by "
            + (holder.isBlank() ? "another process" : holder)
            + "; wait until it ends, or end it with Ctrl-C or the signal TERM");
  }

  private static String text(FileChannel channel) throws IOException {
    ByteBuffer bytes = ByteBuffer.allocate(LONGEST);
    channel.read(bytes, 0);
    return new String(bytes.array(), 0, bytes.position(), StandardCharsets.UTF_8)
        .replaceAll("\\p{Cntrl}", "");
  }

  private static String host() {
    try {
      return Files.readString(Path.of("/proc/sys/kernel/hostname")).strip();
    } catch (IOException e) {
      return "this machine";
    }
  }

  private static void close(@Nullable FileChannel channel) {
    if (channel != null) {
      try {
        channel.close();
      } catch (IOException e) {
        // The end of the program frees the lock.
      }
    }
  }
}
