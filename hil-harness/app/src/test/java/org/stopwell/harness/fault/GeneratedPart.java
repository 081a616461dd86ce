package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.stopwell.harness.trial.TestPlans;

/** Parts of the pages in {@code docs} that tests make. */
public final class GeneratedPart {
  private GeneratedPart() {}

  /**
   * Checks that a page holds a part between its marks; with {@code -Dstopwell.write=true} the part
   * is put there.
   *
   * @param name file name of the page in {@code docs}
   * @param mark name of the marks
   * @param table the part
   * @throws IOException when the page cannot be read or written
   */
  public static void holds(String name, String mark, String table) throws IOException {
    Path page = TestPlans.root().resolve("docs").resolve(name);
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
