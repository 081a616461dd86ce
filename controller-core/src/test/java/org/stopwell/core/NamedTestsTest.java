package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The rows of some pages name tests. That these are there is checked here; the build runs them. */
class NamedTestsTest {
  private static final Path ROOT = Path.of("..");
  private static final Pattern TEST = Pattern.compile("`(\\w+)#(\\w+)`");

  @Test
  void everyHazardNamesATest() throws IOException {
    List<String> rows = rows("hazards.md", "hazard");
    assertTrue(rows.size() >= 20, rows.size() + " rows");
    rows.forEach(row -> assertEquals(8, row.split("\\|", -1).length, row));
    assertEquals(List.of(), untested(rows));
  }

  @Test
  void everyTrickThatShowsNamesATest() throws IOException {
    String page = Files.readString(ROOT.resolve("docs/cheating.md"));
    int limits = page.indexOf("## What the program cannot show");
    List<String> rows =
        rows("cheating.md", "trick").stream().filter(row -> page.indexOf(row) < limits).toList();
    assertTrue(rows.size() >= 20, rows.size() + " rows");
    assertEquals(List.of(), untested(rows));
  }

  private static List<String> rows(String page, String head) throws IOException {
    return Files.readAllLines(ROOT.resolve("docs").resolve(page)).stream()
        .filter(line -> line.startsWith("| ") && !line.startsWith("| " + head + " "))
        .toList();
  }

  private static List<String> untested(List<String> rows) throws IOException {
    List<String> missing = new ArrayList<>();
    for (String row : rows) {
      Matcher named = TEST.matcher(row);
      assertTrue(named.find(), "no test: " + row);
      do {
        if (!isThere(named.group(1), named.group(2))) {
          missing.add(named.group());
        }
      } while (named.find());
    }
    return missing;
  }

  private static boolean isThere(String type, String method) throws IOException {
    Pattern declared =
        Pattern.compile("@(Test|ParameterizedTest)\\b[^;]*?\\bvoid\\s+" + method + "\\(");
    for (String module : List.of("controller-core", "bench-rig", "hil-harness")) {
      try (Stream<Path> files = Files.walk(ROOT.resolve(module))) {
        if (files
            .filter(file -> file.toString().contains("src/test/java"))
            .filter(file -> file.getFileName().toString().equals(type + ".java"))
            .anyMatch(file -> declared.matcher(read(file)).find())) {
          return true;
        }
      }
    }
    return false;
  }

  private static String read(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
