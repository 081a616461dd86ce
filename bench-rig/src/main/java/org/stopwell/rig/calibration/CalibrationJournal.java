package org.stopwell.rig.calibration;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.rig.time.Utc;

/**
 * Every reading of the unfinished steps, on the disk before the next one. One line each: time,
 * quantity and value; or that the step is finished or started again. A line torn by a power cut is
 * ignored.
 */
public final class CalibrationJournal implements Notebook {
  /** Readings of one step belong together: same room, same temperature (assumed). */
  private static final Duration TOGETHER = Duration.ofHours(24);

  private static final String FINISHED = "finished";
  private static final String ANEW = "anew";

  private final Path file;
  private final Instant now;

  /**
   * The journal of one bench.
   *
   * @param file where the readings lie; may be missing
   * @param now readings of longer ago do not count
   */
  public CalibrationJournal(Path file, Instant now) {
    this.file = file;
    this.now = now;
  }

  @Override
  public List<Long> taken(Quantity quantity) {
    List<Long> taken = new ArrayList<>();
    for (String line : lines()) {
      String[] words = line.split(" ", -1);
      if (words.length != 3 || !words[1].equals(quantity.key())) {
        continue;
      }
      if (words[2].equals(FINISHED) || words[2].equals(ANEW)) {
        taken.clear();
        continue;
      }
      try {
        if (Duration.between(Instant.parse(words[0]), now).compareTo(TOGETHER) <= 0) {
          taken.add(new BigDecimal(words[2]).movePointRight(3).longValueExact());
        }
      } catch (DateTimeParseException | ArithmeticException | NumberFormatException e) {
        // Not a reading of ours: left in the file, and not counted.
      }
    }
    return List.copyOf(taken);
  }

  private List<String> lines() {
    try {
      if (Files.exists(file) && !Files.isRegularFile(file)) {
        throw new IOException("not a regular file");
      }
      String text = Files.exists(file) ? Files.readString(file) : "";
      int end = text.lastIndexOf('\n');
      return end < 0 ? List.of() : text.substring(0, end).lines().toList();
    } catch (IOException e) {
      throw new UncheckedIOException(file + " cannot be read", e);
    }
  }

  @Override
  public void take(Quantity quantity, long thousandths) {
    append(quantity, BigDecimal.valueOf(thousandths, 3).toPlainString());
  }

  /**
   * The record of the step is on the disk and includes its readings.
   *
   * @param quantity what was calibrated
   */
  public void finished(Quantity quantity) {
    append(quantity, FINISHED);
  }

  /**
   * The step starts again; earlier readings stay in the file.
   *
   * @param quantity what is calibrated
   */
  public void anew(Quantity quantity) {
    if (!taken(quantity).isEmpty()) {
      append(quantity, ANEW);
    }
  }

  private void append(Quantity quantity, String word) {
    String line = Utc.now() + " " + quantity.key() + " " + word + "\n";
    try {
      Files.createDirectories(file.toAbsolutePath().getParent());
      try (FileChannel channel =
          FileChannel.open(
              file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE)) {
        String whole = isTorn(channel) ? " torn\n" + line : line;
        channel.position(channel.size());
        ByteBuffer bytes = ByteBuffer.wrap(whole.getBytes(StandardCharsets.UTF_8));
        while (bytes.hasRemaining()) {
          channel.write(bytes);
        }
        channel.force(true);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("a reading cannot be written to " + file, e);
    }
  }

  private static boolean isTorn(FileChannel channel) throws IOException {
    if (channel.size() == 0) {
      return false;
    }
    ByteBuffer last = ByteBuffer.allocate(1);
    channel.read(last, channel.size() - 1);
    return last.get(0) != '\n';
  }
}
