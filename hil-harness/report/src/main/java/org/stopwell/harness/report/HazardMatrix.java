package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** Hazard → requirement → test → result, from the table of hazards and the tests of this build. */
final class HazardMatrix {
  private static final Pattern TEST = Pattern.compile("`(\\w+#\\w+)`");
  private static final String NOT_RUN = "not run";

  private record Row(String hazard, String cause, String requirement, List<String> tests) {}

  private final List<Row> rows;
  private final Map<String, String> results;

  /** The matrix of a table in the form of docs/hazards.md, with results by {@code Class#method}. */
  HazardMatrix(String table, Map<String, String> results) {
    this.rows =
        table
            .lines()
            .filter(line -> line.startsWith("| ") && !line.startsWith("| hazard"))
            .map(HazardMatrix::row)
            .toList();
    this.results = Map.copyOf(results);
  }

  /** The matrix of this build. */
  static HazardMatrix ofThisBuild() {
    return new HazardMatrix(ReportPage.resource("hazards.md"), TestRecord.ofThisBuild());
  }

  private static Row row(String line) {
    String[] cells = line.replace("`", "").split("\\|", -1);
    List<String> tests =
        TEST.matcher(line.split("\\|", -1)[6])
            .results()
            .map((MatchResult r) -> r.group(1))
            .toList();
    return new Row(
        cells[1].strip(),
        cells[2].strip(),
        "Notice: "
            + cells[3].strip()
            + ". Then: "
            + cells[4].strip()
            + ". Within: "
            + cells[5].strip()
            + ".",
        tests);
  }

  /** One sentence on all of it. */
  String sentence() {
    List<String> tests = rows.stream().flatMap(r -> r.tests().stream()).distinct().toList();
    long passed = tests.stream().filter(t -> isPassed(word(t))).count();
    long missing = tests.stream().filter(t -> word(t).equals(NOT_RUN)).count();
    long failed = tests.size() - passed - missing;
    String begin =
        Words.count(rows.size(), "hazard") + ", answered for by " + tests.size() + " tests: ";
    if (missing == tests.size()) {
      return begin
          + "not run in the build that wrote this page. A build that runs its tests carries their"
          + " results.";
    }
    return begin
        + (failed == 0 && missing == 0
            ? "all passed in the build that wrote this page."
            : passed
                + " passed, "
                + failed
                + " failed, "
                + missing
                + " not run in the build that wrote this page.");
  }

  void write(Markup out) {
    ReportPage.section(out, "hazard-section", "Hazards, requirements, tests");
    out.element("p", sentence());
    out.start("details").element("summary", "Every hazard with its requirement and its tests");
    out.start(
        "div",
        "class",
        "scroll",
        "tabindex",
        "0",
        "role",
        "region",
        "aria-label",
        "Table of hazards");
    out.start("table", "class", "words");
    out.element(
        "caption",
        "In the form of ISO 14971: what can go wrong, what the program is required to do about it,"
            + " and which test of the program shows that it does. The tests are those of the build"
            + " that wrote this page; they say nothing about the trials above.");
    out.start("thead").start("tr");
    for (String head : List.of("Hazard", "Requirement", "Test", "Result")) {
      out.element("th", head, "scope", "col");
    }
    out.end().end().start("tbody");
    for (Row row : rows) {
      out.start("tr");
      out.start("th", "scope", "row").text(row.hazard()).inline("small", row.cause()).end();
      out.element("td", Words.tied(row.requirement()));
      out.element(
          "td", row.tests().stream().map(HazardMatrix::inWords).collect(Collectors.joining("; ")));
      out.element("td", result(row));
      out.end();
    }
    out.end().end().end().end().end();
  }

  /** What came of the tests of one hazard: the worst of them stands for it. */
  private String result(Row row) {
    List<String> words = row.tests().stream().map(this::word).toList();
    List<String> bad = new ArrayList<>(words.stream().filter(w -> !isPassed(w)).toList());
    bad.removeIf(w -> w.equals(NOT_RUN));
    return !bad.isEmpty()
        ? bad.stream().distinct().collect(Collectors.joining(", "))
        : words.contains(NOT_RUN) ? NOT_RUN : TestRecord.PASSED;
  }

  /** Such as {@code MotorTest: a spent file holds}. */
  private static String inWords(String test) {
    String[] parts = test.split("#", -1);
    StringBuilder words = new StringBuilder(parts[0]).append(": ");
    for (char c : parts[1].toCharArray()) {
      if (Character.isUpperCase(c)) {
        words.append(' ');
      }
      words.append(Character.toLowerCase(c));
    }
    return words.toString();
  }

  private String word(String test) {
    return results.getOrDefault(test, NOT_RUN);
  }

  private static boolean isPassed(String word) {
    return word.equals(TestRecord.PASSED);
  }
}
