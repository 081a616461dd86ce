package org.stopwell.harness.casework;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a record holds: its entries up to the first line that does not fit.
 *
 * @param entries the entries that fit, in their order
 * @param fault the first line that does not fit, with its number and what is wrong; empty where
 *     every line fits
 * @param torn what stands after the last whole line: a line that was cut while it was written;
 *     empty where there is none
 * @param head SHA-256 of the last entry that fits, hexadecimal; covers every entry before it
 */
public record RecordCheck(
    List<RecordedEntry> entries, Optional<String> fault, String torn, String head) {
  /** The hash before the first entry. */
  static final String START = "0".repeat(64);

  static final String ENTRY = "entry";
  static final String SHA256 = "sha256";

  private static final Pattern LINE =
      Pattern.compile("(\\{.*),\"" + SHA256 + "\":\"([0-9a-f]{64})\"\\}");

  /** Takes a copy. */
  public RecordCheck {
    entries = List.copyOf(entries);
  }

  /** Reads and checks all lines of a record. */
  static RecordCheck of(byte[] bytes) {
    int end = bytes.length;
    while (end > 0 && bytes[end - 1] != '\n') {
      end--;
    }
    // what was cut may end within a letter
    String torn = new String(bytes, end, bytes.length - end, StandardCharsets.UTF_8);
    List<RecordedEntry> entries = new ArrayList<>();
    String head = START;
    String[] lines = new String(bytes, 0, end, StandardCharsets.UTF_8).split("\n", -1);
    for (int line = 1; line < lines.length; line++) {
      String json = lines[line - 1];
      Matcher parts = LINE.matcher(json);
      String hash = parts.matches() ? hash(head, parts.group(1)) : "";
      Optional<String> fault = chain(parts, hash);
      EntryText.Read read = EntryText.read(fault.isEmpty() ? json : "", Set.of(ENTRY, SHA256));
      if (fault.isEmpty() && read.entry().isEmpty()) {
        fault = Optional.of(String.join("; ", read.mistakes()));
      }
      if (fault.isEmpty() && !json.startsWith("{\"" + ENTRY + "\":" + line + ",")) {
        fault = Optional.of(ENTRY + ": must be " + line);
      }
      if (fault.isPresent()) {
        return new RecordCheck(entries, Optional.of(line + ": " + fault.get()), torn, head);
      }
      head = hash;
      entries.add(new RecordedEntry(line, hash, read.entry().orElseThrow()));
    }
    return new RecordCheck(entries, Optional.empty(), torn, head);
  }

  private static Optional<String> chain(Matcher parts, String hash) {
    if (!parts.matches()) {
      return Optional.of("is not an entry that ends with its " + SHA256);
    }
    return hash.equals(parts.group(2))
        ? Optional.empty()
        : Optional.of(
            SHA256
                + " does not fit: this line, or one before it, was changed, removed or inserted");
  }

  /** SHA-256 over the hash before and the line without its own hash. */
  static String hash(String before, String body) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      digest.update((before + "\n" + body).getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
