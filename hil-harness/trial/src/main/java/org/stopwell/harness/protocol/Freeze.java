package org.stopwell.harness.protocol;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.stopwell.harness.input.InputFile;

/**
 * A plan fixed before its first trial: every value of plan, settings and station, the build and the
 * date, one per line, under one hash. Layout and comments of a file do not count.
 *
 * @param frozenAt date and time, as the caller writes it
 * @param items every value by its key
 * @param dated whether the hash covers the date; before version 3 of the format it does not
 */
public record Freeze(String frozenAt, SortedMap<String, String> items, boolean dated) {
  /** Largest file, bytes; assumed: plan, settings and records in one. */
  private static final long MOST_BYTES = 16 << 20;

  private static final String HEAD =
      "# A frozen plan of Stopwell. One value a line; a changed line no longer gives the hash.";

  /** Version of the format. A file of version 1 has no such line. */
  private static final int FORMAT = 3;

  /** The last version whose hash does not cover the date. */
  private static final int UNDATED = 2;

  private static final String VERSION = "version = ";
  private static final String HASH = "sha256 = ";
  private static final String AT = "frozen_at = ";
  private static final String BETWEEN = " = ";

  /** Takes a copy. */
  public Freeze {
    items = Collections.unmodifiableSortedMap(new TreeMap<>(items));
  }

  /**
   * A plan that is frozen now.
   *
   * @param frozenAt date and time, as the caller writes it
   * @param items every value by its key
   */
  public Freeze(String frozenAt, SortedMap<String, String> items) {
    this(frozenAt, items, true);
  }

  /** A frozen file that cannot be used. */
  public static final class FreezeException extends IOException {
    private static final long serialVersionUID = 1L;

    /**
     * Why a freeze file cannot be used.
     *
     * @param file the file
     * @param why what is wrong
     */
    public FreezeException(Path file, String why) {
      super(file + ": " + why);
    }
  }

  /**
   * The frozen file of a plan: beside it, with {@code .frozen} in place of {@code .yaml} or {@code
   * .yml}.
   *
   * @param plan the plan's file
   * @return the freeze file, there or not
   */
  public static Path fileOf(Path plan) {
    String name = String.valueOf(plan.getFileName()).replaceFirst("\\.ya?ml$", "");
    return plan.resolveSibling(name + ".frozen");
  }

  /**
   * The hash of what was frozen.
   *
   * @return SHA-256 over the line of the date and the lines in the order of their keys, 64
   *     hexadecimal digits
   */
  public String sha256() {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      String date = dated ? AT + frozenAt + "\n" : "";
      digest.update((date + String.join("\n", lines())).getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /**
   * Writes the frozen file; an existing file is not replaced.
   *
   * @param file where
   * @throws IOException when there already is one or the disk refuses
   */
  public void write(Path file) throws IOException {
    List<String> all =
        new ArrayList<>(
            List.of(HEAD, VERSION + (dated ? FORMAT : UNDATED), HASH + sha256(), AT + frozenAt));
    all.addAll(lines());
    if (Files.exists(file)) {
      throw new FreezeException(file, "there is already a frozen file");
    }
    Files.write(file, (String.join("\n", all) + "\n").getBytes(StandardCharsets.UTF_8));
  }

  /**
   * Reads a frozen file.
   *
   * @param file where
   * @return what was frozen
   * @throws IOException when it cannot be read, or its lines do not give its hash
   */
  public static Freeze read(Path file) throws IOException {
    Optional<String> fault = InputFile.fault(file, MOST_BYTES);
    if (fault.isPresent()) {
      throw new FreezeException(file, fault.get());
    }
    List<String> all = new ArrayList<>();
    try {
      all.addAll(Files.readAllLines(file, StandardCharsets.UTF_8));
    } catch (CharacterCodingException e) {
      throw new FreezeException(file, "is not UTF-8 text");
    }
    boolean dated = false;
    if (all.size() > 1 && all.get(1).startsWith(VERSION)) {
      String version = all.remove(1).substring(VERSION.length());
      dated = version.equals(Integer.toString(FORMAT));
      if (!dated && !version.equals(Integer.toString(UNDATED))) {
        throw new FreezeException(
            file, "has version " + version + "; this program reads versions 1 to " + FORMAT);
      }
    }
    if (all.size() < 3 || !all.get(1).startsWith(HASH) || !all.get(2).startsWith(AT)) {
      throw new FreezeException(file, "is not a frozen plan");
    }
    SortedMap<String, String> items = new TreeMap<>();
    for (String line : all.subList(3, all.size())) {
      int at = line.indexOf(BETWEEN);
      if (at < 0) {
        throw new FreezeException(file, "\"" + line + "\" is not a key with a value");
      }
      items.put(line.substring(0, at), unescaped(line.substring(at + BETWEEN.length())));
    }
    Freeze freeze = new Freeze(all.get(2).substring(AT.length()), items, dated);
    String said = all.get(1).substring(HASH.length());
    if (!said.equals(freeze.sha256())) {
      throw new FreezeException(
          file,
          "was changed: its lines give the hash "
              + freeze.sha256().substring(0, 12)
              + "…, it states "
              + said.substring(0, Math.min(12, said.length()))
              + "…");
    }
    return freeze;
  }

  /**
   * Compares a run with the frozen plan.
   *
   * @param found every value as it is now
   * @return the freeze and every deviation from it
   */
  public Registration against(Map<String, String> found) {
    return new Registration(sha256(), frozenAt, Deviation.between(items, found));
  }

  private List<String> lines() {
    List<String> lines = new ArrayList<>();
    items.forEach((key, value) -> lines.add(key + BETWEEN + escaped(value)));
    return lines;
  }

  private static String escaped(String text) {
    return text.replace("\\", "\\\\").replace("\n", "\\n").replace("\r", "\\r");
  }

  private static String unescaped(String text) {
    StringBuilder out = new StringBuilder(text.length());
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '\\' && i + 1 < text.length()) {
        i++;
        out.append(
            switch (text.charAt(i)) {
              case 'n' -> '\n';
              case 'r' -> '\r';
              default -> text.charAt(i);
            });
      } else {
        out.append(c);
      }
    }
    return out.toString();
  }
}
