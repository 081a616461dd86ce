package org.stopwell.harness.report;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** The look of every page: colours, type, focus and controls, for light, dark and paper. */
public final class Look {
  private static final Pattern PROPERTY = Pattern.compile("--([\\w-]+): ([^;]+);");
  private static final Pattern USE = Pattern.compile("var\\(--([\\w-]+)\\)");

  private static final Pattern RULE = Pattern.compile("([^{}/]+)\\{[^}]*\\}");
  private static final Pattern CLASS = Pattern.compile("\\.([\\w-]+)");

  private Look() {}

  /**
   * Returns the styles that every page of the house begins with. The page adds its own layout and
   * takes its colours from the custom properties of this text.
   *
   * @return a style sheet
   */
  public static String css() {
    return ReportPage.resource("look.css");
  }

  /** The styles of a page of results. */
  static String ofResults() {
    return css() + "\n" + drawing() + "\n" + ReportPage.resource("report.css");
  }

  /** The styles of the sheet of one tooth. */
  static String ofCase() {
    return css() + "\n" + drawing() + "\n" + ReportPage.resource("case.css");
  }

  private static String drawing() {
    return ReportPage.resource("drawing.css");
  }

  /**
   * The styles of a drawing that is a file of its own: the rules that it uses, with the light
   * colours by value, because drawing programs do not know custom properties.
   */
  static String ofFile(Set<String> used) {
    Map<String, String> values = new HashMap<>();
    PROPERTY
        .matcher(css())
        .results()
        .forEach(property -> values.putIfAbsent(property.group(1), property.group(2)));
    String style =
        RULE.matcher(drawing())
            .results()
            .filter(rule -> isUsed(rule.group(1), used))
            .map(rule -> rule.group().strip())
            .collect(Collectors.joining("\n"));
    while (USE.matcher(style).find()) {
      style =
          USE.matcher(style)
              .replaceAll(use -> Objects.requireNonNull(values.get(use.group(1)), use.group(1)));
    }
    return style;
  }

  /** Whether a drawing has a mark that one of these selectors can mean. */
  private static boolean isUsed(String selectors, Set<String> used) {
    return Arrays.stream(selectors.split(",", -1))
        .map(selector -> CLASS.matcher(selector).results().map(c -> c.group(1)).toList())
        .anyMatch(used::containsAll);
  }
}
