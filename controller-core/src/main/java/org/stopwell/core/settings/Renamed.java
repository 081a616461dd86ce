package org.stopwell.core.settings;

import java.util.Collection;
import java.util.Map;

/** Words of earlier versions. A file that uses one is refused with the word that replaces it. */
public final class Renamed {
  private static final Map<String, String> WORDS =
      Map.ofEntries(
          Map.entry("adaptive", StageParameters.BY_LOAD),
          Map.entry("adapt_percent", StageParameters.LOAD_SHARE.key()),
          Map.entry("sensing", "sense.policy"),
          Map.entry("taper_percent", FileParameters.TAPER.key()),
          Map.entry("side_canal_mm", "lateral_canal_mm"),
          Map.entry("side_canal_ohm", "lateral_canal_ohm"),
          Map.entry("sure_error_mm", "stages.length.tolerance_mm"),
          Map.entry("refuse_error_mm", SenseParameters.REFUSE_BOUND.key()));

  private Renamed() {}

  /**
   * The end of a message that refuses a word.
   *
   * @param written the word that is refused
   * @param known the words allowed in its place; a word with a dot stands in another section
   * @return such as {@code ; write load_percent}, or nothing
   */
  public static String hint(String written, Collection<String> known) {
    String word = WORDS.get(written);
    return word != null && (known.contains(word) || word.contains(".")) ? "; write " + word : "";
  }
}
