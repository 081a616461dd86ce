package org.stopwell.harness.input;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;

/**
 * What makes a file unfit to be read as a whole. A pipe or a device has no size and can give bytes
 * for ever.
 */
public final class InputFile {
  private InputFile() {}

  /**
   * Why a file must not be read.
   *
   * @param file the file
   * @param mostBytes its largest size, bytes
   * @return a few words; empty for a regular file within the limit
   * @throws NoSuchFileException when there is none
   * @throws IOException when the disk refuses
   */
  public static Optional<String> fault(Path file, long mostBytes) throws IOException {
    if (Files.isDirectory(file)) {
      return Optional.of("is a directory, not a file");
    }
    if (!Files.exists(file)) {
      throw new NoSuchFileException(file.toString());
    }
    if (!Files.isRegularFile(file)) {
      return Optional.of("is not a regular file; copy it into one");
    }
    long size = Files.size(file);
    return size > mostBytes
        ? Optional.of("has " + size + " bytes, must have at most " + mostBytes + " bytes")
        : Optional.empty();
  }

  /**
   * What went wrong while reading, in words: a system exception can say nothing but the file's
   * name.
   *
   * @param e the failure
   * @return a few words
   */
  public static String reason(Exception e) {
    if (e instanceof NoSuchFileException) {
      return "no such file";
    }
    if (e instanceof java.nio.file.AccessDeniedException) {
      return "permission denied";
    }
    if (e instanceof java.nio.charset.CharacterCodingException) {
      return "is not UTF-8 text";
    }
    String said =
        e instanceof java.nio.file.FileSystemException system ? system.getReason() : e.getMessage();
    return said == null || said.isBlank() ? "the system gives no reason" : firstLine(said);
  }

  private static String firstLine(String text) {
    return text.lines().findFirst().orElse("");
  }
}
