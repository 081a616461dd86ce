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

  private static Path run(String name, Path plan) {
    Path run = dir.resolve(name);
    String trials = Boolean.getBoolean("stopwell.write") ? "60" : "2";
    stopwell("run", plan.toString(), "--trials", trials, "--out", run.toString());
    return run;
  }

  @Test
  void reportComparisonAndTrialCanBeReadByEveryone() throws Exception {
    Path run = run("run", Path.of(docs("plans/first-stop.yaml")));
    Page page = open(run.resolve("report.html"));
    inEveryLook(page, "report");
    documented(page, "report");
    onPaper(page, "report-paper");
    page.keyboard().press("Tab");
    assertEquals("Skip to the figures", page.evaluate("document.activeElement.textContent"));

    Path plan = Files.createDirectories(dir.resolve("other/plans")).resolve("deeper.yaml");
    Files.copy(Path.of(docs("plans/first-stop.yaml")), plan);
    Path settings = Files.createDirectories(dir.resolve("other/settings"));
    Files.copy(Path.of(docs("settings/ratio.yaml")), settings.resolve("ratio.yaml"));
    Path length = settings.resolve("length.yaml");
    Files.writeString(
        length,
        Files.readString(Path.of(docs("settings/length.yaml")))
            .replace("standoff_mm: 0.5", "standoff_mm: 0.7"));
    Path other = run("deeper", plan);
    Path compared = dir.resolve("compared.html");
    stopwell("compare", other.toString(), run.toString(), "--page", compared.toString());
    page = open(compared);
    inEveryLook(page, "compare");
    documented(page, "compare");
    Path trial = dir.resolve("trial.html");
    stopwell(("replay " + run + " --trial 1 --settings " + length + " --page " + trial).split(" "));
    inEveryLook(open(trial), "trial");
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
