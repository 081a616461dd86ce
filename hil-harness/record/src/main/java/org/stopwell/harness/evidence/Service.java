package org.stopwell.harness.evidence;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.stopwell.harness.record.RunFile.Note;

/**
 * The work done on the bench after a bad sentinel, before the campaign resumed; a note in the run
 * file, listed in the report.
 *
 * @param trial the sentinel's position in run order, from 0
 * @param at date and time, as the caller writes it
 * @param done what was done, in one line
 */
public record Service(int trial, String at, String done) {
  /** Kind of the note. */
  public static final String KIND = "service";

  private static final Pattern TEXT = Pattern.compile("after trial (\\d{1,9}), (\\S+): (.*)");

  /**
   * The note as it stands in the run file.
   *
   * @return one line
   */
  public String text() {
    return "after trial " + (trial + 1) + ", " + at + ": " + done;
  }

  /**
   * Every service of a run.
   *
   * @param notes its notes
   * @return in the order in which they were written
   */
  public static List<Service> of(List<Note> notes) {
    return notes.stream().filter(n -> n.kind().equals(KIND)).flatMap(Service::read).toList();
  }

  private static Stream<Service> read(Note note) {
    Matcher words = TEXT.matcher(note.text());
    return words.matches()
        ? Stream.of(
            new Service(Integer.parseInt(words.group(1)) - 1, words.group(2), words.group(3)))
        : Stream.empty();
  }
}
