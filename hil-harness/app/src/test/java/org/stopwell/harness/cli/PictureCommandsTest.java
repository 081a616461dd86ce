package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.trial.TestPlans;

/** The results of commands as pages with pictures. */
class PictureCommandsTest {
  @TempDir Path dir;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  private int stopwell(Object... words) {
    out.getBuffer().setLength(0);
    err.getBuffer().setLength(0);
    String[] line = Arrays.stream(words).map(String::valueOf).toArray(String[]::new);
    return Main.run(line, new PrintWriter(out, true), new PrintWriter(err, true));
  }

  /** The plan of the tests, run as it is and with a standoff of 0.8 mm. */
  private void twoRuns() throws Exception {
    String plan = TestPlans.quick(3).source().text();
    String settings = TestPlans.quick(3).settings().source().text();
    for (String name : new String[] {"base", "other"}) {
      Path folder = Files.createDirectories(dir.resolve(name));
      Files.writeString(folder.resolve("plan.yaml"), plan);
      Files.writeString(
          folder.resolve("settings.yaml"),
          name.equals("base")
              ? settings
              : settings.replace("standoff_mm: 0.5", "standoff_mm: 0.8"));
      stopwell("run", folder.resolve("plan.yaml"), "--out", folder.resolve("run"));
    }
  }

  private static String page(Path file) throws IOException {
    String page = Files.readString(file);
    Matcher words = Pattern.compile("(?i)null|NaN|@[0-9a-f]{6,}|Optional").matcher(page);
    assertFalse(words.find(), () -> "the page says " + words.group());
    assertFalse(page.contains("src=") || page.contains("http-equiv=\"refresh"), "needs no other");
    return page;
  }

  @Test
  void compareShowsWhatMovedAndWhatChanged() throws Exception {
    twoRuns();
    Path file = dir.resolve("compared.html");
    Path run = dir.resolve("other/run");
    int code = stopwell("compare", run, dir.resolve("base/run"), "--page", file);
    assertEquals(5, code, err.toString());
    assertTrue(
        out.toString().strip().endsWith("UNDECIDED"), "the page never replaces the result: " + out);
    String page = page(file);
    assertTrue(page.contains("Shift of the mean stop by condition (simulated)</title>"), page);
    assertTrue(page.contains("standoff_mm: 0.8"), "the changed line of the settings");
    assertTrue(page.contains("Trials that moved most"));
    assertEquals(6, page.split("<title[^>]*>Close-up of trial", -1).length - 1);
    assertEquals(2, stopwell("compare", run, run, "--page", dir.resolve("none/page.html")));
    assertTrue(err.toString().contains("--page"), err.toString());
  }

  @Test
  void oneTrialIsAPageAndOtherSettingsAreDrawnOverIt() throws Exception {
    twoRuns();
    Path run = dir.resolve("base/run");
    Path file = dir.resolve("trial.html");
    int trial = 0;
    String alone = "";
    while (!alone.contains("class=\"word\">PASS</span>\n<p>Stopped")) {
      assertEquals(0, stopwell("replay", run, "--trial", ++trial, "--page", file), err.toString());
      alone = page(file);
    }
    assertTrue(alone.contains("Stopped so that the file rests at the standoff of"), alone);
    assertTrue(alone.contains("<title id=\"chain-title\">Error chain of trial " + trial), alone);
    assertFalse(alone.contains("class=\"over truth\""));
    Path settings = dir.resolve("other/settings.yaml");
    assertEquals(
        1,
        stopwell("replay", run, "--trial", trial, "--settings", settings, "--page", file),
        "" + err);
    String both = page(file);
    assertTrue(both.contains("class=\"over truth\"") && both.contains("class=\"over stop\""), both);
    assertTrue(both.contains("With settings.yaml"), both);
    assertEquals(2, stopwell("replay", run, "--page", file));
    assertTrue(err.toString().contains("--trial"), err.toString());
  }

  @Test
  void detectAndSizeDrawWhatTheyPrint() throws Exception {
    Files.writeString(dir.resolve("plan.yaml"), TestPlans.quick(3).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(3).settings().source().text());
    Path file = dir.resolve("page.html");
    int code =
        stopwell(
            "detect", dir.resolve("plan.yaml"), "--campaigns", 1, "--kind", "UNIT", "--page", file);
    assertEquals(0, code, err.toString());
    String printed = out.toString().replaceAll("(?s).*too small by the factor: ", "").strip();
    String detected = page(file);
    assertTrue(detected.contains("distance is too small by the factor</text>"), detected);
    assertTrue(detected.replace('\u00a0', ' ').contains(printed), printed);
    assertEquals(
        0, stopwell("size", "--share", 0.95, "--true-share", 0.99, "--page", file), err.toString());
    assertTrue(out.toString().contains("181"), out.toString());
    assertTrue(page(file).contains(">181 trials needed</text>"));
  }
}
