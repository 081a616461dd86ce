package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.stopwell.harness.trial.TestPlans;

/** The page of faults, whose tables are made. */
final class FaultPage {
  private FaultPage() {}

  /**
   * The page holds this table between its marks; with {@code -Dstopwell.write=true} it is put
   * there.
   */
  static void holds(String mark, String table) throws IOException {
    Path page = TestPlans.file("first-stop").resolveSibling("../faults.md").normalize();
    String text = Files.readString(page);
    String begin = "<!-- generated: " + mark + " -->\n";
    int from = text.indexOf(begin) + begin.length();
    int to = text.indexOf("<!-- end: " + mark + " -->");
    assertTrue(from >= begin.length() && to >= from, "the page has lost its mark " + mark);
    String made = text.substring(0, from) + table + text.substring(to);
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(page, made);
    } else {
      assertEquals(made, text);
    }
  }
}
