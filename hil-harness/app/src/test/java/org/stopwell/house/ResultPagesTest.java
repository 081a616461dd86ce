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

  /** Stops that were measured elsewhere: factors, pairs, precision, settings, overshoot. */
  @Test
  void theReportOnDevicesCanBeReadByEveryone() throws Exception {
    Path run = dir.resolve("devices");
    stopwell(
        "import",
        docs("import/trials.csv"),
        "--plan",
        docs("import/plan.yaml"),
        "--out",
        run.toString());
    Page page = open(run.resolve("report.html"));
    assertEquals(1, page.locator("#device-section:visible").count());
    inEveryLook(page, "devices");
    onPaper(page, "devices-paper");
    page.setViewportSize(1100, 700); // a picture of text is large
    page.locator("#device-section table").first().evaluate("table => table.scrollIntoView()");
    documented(page, "devices");
  }

  /** Every picture of an exploration: indices, effects, outcome, surface, front. */
  @Test
  void thePagesOfExplorationsCanBeReadByEveryone() throws Exception {
    Page indices = explored("indices", "design: sobol\ntrials: 320", "");
    inEveryLook(indices, "explore");
    onPaper(indices, "explore-paper");
    inEveryLook(explored("effects", "design: morris\ntrials: 48", ""), "explore-effects");
    inEveryLook(
        explored(
            "front",
            "design: grid\nlevels: 3\nrepeats: 8\ntrials: 24",
            "  settings.stages.length.standoff_mm: {from: 0.2, to: 1}\n"),
        "explore-front");
    if (Boolean.getBoolean("stopwell.write")) {
      Path out = dir.resolve("shipped");
      stopwell("explore", docs("spaces/ratio-stop-error.yaml"), "--out", out.toString());
      indices = open(out.resolve("explore.html"));
    }
    indices.locator("figure").first().evaluate("picture => picture.scrollIntoView()");
    documented(indices, "explore");
  }

  private Page explored(String name, String design, String more) throws Exception {
    Path space =
        Files.writeString(
            dir.resolve(name + ".yaml"),
            """
            space: 1
            name: %s
            plan: %s
            condition: half-wet/quick
            outcome: stop_error
            %s
            factors:
              scene.canal.foramen_diameter_mm: {from: 0.4, to: 0.6}
              scene.canal.tissue_ohm_m: {from: 1.5, to: 6.2, log: true}
            """
                    .formatted(name, docs("plans/reference-canal.yaml"), design)
                + more);
    Path out = dir.resolve(name);
    stopwell("explore", space.toString(), "--out", out.toString());
    return open(out.resolve("explore.html"));
  }

  @Test
  void thePageOfATuningCanBeReadByEveryone() throws Exception {
    Path space =
        Files.writeString(
            dir.resolve("tuned.yaml"),
            """
            space: 1
            name: small
            plan: %s
            condition: half-wet/quick
            outcome: over_travel
            design: random
            trials: 100
            repeats: 10
            factors:
              settings.stages.length.reaction_ms: {from: 0, to: 400}
            target:
              over_travel: {at_most: 0.5}
              minimise: early_stop
              fresh_canals: 20
            """
                .formatted(docs("plans/reference-canal.yaml")));
    Path out = dir.resolve("tuning");
    stopwell("tune", space.toString(), "--out", out.toString());
    inEveryLook(open(out.resolve("tune.html")), "tune");
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
