package org.stopwell.harness.stops;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.trace.TraceException;

/** Reads the file of a table of stops whole: UTF-8, no larger than the program can hold. */
final class StopTableFile {
  /** Largest file, bytes; assumed: a million rows. */
  private static final long MOST_BYTES = 128 << 20;

  private StopTableFile() {}

  /** The bytes of a table. */
  static byte[] bytes(Path path) throws TraceException {
    try {
      Optional<String> fault = InputFile.fault(path, MOST_BYTES);
      if (fault.isPresent()) {
        throw new TraceException(List.of(path + ": " + fault.get()));
      }
      return Files.readAllBytes(path);
    } catch (NoSuchFileException e) {
      throw new TraceException(List.of(path + ": no such file"));
    } catch (IOException e) {
      throw new TraceException(List.of(path + ": cannot be read: " + InputFile.reason(e)));
    }
  }

  /** A table as text, without a byte order mark. */
  static String text(Path path, byte[] bytes) throws TraceException {
    boolean sixteen =
        bytes.length > 1
            && ((bytes[0] == (byte) 0xff && bytes[1] == (byte) 0xfe)
                || (bytes[0] == (byte) 0xfe && bytes[1] == (byte) 0xff));
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      return text.startsWith("\uFEFF") ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw new TraceException(
          List.of(
              path
                  + (sixteen ? ": is UTF-16 text" : ": is not UTF-8 text")
                  + "; save it as CSV in UTF-8"));
    }
  }

  /** SHA-256 of a table, 64 hexadecimal digits. */
  static String sha256(byte[] bytes) {
    try {
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
