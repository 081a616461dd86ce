package org.stopwell.harness.tune;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.zip.CRC32;

/**
 * The finished pieces of a tuning as lines of a file. A second start finds them and does the rest.
 * A line that a power cut left unfinished at the end does not count.
 */
public final class TuneState {
  /** Name of the file. */
  public static final String NAME = "tune.state";

  private final Path file;
  private final Map<String, byte[]> pieces = new HashMap<>();

  /**
   * Opens the file of a tuning, or begins it.
   *
   * @param directory output directory, which exists
   * @param tuning the tuning
   * @throws IOException when the file belongs to another tuning or is damaged; the message says so
   */
  public TuneState(Path directory, Tuning tuning) throws IOException {
    file = directory.resolve(NAME);
    String head = "stopwell tune " + tuning.fingerprint();
    if (!Files.exists(file)) {
      Files.writeString(file, head + "\n");
      return;
    }
    String text = Files.readString(file, StandardCharsets.ISO_8859_1);
    List<String> lines = text.lines().toList();
    if (lines.isEmpty() || !lines.get(0).equals(head)) {
      throw new IOException(
          file
              + ": was made by another space, plan, settings, seed, number of trials or build;"
              + " give the same command, or another --out");
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
   * How many trials are finished.
   *
   * @return trials of all pieces
   */
  public long trials() {
    return pieces.keySet().stream().mapToLong(CanalWork::trials).sum();
  }

  Optional<byte[]> find(String piece) {
    return Optional.ofNullable(pieces.get(piece));
  }

  void keep(String piece, byte[] sums) {
    String line = piece + "\t" + HexFormat.of().formatHex(sums);
    try {
      Files.writeString(
          file,
          line + "\t" + check(line) + "\n",
          StandardCharsets.ISO_8859_1,
          StandardOpenOption.APPEND);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    pieces.put(piece, sums);
  }
}
