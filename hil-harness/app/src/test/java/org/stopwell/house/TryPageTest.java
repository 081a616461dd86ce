package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Mouse;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.BoundingBox;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.cli.Main;
import org.stopwell.harness.tryout.TryMachine;
import org.stopwell.harness.tryout.TryPage;

/** The page to try by hand, from a file, as a person meets it. */
class TryPageTest extends BrowserTest {
  /** A canal whose chamber is full to the edge. */
  private static final String FLOODED = "#fluid.level_mm=19";

  /** The estimate from the whole approach is in the lane on the right. */
  private static final String ESTIMATE = ".lane[data-lane='1']";

  /** Where a scripted hand goes, µm below the orifice, and how long it may take, ms. */
  private static final List<List<Integer>> SCRIPT =
      List.of(
          List.of(6_000, 1_500),
          List.of(9_500, 1_000),
          List.of(11_000, 1_000),
          List.of(10_400, 500),
          List.of(13_000, 2_000));

  @TempDir static Path dir;
  private static Path file;

  @BeforeAll
  static void write() {
    file = dir.resolve("try.html");
    stopwell("try", "--out", file.toString());
  }

  private static void stopwell(String... words) {
    StringWriter said = new StringWriter();
    int code = Main.run(words, new PrintWriter(said), new PrintWriter(said));
    assertEquals(0, code, said::toString);
  }

  private Page scene(String link) {
    Page page = open(file.toUri() + link);
    waitFor(page, "!document.querySelector('#place').textContent.includes('NaN')");
    return page;
  }

  private static void waitFor(Page page, String condition) {
    page.waitForFunction("() => " + condition);
  }

  private static String cell(Page page, String name) {
    return page.locator("[data-cell='" + name + "']").textContent();
  }

  /** Waits until the estimate says LEAKING and its motor has stopped. */
  private static void stopsBecauseOfTheLeak(Page page) {
    page.locator(ESTIMATE + " .state[data-state=HOLDING]").waitFor();
    waitFor(page, "document.querySelector('[data-cell=cause-1]').textContent.includes('LEAKING')");
    waitFor(page, "document.querySelector('[data-cell=speed-1]').textContent === '0 rpm'");
    assertTrue(
        page.locator(ESTIMATE + " .reason").textContent().contains("leaks around the canal"));
    assertTrue(cell(page, "stop-1").contains("before the standoff"), () -> cell(page, "stop-1"));
  }

  @Test
  void aFileDraggedIntoAFloodedCanalReadsLeakingAndTheMotorStops() throws IOException {
    Page page = scene(FLOODED);
    page.locator("#demand").click();
    Locator stage = page.locator(ESTIMATE + " .stage");
    stage.scrollIntoViewIfNeeded();
    BoundingBox box = stage.boundingBox();
    Mouse mouse = page.mouse();
    double x = box.x + box.width / 5;
    double y = box.y + box.height / 4;
    mouse.move(x, y);
    mouse.down();
    mouse.move(x, y + box.height * 0.65, new Mouse.MoveOptions().setSteps(5));
    stopsBecauseOfTheLeak(page);
    mouse.up();
    assertTrue(page.locator(ESTIMATE + " svg").textContent().contains("% around"));
    inEveryLook(page, "try");
    page.setViewportSize(840, 600);
    page.evaluate("document.querySelector('.work').scrollIntoView(); scrollBy(0, -8)");
    documented(page, "try");
  }

  @Test
  void theSameWithKeysOnATelephone() {
    Page page = scene(FLOODED);
    page.setViewportSize(PHONE, 844);
    page.locator("[name=shown][value='1']").check();
    Locator stage = page.locator(ESTIMATE + " .stage");
    stage.focus();
    page.keyboard().press("Space");
    assertEquals("true", page.locator("#demand").getAttribute("aria-pressed"));
    for (int i = 0; i < 20; i++) {
      page.keyboard().press("PageDown");
    }
    page.keyboard().press("ArrowDown");
    stopsBecauseOfTheLeak(page);
    assertTrue(stage.getAttribute("aria-valuetext").contains("foramen"));
    waitFor(page, "document.querySelector('#live').textContent.includes('HOLDING')");
    page.keyboard().press("Home");
    waitFor(page, "document.querySelector('#place').textContent.includes('above the orifice')");
  }

  @Test
  void pageAndJavaGoThroughTheSameStates() throws Exception {
    Page page = scene("");
    for (String text :
        List.of("fluid.level_mm=8", "fluid.level_mm=19&speed_rpm=500", "draw=3&stage=shape")) {
      TryMachine machine = TryPage.machine(text);
      machine.demand(true);
      List<String> java = new ArrayList<>();
      for (List<Integer> step : SCRIPT) {
        machine.hand(step.get(0));
        machine.advance(step.get(1));
        java.add(machine.hash(0) + " " + machine.hash(1));
      }
      Object browser =
          page.evaluate(
              """
              ([text, script]) => {
                const engine = Stopwell.open(text)
                engine.demand(true)
                return script.map(([hand, ms]) => {
                  engine.hand(hand)
                  engine.advance(ms)
                  return engine.hash(0) + ' ' + engine.hash(1)
                })
              }
              """,
              List.of(text, SCRIPT));
      assertEquals(java, browser, text);
      assertEquals(SCRIPT.size(), java.stream().distinct().count());
    }
  }

  @Test
  void aLinkHoldsTheWholeScene() {
    Page page = scene("");
    page.locator("[data-level=full]").click();
    page.locator("[data-key='fluid.irrigant']").selectOption("edta_17");
    page.locator("#canal").selectOption("parallel");
    page.locator("#file").selectOption("20/04");
    page.locator("[data-key=stage]").selectOption("shape");
    page.locator("[data-key=speed_rpm]").selectOption("150");
    page.locator("[data-level=orifice]").click();
    String hash = (String) page.evaluate("location.hash");
    Page other = scene(hash);
    assertEquals(choices(page), choices(other));
    assertEquals(hash, other.evaluate("location.hash"));
  }

  private static Object choices(Page page) {
    return page.evaluate(
        "[...document.querySelectorAll('.choices select, .choices input')].map(c => c.value).join()");
  }

  @Test
  void aWrongLinkIsExplained() {
    Page page = scene("#fluid.level_mm=-3&file.size=99");
    String said = page.locator("#message").textContent();
    assertTrue(said.contains("fluid.level_mm") || said.contains("file.size"), said);
    assertTrue(said.contains("first scene"), said);
  }

  @Test
  void theSavedPlanIsAccepted() throws IOException {
    Page page = scene("#fluid.level_mm=14&canal.constriction=parallel");
    Path plans = Files.createDirectories(dir.resolve("plans"));
    Path settings = Files.createDirectories(dir.resolve("settings"));
    try (Stream<Path> shipped = Files.list(Tree.root().resolve("docs/settings"))) {
      for (Path path : shipped.toList()) {
        Files.copy(path, settings.resolve(path.getFileName()));
      }
    }
    Path plan = plans.resolve("by-hand.yaml");
    page.waitForDownload(() -> page.locator("#save").click()).saveAs(plan);
    assertTrue(Files.readString(plan).contains("parallel"));
    stopwell("check", plan.toString());
  }
}
