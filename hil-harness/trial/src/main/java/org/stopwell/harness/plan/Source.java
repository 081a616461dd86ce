package org.stopwell.harness.plan;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;

/**
 * A file's name and text. A run file keeps both, so that a run can be read again without the files
 * it began with.
 *
 * @param name the file as it was named
 * @param text all of it
 */
public record Source(String name, String text) {
  private static final long MAX_BYTES = 1 << 20;

  /**
   * Reads a file.
   *
   * @param file where
   * @return its name and text
   * @throws PlanException when it is missing, unreadable, larger than 1 MiB or not UTF-8
   */
  public static Source of(Path file) throws PlanException {
    try {
      if (Files.isDirectory(file)) {
        throw unusable(file, "is a directory, not a file");
      }
      if (Files.size(file) > MAX_BYTES) {
        throw unusable(file, "is larger than " + MAX_BYTES + " bytes");
      }
      ByteBuffer bytes = ByteBuffer.wrap(Files.readAllBytes(file));
      String text = StandardCharsets.UTF_8.newDecoder().decode(bytes).toString();
      return new Source(file.toString(), text);
    } catch (NoSuchFileException e) {
      throw unusable(file, "no such file");
    } catch (CharacterCodingException e) {
      throw unusable(file, "is not UTF-8 text");
    } catch (IOException | UncheckedIOException e) {
      throw unusable(file, "cannot be read: " + e.getMessage());
    }
  }

  /**
   * Whether this looks like a plan rather than settings.
   *
   * @return true when it has the key {@code plan}
   */
  public boolean isPlan() {
    return text.lines().anyMatch(line -> line.startsWith("plan:"));
  }

  /**
   * Whether this looks like a station rather than settings.
   *
   * @return true when it has the key {@code station}
   */
  public boolean isStation() {
    return text.lines().anyMatch(line -> line.startsWith("station:"));
  }

  /**
   * Whether this looks like the calibrations of a bench: settings have a curve of that name, but no
   * records.
   *
   * @return true when it has the key {@code records}
   */
  public boolean isCalibrations() {
    return text.lines().anyMatch(line -> line.startsWith("records:"));
  }

  /**
   * Whether this looks like the proof of a bench.
   *
   * @return true when it has the key {@code proof}
   */
  public boolean isProof() {
    return text.lines().anyMatch(line -> line.startsWith("proof:"));
  }

  private static PlanException unusable(Path file, String why) {
    return new PlanException(List.of(new Mistake(file.toString(), 0, "", why)));
  }
}
