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

/** Every row of docs/hazards.md names tests that are there; that they pass, the build says. */
class HazardTableTest {
  private static final Path ROOT = Path.of("..");
  private static final Pattern TEST = Pattern.compile("`(\\w+)#(\\w+)`");

  @Test
  void everyRowNamesATestThatIsThere() throws IOException {
    List<String> rows =
        Files.readAllLines(ROOT.resolve("docs/hazards.md")).stream()
            .filter(line -> line.startsWith("| ") && !line.startsWith("| hazard"))
            .toList();
    assertTrue(rows.size() >= 20, rows.size() + " rows");
    List<String> missing = new ArrayList<>();
    for (String row : rows) {
      String[] cells = row.split("\\|", -1);
      assertEquals(8, cells.length, row);
      Matcher named = TEST.matcher(cells[6]);
      assertTrue(named.find(), "no test: " + row);
      do {
        if (!isThere(named.group(1), named.group(2))) {
          missing.add(named.group());
        }
      } while (named.find());
    }
    assertEquals(List.of(), missing);
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
