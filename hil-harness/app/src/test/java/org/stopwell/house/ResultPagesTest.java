package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.Page;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.cli.Main;

/**
 * The pages of results: on a desk and a telephone, light and dark, without eyes and without a
 * mouse.
 */
class ResultPagesTest extends BrowserTest {
  @TempDir static Path dir;

  private static void stopwell(String... words) {
    StringWriter said = new StringWriter();
    int code = Main.run(words, new PrintWriter(said), new PrintWriter(said));
    assertTrue(code == 0 || code == 1 || code == 5, () -> code + ": " + said);
  }

  private static String docs(String name) {
    return Tree.root().resolve("docs/" + name).toString();
  }

  @Test
  void theReportCanBeReadByEveryone() throws Exception {
    Path run = dir.resolve("run");
    String trials = Boolean.getBoolean("stopwell.write") ? "20" : "2";
    stopwell("run", docs("plans/first-stop.yaml"), "--trials", trials, "--out", run.toString());
    Page page = open(run.resolve("report.html"));
    inEveryLook(page, "report");
    page.locator("#trust-section").evaluate("section => section.scrollIntoView()");
    documented(page, "report");
    onPaper(page, "report-paper");
    page.reload();
    page.keyboard().press("Tab");
    assertEquals("Skip to the figures", page.evaluate("document.activeElement.textContent"));
  }

  @Test
  void thePagesOfAssessmentScoresAndTeachingCanBeReadByEveryone() throws Exception {
    Path teeth = dir.resolve("teeth");
    Path settings =
        Files.writeString(
            dir.resolve("approach.yaml"),
            """
            settings: 1
            name: approach
            file: {size: 15, taper: 0.04}
            sense: {policy: approach}
            stages:
              length: {torque_ncm: 0.24, on_doubtful: ease}
              open: {torque_ncm: 0.24, apical: none}
            """);
    stopwell(
        ("assess --trials 2 --estimator ratio --condition half-wet --out " + dir.resolve("assess"))
            .split(" "));
    stopwell(("assess --teeth 10 --sample-ms 100 --traces " + teeth).split(" "));
    stopwell(
        "replay",
        teeth.toString(),
        "--settings",
        settings.toString(),
        "--page",
        dir.resolve("scores.html").toString());
    stopwell("learn", teeth.toString(), "--out", dir.resolve("my.weights").toString());
    inEveryLook(open(dir.resolve("assess/assessment.html")), "assessment");
    inEveryLook(open(dir.resolve("scores.html")), "scores");
    inEveryLook(open(dir.resolve("my.weights.html")), "learn");
    stopwell(("size --share 0.95 --true-share 0.99 --page " + dir.resolve("size.html")).split(" "));
    inEveryLook(open(dir.resolve("size.html")), "size");
  }
}
