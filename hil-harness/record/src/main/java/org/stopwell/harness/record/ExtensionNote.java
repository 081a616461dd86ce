package org.stopwell.harness.record;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A note of a run file: a policy or bench that does not ship with the program.
 *
 * @param name key and word that choose it, such as {@code policies.stopping fixed-lead}
 * @param file the jar or directory that it comes from
 * @param sha256 hash of that file, 64 hexadecimal digits
 */
public record ExtensionNote(String name, String file, String sha256) {
  /** The kind of the note. */
  public static final String KIND = "extension";

  private static final Pattern TEXT = Pattern.compile("(.+) from (.+), SHA-256 ([0-9a-f]{64})");

  /**
   * The note as it is kept.
   *
   * @return one line
   */
  public String text() {
    return name + " from " + file + ", SHA-256 " + sha256;
  }

  /**
   * The extensions that a run uses.
   *
   * @param notes the notes of its run file
   * @return none where everything ships with the program
   */
  public static List<ExtensionNote> of(List<RunFile.Note> notes) {
    return notes.stream()
        .filter(n -> n.kind().equals(KIND))
        .map(n -> TEXT.matcher(n.text()))
        .filter(Matcher::matches)
        .map(m -> new ExtensionNote(m.group(1), m.group(2), m.group(3)))
        .distinct()
        .toList();
  }
}
