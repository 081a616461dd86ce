package org.stopwell.harness.explore;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.zip.CRC32;

/**
 * The finished pieces of some work as lines of a file, each with a check sum. A second start finds
 * them and does the rest. A line that a power cut left unfinished at the end does not count.
 */
public final class KeptPieces {
  private final Path file;
  private final Map<String, byte[]> pieces = new ConcurrentHashMap<>();

  /**
   * Opens the file of some work, or begins it.
   *
   * @param file the file; its directory exists
   * @param head the first line, which names the work and its fingerprint
   * @param madeBy what may differ when the first line does, for the message
   * @throws IOException when the file belongs to other work or is damaged; the message says so
   */
  public KeptPieces(Path file, String head, String madeBy) throws IOException {
    this.file = file;
    if (!Files.exists(file)) {
      Files.writeString(file, head + "\n");
      return;
    }
    String text = Files.readString(file, StandardCharsets.ISO_8859_1);
    List<String> lines = text.lines().toList();
    if (lines.isEmpty() || !lines.get(0).equals(head)) {
      throw new IOException(
          file + ": was made by another " + madeBy + "; give the same command, or another --out");
    }
    boolean whole = text.endsWith("\n");
    for (int i = 1; i < lines.size(); i++) {
      boolean last = i == lines.size() - 1;
      if (!read(lines.get(i)) && !(last && !whole)) {
        throw new IOException(
            file + ":" + (i + 1) + ": the file is damaged; remove it to begin again");
      }
    }
    if (!whole) {
      Files.writeString(
          file, text.substring(0, text.lastIndexOf('\n') + 1), StandardCharsets.ISO_8859_1);
    }
  }

  private boolean read(String line) {
    String[] parts = line.split("\t", -1);
    if (parts.length != 3 || !parts[2].equals(check(parts[0] + "\t" + parts[1]))) {
      return false;
    }
    pieces.put(parts[0], HexFormat.of().parseHex(parts[1]));
    return true;
  }

  private static String check(String text) {
    CRC32 crc = new CRC32();
    crc.update(text.getBytes(StandardCharsets.ISO_8859_1));
    return Long.toHexString(crc.getValue());
  }

  /**
   * The finished pieces.
   *
   * @return their names
   */
  public Set<String> names() {
    return Set.copyOf(pieces.keySet());
  }

  /**
   * A finished piece.
   *
   * @param piece its name
   * @return its result; empty where it is not finished
   */
  public Optional<byte[]> find(String piece) {
    return Optional.ofNullable(pieces.get(piece));
  }

  /**
   * Keeps a finished piece.
   *
   * @param piece its name, without tabs and line ends
   * @param result its result
   */
  public synchronized void keep(String piece, byte[] result) {
    String line = piece + "\t" + HexFormat.of().formatHex(result);
    try {
      Files.writeString(
          file,
          line + "\t" + check(line) + "\n",
          StandardCharsets.ISO_8859_1,
          StandardOpenOption.APPEND);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    pieces.put(piece, result);
  }
}
