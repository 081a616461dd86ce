package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The settings files of a plan in one text, as a run file keeps them: that of the plan, then each
 * that a level names, after a line with its name.
 */
final class SettingsFiles {
  private static final String NEXT = "--- # settings file ";

  private SettingsFiles() {}

  /**
   * All files in one text.
   *
   * @param own the file that the plan names
   * @param others those that its levels name, by the name in the plan
   */
  static String text(Source own, Map<String, Settings> others) {
    StringBuilder all = new StringBuilder(own.text());
    others.forEach(
        (name, settings) -> {
          if (!all.toString().endsWith("\n")) {
            all.append('\n');
          }
          all.append(NEXT).append(name).append('\n').append(settings.source().text());
        });
    return all.toString();
  }

  /**
   * The files of such a text.
   *
   * @param all the text
   * @return by name; the file that the plan names has an empty one
   */
  static Map<String, Source> of(Source all) {
    Map<String, StringBuilder> texts = new LinkedHashMap<>();
    StringBuilder into = texts.computeIfAbsent("", n -> new StringBuilder());
    for (String line : all.text().split("(?<=\n)", -1)) {
      if (line.startsWith(NEXT)) {
        into =
            texts.computeIfAbsent(line.substring(NEXT.length()).strip(), n -> new StringBuilder());
      } else {
        into.append(line);
      }
    }
    Map<String, Source> files = new LinkedHashMap<>();
    texts.forEach(
        (name, text) ->
            files.put(
                name,
                all.part(name.isEmpty() ? all.name() : all.name() + ", " + name, text.toString())));
    return files;
  }
}
